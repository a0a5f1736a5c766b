#include "picture/legend.h"

#include <algorithm>
#include <cmath>

#include "picture/caption.h"
#include "picture/draw.h"
#include "picture/palette.h"
#include "picture/text.h"

namespace foreslice::picture {
namespace {

// In units of a nominal px.
constexpr double name_size = 15, dose_size = 13, head_size = 11.5;
constexpr double head_height = 26, first_line = 14, line_height = 18.5, entry_gap = 15;
constexpr double swatch_size = 32, text_indent = 46;
constexpr double grams_column = 76, teaspoons_column = 88, least_text = 130, most_text = 220;

void draw_right(Image& page, const Font& font, double right, double baseline, double size, unsigned rgb,
                const std::string& text) {
    font.draw(page, right - font.width_px(text, size), baseline, size, ink_of(rgb), text);
}

// The portions in the order of their topmost pours, the last pour first, then those that are not poured.
std::vector<std::size_t> from_the_top(const design::Design& design) {
    std::vector<std::size_t> order;
    const auto add = [&](std::size_t portion) {
        if (std::find(order.begin(), order.end(), portion) == order.end()) order.push_back(portion);
    };
    for (auto heap = design.top.spooned.rbegin(); heap != design.top.spooned.rend(); ++heap)
        for (std::size_t i = 0; i < design.portions.size(); ++i)
            if (design.portions[i].id == heap->portion) add(i);
    for (auto pour = design.pours.rbegin(); pour != design.pours.rend(); ++pour)
        for (std::size_t i = 0; i < design.portions.size(); ++i)
            if (design.portions[i].id == pour->portion) add(i);
    for (std::size_t i = 0; i < design.portions.size(); ++i) add(i);
    return order;
}

}  // namespace

Legend::Legend(const design::Design& design, const Face& face, double unit) : unit_(unit) {
    for (std::size_t i : from_the_top(design))
        entries_.push_back({face.colours[i].srgb, design.portions[i].name,
                            short_number(design.portions[i].share_percent, 3) + " %", face.doses[i]});
    for (std::size_t i = 0; i < face.lines.size(); ++i) {
        const LineNote& line = face.lines[i];
        const bool one = line.least_mm == line.most_mm;
        entries_.push_back(
            {face.colours[design.portions.size() + i].srgb,
             line.colourant,
             (one ? "" : short_number(line.least_mm, 2) + "–") + short_number(line.most_mm, 2) + " mm",
             {},
             words::sifted_line,
             Entry::Mark::line});
    }
    add_extras(design, face);
    const double text = std::clamp(widest_text_px(), least_text * unit, most_text * unit);
    width_ = text + (text_indent + grams_column + teaspoons_column) * unit;
}

void Legend::add_extras(const design::Design& design, const Face& face) {
    for (std::size_t i = 0; i < face.glitter.size() && i < face.glitter_names.size(); ++i)
        entries_.push_back({colour::encoded(face.glitter[i]),
                            face.glitter_names[i],
                            short_number(design.top.glitter[i].cover_percent, 2) + " % of the top",
                            {},
                            words::glitter,
                            Entry::Mark::dot});
    const auto& scattered = design.inclusions.scattered;
    for (std::size_t i = 0; i < scattered.size() && i < face.bits.size(); ++i)
        entries_.push_back({colour::encoded(face.bits[i]),
                            scattered[i].name,
                            scattered[i].percent ? short_number(*scattered[i].percent, 2) + " %"
                                                 : short_number(scattered[i].per_cm2, 2) + " per cm²",
                            {},
                            scattered[i].on_top ? words::strewn : words::stirred_in,
                            Entry::Mark::dot});
    std::vector<std::string> named;
    for (std::size_t i = 0; i < design.inclusions.embeds.size() && scattered.size() + i < face.bits.size();
         ++i) {
        const auto& embed = design.inclusions.embeds[i];
        if (std::find(named.begin(), named.end(), embed.name) != named.end()) continue;
        named.push_back(embed.name);
        const auto pieces = std::count_if(design.inclusions.embeds.begin(), design.inclusions.embeds.end(),
                                          [&](const auto& other) { return other.name == embed.name; });
        entries_.push_back({colour::encoded(face.bits[scattered.size() + i]),
                            embed.name,
                            pieces == 1 ? "" : std::string("× ") + std::to_string(pieces),
                            {},
                            words::embed,
                            Entry::Mark::dot});
    }
}

double Legend::widest_text_px() const {
    double widest = 0;
    for (const auto& entry : entries_) {
        widest =
            std::max(widest, Font::semibold().width_px(entry.name, name_size * unit_) - grams_column * unit_);
        for (const auto& dose : entry.doses)
            widest = std::max(widest, Font::regular().width_px(dose.colourant, dose_size * unit_));
    }
    return widest;
}

double Legend::height_of(const Entry& entry) const {
    const auto lines = 1.0 + static_cast<double>(std::max<std::size_t>(1, entry.doses.size()));
    return unit_ * std::max(swatch_size, first_line + (lines - 1) * line_height + 4);
}

double Legend::height_px() const {
    double height = head_height * unit_;
    for (const auto& entry : entries_) height += height_of(entry) + entry_gap * unit_;
    return height;
}

void Legend::draw(Image& page, double x, double y) const {
    draw_head(page, x, y);
    double at = y + head_height * unit_;
    for (const auto& entry : entries_) {
        draw_entry(page, entry, x, at);
        at += height_of(entry) + entry_gap * unit_;
    }
}

void Legend::draw_head(Image& page, double x, double y) const {
    const double baseline = y + 10 * unit_, size = head_size * unit_;
    Font::regular().draw(page, x, baseline, size, ink_of(quiet_ink_rgb), words::legend_head);
    fill(page, {x, std::round(y + 17 * unit_), width_, std::max(1.0, std::round(unit_))}, ink_of(rule_rgb));
}

void Legend::draw_entry(Image& page, const Entry& entry, double x, double y) const {
    const Font &bold = Font::semibold(), &plain = Font::regular();
    const Rect patch{std::round(x), std::round(y), std::round(swatch_size * unit_),
                     std::round(swatch_size * unit_)};
    const Rect edge{patch.x - 1, patch.y - 1, patch.width + 2, patch.height + 2};
    if (entry.mark == Entry::Mark::line) {
        fill(page, {patch.x, std::round(y + 14 * unit_), patch.width, std::max(2.0, std::round(3 * unit_))},
             colour::decoded(entry.swatch));
    } else if (entry.mark == Entry::Mark::dot) {
        const double size = std::round(15 * unit_), off = std::round((swatch_size * unit_ - size) / 2);
        fill_rounded(page, {patch.x + off - 1, patch.y + 2 * unit_ - 1, size + 2, size + 2}, size / 2 + 1,
                     ink_of(0x000000), 0.16);
        fill_rounded(page, {patch.x + off, patch.y + 2 * unit_, size, size}, size / 2,
                     colour::decoded(entry.swatch));
    } else {
        fill_rounded(page, edge, 4.5 * unit_, ink_of(0x000000), 0.16);
        fill_rounded(page, patch, 4 * unit_, colour::decoded(entry.swatch));
    }

    const double text_x = x + text_indent * unit_, right = x + width_;
    const double grams_right = right - teaspoons_column * unit_;
    double baseline = y + first_line * unit_;
    draw_right(page, bold, right, baseline, name_size * unit_, ink_rgb, entry.share);
    const double room = right - text_x - bold.width_px(entry.share, name_size * unit_) - 8 * unit_;
    bold.draw(page, text_x, baseline, name_size * unit_, ink_of(ink_rgb),
              bold.fitted(entry.name, name_size * unit_, room));
    const double size = dose_size * unit_;
    for (const auto& dose : entry.doses) {
        baseline += line_height * unit_;
        plain.draw(page, text_x, baseline, size, ink_of(quiet_ink_rgb),
                   plain.fitted(dose.colourant, size, grams_right - text_x - grams_column * unit_));
        draw_right(page, plain, grams_right, baseline, size, quiet_ink_rgb,
                   short_number(dose.g_per_kg_oils, 3) + words::grams);
        draw_right(page, plain, right, baseline, size, quiet_ink_rgb,
                   short_number(dose.teaspoons_per_pound, 2) + words::teaspoons);
    }
    if (entry.doses.empty())
        plain.draw(page, text_x, baseline + line_height * unit_, size, ink_of(quiet_ink_rgb),
                   entry.note ? entry.note : words::no_colourant);
}

}  // namespace foreslice::picture
