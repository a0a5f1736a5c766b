// Fills the mould pour by pour, each in its manner, and notes the stages.
#pragma once

#include <memory>
#include <vector>

#include "design/design.h"
#include "picture/deposit.h"
#include "picture/drag.h"
#include "picture/plunge.h"
#include "picture/section.h"
#include "picture/surface.h"

namespace foreslice::picture {

class Filling {
  public:
    /// The design must outlive this and be one that design::validate() accepts.
    Filling(const design::Design& design, double z_mm);

    /// The pours from `first` to before `end`, which go in together, and the lines sifted over them.
    void pour(std::size_t first, std::size_t end);
    void draw(std::shared_ptr<const flow::FlowMap> map);
    Section done();

  private:
    using Shape = std::vector<double>;  ///< a height a column

    // The pours that go in together now.
    struct Together {
        std::size_t first, end;
        double area_mm2;
        bool last;  ///< the mould is full after them
    };
    const design::Pour& first_of(const Together& now) const { return design_.pours[now.first]; }

    void lay(const Together& now, const Shape& wave_mm);
    void lay_tilted(const Together& now);
    void lay_hills(const Together& now);
    void pour_down_wall(const Together& now);
    void pour_freely(const Together& now);
    void plunge(const Together& now, double depth_mm, const std::vector<double>& places_mm);
    void heap(const Together& now, const Shape& heap_mm);
    void pour_side_by_side(const Together& now);
    std::vector<double> room_edges_mm(const Together& now) const;
    Surface filled_rooms(const Together& now, const std::vector<double>& edges_mm) const;
    std::vector<double> leaning_mm(const Together& now, std::size_t edge, double from_mm, double to_mm,
                                   double top_mm) const;
    void sift(std::size_t pour);

    std::vector<Plume> plumes_at(const Together& now, double area_mm2,
                                 const std::vector<double>& places_mm) const;
    Deposit deposit_over(const Together& now, const Surface& top) const;
    Deposit deposit_of(const Together& now, const std::vector<Vec2>& region) const;
    Bit bit_of(std::size_t pour) const;
    Surface at_rest(const Together& now, const Surface& shape, double area_mm2) const;
    Shape wave(const Together& now) const;
    double ceiling_mm() const;
    std::uint64_t seed_of(std::size_t pour) const;
    void add(std::shared_ptr<const SectionStage> stage) { stages_.push_back(std::move(stage)); }

    const design::Design& design_;
    double z_mm_;
    std::vector<double> areas_mm2_;
    double poured_mm2_ = 0;
    double lines_to_come_mm_ = 0;  ///< thickness of all lines that are still to be sifted
    Surface surface_;
    std::vector<std::shared_ptr<const SectionStage>> stages_;
};

}  // namespace foreslice::picture
