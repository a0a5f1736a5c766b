// The age at which bars are shown, and what each portion may then look like.
#include "design/limits.h"
#include "design/tint.h"
#include "studio/window/actions.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

constexpr double half_a_year_days = 180;

void draw_span(const Studio& studio, const design::Portion& portion) {
    Ui& ui = studio.ui;
    const auto band =
        design::colour_band_of(portion, studio.session.design(), studio.session.colour_library());
    const ImVec2 size(ui.px(26), ui.px(20));
    for (const auto& colour : {band.lightest, band.middle, band.darkest}) {
        ui.swatch(colour.srgb, size);
        ImGui::SameLine(0, ui.px(3));
    }
    ImGui::SameLine(0, ui.px(10));
    ui.quiet_text(portion_name(portion) + ", dE00 " + format_number(band.spread_de00, 1) + " across");
}

}  // namespace

void draw_age(const Studio& studio) {
    Ui& ui = studio.ui;
    ui.section("Age");
    auto next = studio.session.design();
    const Quantity age{"age:days",
                       "Days since pouring",
                       Unit::none,
                       design::limits::age_days.least,
                       design::limits::age_days.most,
                       0,
                       half_a_year_days,
                       1,
                       0,
                       "0 is wet batter, 1 the next day's cut, 28 the usual cure, 180 half a year."};
    const Edited edited = ui.quantity(age, next.age_days);
    apply(studio, edited, std::move(next), "age", age.name);
    if (!studio.session.fault().empty()) return;
    ui.quiet_text("Each portion: the lightest, the likely and the darkest it may come out.");
    for (const auto& portion : studio.session.design().portions) draw_span(studio, portion);
}

}  // namespace foreslice::studio
