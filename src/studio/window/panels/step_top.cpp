// Step 5: how the top of the loaf is left.
#include "design/limits.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

namespace limits = design::limits;

void draw_tapping(const Studio& studio) {
    auto next = studio.session.design();
    const Quantity tapping{
        "top:tapped",
        "Tapped level",
        Unit::percent,
        limits::tapped_percent.least,
        limits::tapped_percent.most,
        0,
        100,
        5,
        0,
        "How much of the unevenness of the layers tapping the mould on the table takes out."};
    double value = next.pours.back().tapped_percent;
    const Edited edited = studio.ui.quantity(tapping, value);
    for (auto& pour : next.pours) pour.tapped_percent = value;
    apply(studio, edited, std::move(next), "tapping the mould", tapping.name);
}

}  // namespace

void draw_top(const Studio& studio) {
    if (studio.session.design().pours.empty()) return;
    studio.ui.section("Before the wire comes out for good");
    draw_tapping(studio);
}

}  // namespace foreslice::studio
