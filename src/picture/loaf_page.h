// How the picture of a whole loaf is laid out: the loaf cut lengthwise above, its slices in rows below.
#pragma once

#include <string>
#include <vector>

#include "picture/draw.h"
#include "picture/image.h"

namespace foreslice::picture {

inline constexpr double veil_strength = 0.62;  ///< of paper over what is not computed
/// Mixes a part of a picture with paper and rules it with slanting lines: what is there is not what
/// the program computes. `unit`: size of a nominal px.
void veil(Image& image, const Rect& part, double unit);

struct LoafCell {
    Image picture;  ///< as bar_picture() makes it
    std::string name, note;
    bool uncertain = false;  ///< an end
    bool near_arms = false;
};

struct LoafStrip {
    Image picture;  ///< opaque
    double px_per_mm = 1;
    struct Mark {
        double from_mm, to_mm;
        std::string name;
        bool uncertain;
    };
    std::vector<Mark> marks;  ///< the slices
};

class LoafPage {
  public:
    LoafPage(std::string heading, std::string note, std::vector<LoafCell> cells, double px_per_mm);

    /// How wide the strip may be, px; at most 1.6 times the bars' scale.
    double strip_width_px(double length_mm) const;
    void add_strip(LoafStrip strip);
    Image drawn() const;

  private:
    double content_width() const;
    double strip_bottom() const;
    void draw_head(Image& page) const;
    void draw_strip(Image& page) const;
    void draw_marks(Image& page, const Rect& at) const;
    void draw_cell(Image& page, const LoafCell& cell, double x, double y) const;

    std::string heading_, note_;
    std::vector<LoafCell> cells_;
    LoafStrip strip_;
    double px_per_mm_, unit_;
    int columns_, cell_width_ = 0, cell_height_ = 0;
};

}  // namespace foreslice::picture
