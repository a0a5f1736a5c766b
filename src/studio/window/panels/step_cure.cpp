// Step 7: the cure: at what age the bars are shown, and what the loaf goes through before.
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

void draw_gel(const Studio& studio) {
    auto next = studio.session.design();
    bool gelled = next.base.gelled;
    if (!studio.ui.check("base:gelled", "the loaf goes through gel", gelled)) return;
    next.base.gelled = gelled;
    studio.session.edit(std::move(next), gelled ? "let it gel" : "keep it from gelling");
}

void draw_fragrance(const Studio& studio) {
    struct Row {
        const char *name, *label, *help;
        double design::Base::*value;
        Unit unit;
        design::Range range;
        double usual_most;
    };
    static const Row rows[] = {
        {"base:fragrance",
         "Fragrance",
         "Grams for each kilogram of oils; what is allowed its supplier says.",
         &design::Base::fragrance_g_per_kg_oils,
         Unit::g_per_kg,
         {0, 100},
         50},
        {"base:vanillin",
         "Vanillin in it",
         "Vanillin browns the bars over weeks, the more the darker.",
         &design::Base::vanillin_percent,
         Unit::percent,
         {0, 100},
         20},
    };
    for (const Row& row : rows) {
        auto next = studio.session.design();
        const Quantity quantity{row.name,       row.label, row.unit, row.range.least, row.range.most, 0,
                                row.usual_most, 1,         1,        row.help};
        const Edited edited = studio.ui.quantity(quantity, next.base.*(row.value));
        apply(studio, edited, std::move(next), row.label, row.name);
    }
}

}  // namespace

void draw_cure(const Studio& studio) {
    draw_age(studio);
    studio.ui.section("On the way there");
    draw_gel(studio);
    draw_fragrance(studio);
}

}  // namespace foreslice::studio
