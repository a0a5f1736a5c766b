// What a colourant can do with white in this portion: a strip of colours over dose and white. The mouse over
// it says which dose that is, a click takes it.
#include <algorithm>
#include <cmath>

#include "design/tint.h"
#include "studio/session/colour_edits.h"
#include "studio/window/colour_desk.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

constexpr std::size_t columns = 25, rows = 6;
constexpr double most_white_g_per_kg = 12;

// Squared, because the eye tells small doses apart best.
double dose_at(double share, double most) {
    return most * share * share;
}
double share_of(double dose, double most) {
    return std::sqrt(std::clamp(dose / most, 0.0, 1.0));
}

/// The portion's doses with this one and the white at other amounts.
std::vector<colour::Dose> doses_with(const Studio& studio, const Reach& reach, double grams, double white) {
    const auto& design = studio.session.design();
    const auto& portion = design.portions[reach.portion];
    const auto& library = studio.session.colour_library();
    std::vector<colour::Dose> doses;
    for (std::size_t i = 0; i < portion.doses.size(); ++i)
        if (const auto* colourant = library.find(portion.doses[i].colourant))
            doses.push_back({colourant, i == reach.dose
                                            ? grams
                                            : design::g_per_kg_oils_of(portion.doses[i], design, library)});
    if (const auto* colourant = library.find(portion.white.colourant)) doses.push_back({colourant, white});
    return doses;
}

colour::PortionColour colour_with(const Studio& studio, const Reach& reach, const colour::Optics& bar,
                                  double grams, double white) {
    const auto& design = studio.session.design();
    const auto state = design::bar_state_of(design);
    auto doses = doses_with(studio, reach, grams, white);
    std::vector<colour::Colourant> aged;
    aged.reserve(doses.size());
    for (colour::Dose& dose : doses) {
        aged.push_back(*dose.colourant);
        aged.back().unit = colour::aged_unit(*dose.colourant, state.age_days);
        dose.colourant = &aged.back();
    }
    return colour::colour_of(colour::mixed(bar, doses), {}, design.cut.bar_thickness_mm);
}

const Reach& reach_of(const Studio& studio, std::size_t portion, std::size_t dose) {
    Reach& kept = studio.view.shelf.at<ColourDesk>().reach;
    if (kept.revision == studio.session.revision() && kept.portion == portion && kept.dose == dose)
        return kept;
    const auto& design = studio.session.design();
    const auto* colourant =
        studio.session.colour_library().find(design.portions[portion].doses[dose].colourant);
    kept = {
        studio.session.revision(), portion, dose, colourant ? colourant->usual_most_g_per_kg_oils : 0, {}};
    const auto bar = colour::plain_bar(studio.session.colour_library().base(), design::bar_state_of(design));
    for (std::size_t y = 0; y < rows; ++y)
        for (std::size_t x = 0; x < columns; ++x)
            kept.colours.push_back(colour_with(
                studio, kept, bar, dose_at(static_cast<double>(x) / (columns - 1), kept.most_g_per_kg),
                most_white_g_per_kg * static_cast<double>(y) / (rows - 1)));
    return kept;
}

struct Strip {
    ImVec2 at, size;
    ImVec2 corner(std::size_t x, std::size_t y) const {  // white grows upwards
        return ImVec2(at.x + size.x * static_cast<float>(x) / (columns - 1),
                      at.y + size.y * (1 - static_cast<float>(y) / (rows - 1)));
    }
    double dose_share(ImVec2 mouse) const { return std::clamp((mouse.x - at.x) / size.x, 0.0F, 1.0F); }
    double white_share(ImVec2 mouse) const { return std::clamp(1 - (mouse.y - at.y) / size.y, 0.0F, 1.0F); }
};

void draw_colours(const Studio& studio, const Reach& reach, const Strip& strip) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const auto code = [&](std::size_t x, std::size_t y) {
        const auto c = colour::encoded(seen_so(reach.colours[y * columns + x], studio.session.seeing()));
        return IM_COL32(c.r, c.g, c.b, 255);
    };
    for (std::size_t y = 0; y + 1 < rows; ++y)
        for (std::size_t x = 0; x + 1 < columns; ++x)
            list->AddRectFilledMultiColor(strip.corner(x, y + 1), strip.corner(x + 1, y), code(x, y + 1),
                                          code(x + 1, y + 1), code(x + 1, y), code(x, y));
    list->AddRect(strip.at, ImVec2(strip.at.x + strip.size.x, strip.at.y + strip.size.y),
                  dusk::rgb(0xffffff, 50));
}

