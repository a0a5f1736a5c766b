#include "picture/section.h"

#include <algorithm>

#include "picture/section_stages.h"
#include "picture/waves.h"

namespace foreslice::picture {

std::vector<Material> materials_of(const design::Design& design) {
    std::vector<Material> materials;
    for (std::size_t i = 0; i < design.portions.size(); ++i)
        materials.push_back({Material::Kind::portion, i});
    return materials;
}

Section::Origin Section::origin(Vec2 point_mm) const {
    point_mm.x = std::clamp(point_mm.x, 0.0, width_mm_);
    point_mm.y = std::clamp(point_mm.y, 0.0, height_mm_);
    for (auto stage = stages_.rbegin(); stage != stages_.rend(); ++stage)
        if (const auto bit = (*stage)->back(point_mm)) return {*bit, point_mm};
    return {{}, point_mm};
}

bool needs_section(const design::Design& design) {
    return std::any_of(design.strokes.begin(), design.strokes.end(), [&](const design::Stroke& stroke) {
        return design::pours_before(stroke, design) < design.pours.size();
    });
}

namespace {

// Fills the mould pour by pour.
class Filling {
  public:
    Filling(const design::Design& design, double z_mm)
        : design_(design),
          z_mm_(z_mm),
          areas_mm2_(design::pour_areas_mm2(design)),
          surface_(Surface::flat(design.mould.width_mm, 0)) {}

    void pour(std::size_t pour) {
        poured_mm2_ += areas_mm2_[pour];
        const double ceiling = design_.mould.fill_mm;
        const bool last = pour + 1 == design_.pours.size();
        Surface next = last ? Surface::flat(surface_.width_mm(), ceiling)
                            : laid_on(surface_, poured_mm2_,
                                      wave_mm(design_, pour, surface_.heights_mm().size(), z_mm_), ceiling);
        const Bit bit{portion_index(design_, design_.pours[pour].portion), static_cast<int>(pour)};
        stages_.push_back(std::make_shared<OnTop>(surface_, bit));
        surface_ = std::move(next);
    }
    void draw(std::shared_ptr<const flow::FlowMap> map) {
        stages_.push_back(std::make_shared<Drawn>(surface_, std::move(map)));
    }
    Section done() { return {surface_.width_mm(), design_.mould.fill_mm, std::move(stages_)}; }

  private:
    const design::Design& design_;
    double z_mm_;
    std::vector<double> areas_mm2_;
    double poured_mm2_ = 0;
    Surface surface_;
    std::vector<std::shared_ptr<const SectionStage>> stages_;
};

}  // namespace

Section poured_section(const design::Design& design, double z_mm, const EarlyMaps& maps) {
    Filling filling(design, z_mm);
    const auto groups = design::stroke_groups(design);
    std::size_t next_group = 0;
    for (std::size_t pour = 0; pour < design.pours.size(); ++pour) {
        filling.pour(pour);
        if (next_group < maps.size() && groups[next_group].pours == pour + 1)
            filling.draw(maps[next_group++]);
    }
    return filling.done();
}

}  // namespace foreslice::picture
