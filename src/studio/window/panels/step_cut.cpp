// Step 5: the cut, with the loaf seen from the side and its bars to choose from.
#include <algorithm>
#include <cmath>

#include "design/limits.h"
#include "studio/window/actions.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

namespace limits = design::limits;

// Where it is cut, typed; the knife on the paper does the same.
void draw_place(const Studio& studio) {
    if (!studio.session.fault().empty()) return;
    const double length = studio.session.design().mould.length_mm;
    double z = shown_z_mm(studio);
    const Quantity place{"cut:place",
                         "Cut at",
                         Unit::mm,
                         0,
                         length,
                         0,
                         length,
                         1,
                         1,
                         "From the end of the loaf where the first bar is cut; or slide the knife along the "
                         "loaf under the picture."};
    if (studio.ui.quantity(place, z).changed) studio.view.cut_z_mm = z;
}

void draw_name(const Studio& studio) {
    auto next = studio.session.design();
    const Edited name = studio.ui.text_field("design-name", "", next.name, "Name of the design");
    apply(studio, name, std::move(next), "name of the design", "design-name");
}

}  // namespace

void draw_cut(const Studio& studio) {
    Ui& ui = studio.ui;
    ui.section("Bars");
    {
        auto next = studio.session.design();
        const Quantity thickness{"cut:thickness",
                                 "Bar thickness",
                                 Unit::mm,
                                 limits::bar_thickness_mm.least,
                                 limits::bar_thickness_mm.most,
                                 10,
                                 60,
                                 0.5,
                                 1,
                                 "Along the loaf, from cut to cut. Thin bars let a little light through."};
        const Edited edited = ui.quantity(thickness, next.cut.bar_thickness_mm);
        apply(studio, edited, std::move(next), "bar thickness", thickness.name);
    }
    auto next = studio.session.design();
    const Quantity trim{"cut:trim",
                        "Off each end",
                        Unit::mm,
                        limits::trim_mm.least,
                        limits::trim_mm.most,
                        0,
                        30,
                        1,
                        1,
                        "The end walls disturb the pattern; what is trimmed there is not shown."};
    const Edited edited = ui.quantity(trim, next.cut.trim_mm);
    apply(studio, edited, std::move(next), "trimming", trim.name);
    draw_place(studio);
    const auto& design = studio.session.design();
    if (studio.session.fault().empty()) {
        const int bars = design::bar_count(design);
        const double left =
            design.mould.length_mm - 2 * design.cut.trim_mm - bars * design.cut.bar_thickness_mm;
        ui.quiet_text(std::to_string(bars) + (bars == 1 ? " bar; " : " bars; ") +
                      ui.shown(std::max(0.0, left), Unit::mm, 1) + " of the loaf is left over.");
    }
    ui.section("On the label");
    draw_name(studio);
}

}  // namespace foreslice::studio
