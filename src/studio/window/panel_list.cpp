#include "studio/window/panel_list.h"

#include "studio/window/panels.h"

namespace foreslice::studio {

const std::vector<Page>& all_pages() {
    static const std::vector<Page> pages{
        {"pair", "Poured and cut", "The layers as poured, to take hold of, and beside them the cut face.",
         draw_page_pair, true},
        {"wiper", "Wiper", "One figure: left of the wiper as poured, right of it the cut face.",
         draw_page_wiper, true},
        {"bar", "Bar", "The bar in the light of a window; drag to turn it.", draw_page_bar, true},
        {"loaf", "Loaf", "Every bar of the loaf in order; a click looks at one.", draw_page_loaf, true},
        {"top", "Top",
         "The whole loaf from above: its top, the cuts, and the knife, which can be slid along.",
         draw_page_top, true},
        {"board", "Board", "Variants of the design side by side, with the difference of two in words.",
         draw_page_board, false},
    };
    return pages;
}

const std::vector<StepSection>& all_step_sections() {
    static const std::vector<StepSection> sections{{Step::cut, draw_measures}};
    return sections;
}

}  // namespace foreslice::studio