// Where the portion stands now.
void draw_here(const Studio& studio, const Strip& strip, double grams, double white, double most) {
    Ui& ui = studio.ui;
    const ImVec2 here(
        strip.at.x + strip.size.x * static_cast<float>(share_of(grams, most)),
        strip.at.y + strip.size.y * static_cast<float>(1 - std::min(1.0, white / most_white_g_per_kg)));
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddCircle(here, ui.px(6), IM_COL32(0, 0, 0, 200), 0, ui.px(3));
    list->AddCircle(here, ui.px(6), IM_COL32(255, 255, 255, 255), 0, ui.px(1.5F));
}

void tell(const Studio& studio, const colour::Colourant& colourant, const colour::PortionColour& colour,
          double grams, double white) {
    ImGui::BeginTooltip();
    studio.ui.swatch(colour::encoded(seen_so(colour, studio.session.seeing())),
                     ImVec2(studio.ui.px(200), studio.ui.px(34)));
    ImGui::Text("%s %s g/kg (%s tsp/lb)", colourant.name.c_str(), format_number(grams, 2).c_str(),
                format_number(colour::teaspoons_per_pound(colourant, grams), 2).c_str());
    ImGui::Text("white %s g/kg: %s", format_number(white, 1).c_str(), colour::hex_of(colour.srgb).c_str());
    if (!colour.in_gamut) ImGui::TextUnformatted("outside sRGB: shown with less chroma");
    ImGui::EndTooltip();
}

// Under the mouse: what it would be; pressed: take it.
void point(const Studio& studio, const Reach& reach, const Strip& strip, const colour::Colourant& colourant) {
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const double grams = std::round(dose_at(strip.dose_share(mouse), reach.most_g_per_kg) * 100) / 100;
    const double white = std::round(strip.white_share(mouse) * most_white_g_per_kg * 10) / 10;
    const auto bar = colour::plain_bar(studio.session.colour_library().base(),
                                       design::bar_state_of(studio.session.design()));
    if (ImGui::IsItemHovered() || ImGui::IsItemActive())
        tell(studio, colourant, colour_with(studio, reach, bar, grams, white), grams, white);
    if (ImGui::IsItemActive()) {
        const auto& portion = studio.session.design().portions[reach.portion];
        studio.session.edit(
            with_dose_and_white(studio.session.design(), reach.portion, reach.dose, grams, white),
            colourant.name + " and white of " + portion_name(portion), "reach:" + portion.id);
    }
    if (ImGui::IsItemDeactivated()) studio.session.close_step();
}

}  // namespace

void draw_reach(const Studio& studio, std::size_t portion) {
    Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    const auto doses = design.portions[portion].doses;
    if (doses.empty() || !studio.session.fault().empty()) return;
    ColourDesk& desk = studio.view.shelf.at<ColourDesk>();
    desk.reach_of = std::min(desk.reach_of, doses.size() - 1);
    const auto& library = studio.session.colour_library();
    std::vector<std::string> names;
    for (const auto& dose : doses) {
        const auto* known = library.find(dose.colourant);
        names.push_back(ui.fitted(ui.fonts.body, known ? known->name : dose.colourant, ui.px(150)));
    }
    const colour::Colourant* colourant = library.find(doses[desk.reach_of].colourant);
    if (colourant == nullptr) return;
    ui.quiet_text("What " + colourant->name +
                  " can do with white here: more of it to the right, more white " +
                  "upwards. Click to take a place.");
    if (names.size() > 1)
        if (const int chosen = ui.choice("reach-of", names, static_cast<int>(desk.reach_of)); chosen >= 0) {
            desk.reach_of = static_cast<std::size_t>(chosen);
            return;
        }
    const Reach& reach = reach_of(studio, portion, desk.reach_of);
    if (reach.most_g_per_kg <= 0) return;
    const Strip strip{ImGui::GetCursorScreenPos(), ImVec2(ImGui::GetContentRegionAvail().x, ui.px(72))};
    ImGui::InvisibleButton("reach", strip.size);
    ui.note("reach");
    draw_colours(studio, reach, strip);
    draw_here(studio, strip, design::g_per_kg_oils_of(doses[desk.reach_of], design, library),
              design::g_per_kg_oils_of(design.portions[portion].white, design, library), reach.most_g_per_kg);
    const Reach asked{
        reach.revision, reach.portion, reach.dose, reach.most_g_per_kg, {}};  // outlives an edit
    point(studio, asked, strip, *colourant);
}

}  // namespace foreslice::studio
