#include "picture/colourway.h"

#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "colour/viewing.h"
#include "design/tint.h"
#include "picture/caption.h"
#include "picture/draw.h"
#include "picture/palette.h"
#include "picture/text.h"

namespace foreslice::picture {
namespace {

// In units of a nominal px.
constexpr double margin = 32, title_height = 64, head_height = 40, row_height = 64, patch_height = 40;
constexpr double name_width = 190, patch_width = 62, patch_gap = 6, group_gap = 26;

struct Patch {
    colour::LinearSrgb light;
    std::string note;
    bool outside = false;
};

struct Group {
    const char* title;
    std::vector<const char*> heads;
};

const std::array<Group, 4>& groups() {
    static const std::array<Group, 4> all{{{"likely span", {"lightest", "likely", "darkest"}},
                                           {"over time", {"wet", "next day", "4 weeks", "6 months"}},
                                           {"under lamps", {"daylight", "bulb", "LED", "shop"}},
                                           {"to other eyes", {"red-weak", "green-weak", "blue-weak"}}}};
    return all;
}

Patch patch_of(const colour::PortionColour& c) {
    return {c.linear, "", !c.in_gamut};
}

std::vector<Patch> patches_of(const design::Portion& portion, design::Design design,
                              const colour::ColourantLibrary& library) {
    const colour::ColourBand band = design::colour_band_of(portion, design, library);
    std::vector<Patch> row{patch_of(band.lightest), patch_of(band.middle), patch_of(band.darkest)};
    for (const double days : {0.0, 1.0, 28.0, 180.0}) {
        design.age_days = days;
        row.push_back(patch_of(design::colour_of(portion, design, library)));
    }
    using colour::Illuminant;
    const colour::Spectrum& r = band.middle.reflectance;
    for (const Illuminant lamp : {Illuminant::d65, Illuminant::a, Illuminant::led_b3, Illuminant::fl11}) {
        const double shift = colour::colour_shift(r, Illuminant::d65, lamp);
        row.push_back(
            {colour::seen_under(r, lamp), lamp == Illuminant::d65 ? "" : short_number(shift, 2), false});
    }
    for (const auto eye :
         {colour::Vision::protanopia, colour::Vision::deuteranopia, colour::Vision::tritanopia})
        row.push_back({colour::seen_with(eye, band.middle.linear), "", false});
    return row;
}

class Plate {
  public:
    Plate(const design::Design& design, double unit) : unit_(unit) {
        double x = margin + name_width;
        for (const Group& group : groups()) {
            group_x_.push_back(x);
            for (std::size_t i = 0; i < group.heads.size(); ++i, x += patch_width + patch_gap)
                x_.push_back(x);
            x += group_gap;
        }
        const double width = x - group_gap - patch_gap + margin;
        const double height = 2 * margin + title_height + head_height +
                              row_height * static_cast<double>(design.portions.size());
        page_ =
            Image(static_cast<int>(width * unit), static_cast<int>(height * unit), code_of_rgb(paper_rgb));
        text(Font::semibold(), margin, margin + 18, 22, ink_rgb, design.name);
        text(Font::regular(), margin, margin + 40, 12.5, quiet_ink_rgb, words::colourway_note);
        heads();
    }

    void row(std::size_t index, const std::string& name, const std::string& hex,
             const std::vector<Patch>& patches) {
        const double y = margin + title_height + head_height + row_height * static_cast<double>(index);
        text(Font::semibold(), margin, y + 18, 14, ink_rgb,
             Font::semibold().fitted(name, 14 * unit_, (name_width - 14) * unit_));
        text(Font::regular(), margin, y + 35, 12, quiet_ink_rgb, hex);
        for (std::size_t i = 0; i < patches.size(); ++i) {
            const Rect rect{x_[i] * unit_, y * unit_, patch_width * unit_, patch_height * unit_};
            fill_rounded(page_, {rect.x - 1, rect.y - 1, rect.width + 2, rect.height + 2}, 4.5 * unit_,
                         ink_of(0x000000), 0.14);
            fill_rounded(page_, rect, 4 * unit_, patches[i].light);
            const std::string note = patches[i].outside ? words::outside_srgb : patches[i].note;
            centred(Font::regular(), x_[i] + patch_width / 2, y + patch_height + 13, 10.5, quiet_ink_rgb,
                    note);
        }
    }

    Image take() { return std::move(page_); }

  private:
    void heads() {
        const double y = margin + title_height;
        std::size_t column = 0;
        for (std::size_t g = 0; g < groups().size(); ++g) {
            text(Font::semibold(), group_x_[g], y + 8, 12.5, ink_rgb, groups()[g].title);
            for (const char* head : groups()[g].heads)
                centred(Font::regular(), x_[column++] + patch_width / 2, y + 28, 11, quiet_ink_rgb, head);
        }
    }

    void text(const Font& font, double x, double baseline, double size, unsigned rgb,
              const std::string& words) {
        font.draw(page_, x * unit_, baseline * unit_, size * unit_, ink_of(rgb), words);
    }
    void centred(const Font& font, double x, double baseline, double size, unsigned rgb,
                 const std::string& words) {
        text(font, x - font.width_px(words, size * unit_) / unit_ / 2, baseline, size, rgb, words);
    }

    double unit_;
    std::vector<double> x_, group_x_;
    Image page_;
};

}  // namespace

Image colourway_plate(const design::Design& design, const colour::ColourantLibrary& library, double unit) {
    Plate plate(design, unit);
    for (std::size_t i = 0; i < design.portions.size(); ++i) {
        const design::Portion& portion = design.portions[i];
        plate.row(i, portion.name, colour::hex_of(design::colour_of(portion, design, library).srgb),
                  patches_of(portion, design, library));
    }
    return plate.take();
}

}  // namespace foreslice::picture
