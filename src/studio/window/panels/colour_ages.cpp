// The chosen portion wet, next day, cured and after half a year, side by side, each with its likely span.
#include <algorithm>
#include <array>
#include <cmath>

#include "design/tint.h"
#include "studio/window/colour_desk.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

struct Moment {
    const char *name, *words;
    double days;
};
constexpr std::array moments{Moment{"age-swatch:wet", "wet", 0}, Moment{"age-swatch:cut", "next day", 1},
                             Moment{"age-swatch:cured", "cured", 28},
                             Moment{"age-swatch:old", "6 months", 180}};
constexpr double seen_from_de00 = 0.5;  // a narrower span is no span to an eye

const AgeSwatches& swatches_of(const Studio& studio, std::size_t portion) {
    AgeSwatches& kept = studio.view.shelf.at<ColourDesk>().ages;
    if (kept.revision == studio.session.revision() && kept.portion == portion) return kept;
    kept = {studio.session.revision(), portion, {}};
    design::Design design = studio.session.design();
    for (const Moment& moment : moments) {
        design.age_days = moment.days;
        kept.bands.push_back(
            design::colour_band_of(design.portions[portion], design, studio.session.colour_library()));
    }
    return kept;
}

ImU32 code_of(const Studio& studio, const colour::PortionColour& colour) {
    const auto c = colour::encoded(seen_so(colour, studio.session.seeing()));
    return IM_COL32(c.r, c.g, c.b, 255);
}

std::string help_for(const Moment& moment, const colour::ColourBand& band) {
    std::string text = std::string(moment.words) + ": likely " + colour::hex_of(band.middle.srgb);
    if (band.spread_de00 >= seen_from_de00)
        text += ", from " + colour::hex_of(band.lightest.srgb) + " at the lightest to " +
                colour::hex_of(band.darkest.srgb) + " at the darkest (dE00 " +
                format_number(band.spread_de00, 1) + " apart)";
    return text + ". The sizes of these effects are estimates; none was measured on soap.";
}

// The likely colour; at its foot, when an eye would see it, the lightest and the darkest likely one.
void draw_moment(const Studio& studio, const Moment& moment, const colour::ColourBand& band, ImVec2 size) {
    Ui& ui = studio.ui;
    const ImVec2 at = ImGui::GetCursorScreenPos(), end(at.x + size.x, at.y + size.y);
    ImGui::InvisibleButton(moment.name, ImVec2(size.x, size.y + ui.px(18)));
    ui.note(moment.name, colour::hex_of(band.middle.srgb));
    ui.help(help_for(moment, band));
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, end, code_of(studio, band.middle), ui.px(5));
    if (band.spread_de00 >= seen_from_de00) {
        const float foot = end.y - ui.px(14), middle = std::round((at.x + end.x) / 2);
        list->AddRectFilled(ImVec2(at.x, foot), ImVec2(middle, end.y), code_of(studio, band.lightest),
                            ui.px(5), ImDrawFlags_RoundCornersBottomLeft);
        list->AddRectFilled(ImVec2(middle, foot), end, code_of(studio, band.darkest), ui.px(5),
                            ImDrawFlags_RoundCornersBottomRight);
    }
    list->AddRect(at, end, dusk::rgb(0xffffff, 50), ui.px(5));
    ui.text_at(list, ui.fonts.small, ImVec2((at.x + end.x) / 2, end.y + ui.px(2)), dusk::fog,
               ui.fitted(ui.fonts.small, moment.words, size.x), 0.5F);
}

}  // namespace

void draw_age_swatches(const Studio& studio, std::size_t portion) {
    if (!studio.session.fault().empty()) return;
    Ui& ui = studio.ui;
    const AgeSwatches& swatches = swatches_of(studio, portion);
    const float gap = ui.px(6);
    const float width =
        std::floor((ImGui::GetContentRegionAvail().x - gap * (moments.size() - 1)) / moments.size());
    for (std::size_t i = 0; i < moments.size(); ++i) {
        if (i > 0) ImGui::SameLine(0, gap);
        draw_moment(studio, moments[i], swatches.bands[i], ImVec2(width, ui.px(52)));
    }
    const bool any_span = std::any_of(swatches.bands.begin(), swatches.bands.end(),
                                      [](const auto& band) { return band.spread_de00 >= seen_from_de00; });
    if (any_span) ui.quiet_text("At the foot: the lightest and the darkest it is likely to come out.");
}

}  // namespace foreslice::studio
