#include "picture/section.h"

#include <algorithm>

#include "picture/filling.h"

namespace foreslice::picture {

std::vector<Material> materials_of(const design::Design& design) {
    std::vector<Material> materials;
    for (std::size_t i = 0; i < design.portions.size(); ++i)
        materials.push_back({Material::Kind::portion, i, design.portions[i].name});
    for (std::size_t i = 0; i < design.pours.size(); ++i)
        if (const auto& line = design.pours[i].sifted_over)
            if (line_material(design, line->colourant) == static_cast<int>(materials.size()))
                materials.push_back({Material::Kind::line, i, line->colourant});
    return materials;
}

int portion_material(const design::Design& design, const std::string& portion) {
    return static_cast<int>(portion_index(design, portion));
}

int line_material(const design::Design& design, const std::string& colourant) {
    std::vector<std::string> seen;
    for (const auto& pour : design.pours) {
        if (!pour.sifted_over) continue;
        if (pour.sifted_over->colourant == colourant) break;
        if (std::find(seen.begin(), seen.end(), pour.sifted_over->colourant) == seen.end())
            seen.push_back(pour.sifted_over->colourant);
    }
    return static_cast<int>(design.portions.size() + seen.size());
}

Section::Origin Section::origin(Vec2 point_mm) const {
    point_mm.x = std::clamp(point_mm.x, 0.0, width_mm_);
    point_mm.y = std::clamp(point_mm.y, 0.0, height_mm_);
    for (auto stage = stages_.rbegin(); stage != stages_.rend(); ++stage)
        if (const auto bit = (*stage)->back(point_mm)) return {*bit, point_mm};
    return {{}, point_mm};
}

bool needs_section(const design::Design& design) {
    const auto differs = [](const design::Pour& pour) {
        return pour.manner != design::PourManner::laid || pour.with_previous || pour.tapped_percent > 0 ||
               pour.sifted_over;
    };
    const auto early = [&](const design::Stroke& stroke) {
        return design::pours_before(stroke, design) < design.pours.size();
    };
    return std::any_of(design.pours.begin(), design.pours.end(), differs) ||
           std::any_of(design.strokes.begin(), design.strokes.end(), early);
}

Section poured_section(const design::Design& design, double z_mm, const EarlyMaps& maps) {
    Progress quiet;
    return poured_section(design, z_mm, maps, quiet);
}

Section poured_section(const design::Design& design, double z_mm, const EarlyMaps& maps, Progress& progress) {
    return section_after(design, design.pours.size(), z_mm, maps, progress);
}

Section section_after(const design::Design& design, std::size_t pours, double z_mm, const EarlyMaps& maps,
                      Progress& progress) {
    Filling filling(design, z_mm);
    const auto groups = design::stroke_groups(design);
    std::size_t next_group = 0;
    for (std::size_t pour = 0; pour < pours;) {
        progress.check();
        const std::size_t end = design::end_of_group(design, pour);
        filling.pour(pour, end);
        pour = end;
        if (next_group < maps.size() && groups[next_group].pours <= pour) filling.draw(maps[next_group++]);
    }
    return filling.done();
}

}  // namespace foreslice::picture
