// The list of portions beside a face: swatch, name, share, and every dose.
#pragma once

#include <string>
#include <vector>

#include "colour/colorimetry.h"
#include "picture/face.h"
#include "picture/image.h"

namespace foreslice::picture {

class Legend {
  public:
    /// Portions in the order in which they lie, the last pour first. Sizes are multiplied by `unit`.
    Legend(const design::Design& design, const Face& face, double unit);

    double width_px() const { return width_; }
    double height_px() const;
    void draw(Image& page, double x, double y) const;

  private:
    struct Entry {
        colour::EncodedSrgb swatch;
        std::string name, share;
        std::vector<DoseNote> doses;
        const char* note = nullptr;  ///< no portion: what it is instead
        enum class Mark { patch, line, dot } mark = Mark::patch;
    };
    void draw_head(Image& page, double x, double y) const;
    void draw_entry(Image& page, const Entry& entry, double x, double y) const;
    void add_extras(const design::Design& design, const Face& face);
    double height_of(const Entry& entry) const;
    double widest_text_px() const;

    double unit_, width_;
    std::vector<Entry> entries_;
};

}  // namespace foreslice::picture
