// What a panel has to say about itself to have its place in the window. A new way of looking at the design,
// or a new group of controls, is a file in panels/ and one line in panel_list.cpp.
//
// What a panel is given, all of it in `Studio`:
//   the design            studio.session.design(), and what is derived from it: colours(), warnings(), face()
//   an undoable edit      studio.session.edit(next, "what it does", "merge key of a drag"), then close_step()
//                         when the hand lets go; `apply(studio, edited, ...)` does both for a Ui::quantity
//   work for a thread     Asked<Answer> (session/asked.h), woken by studio.session.waker()
//   memory between frames studio.view.shelf.at<MyState>()
//   a warning             studio.session.add_notice({true, "Sentence."}) for what just happened; what is
//                         wrong with a design belongs into design::warnings()
#pragma once

#include <string>
#include <vector>

#include "studio/window/layout.h"
#include "studio/window/view.h"

namespace foreslice::studio {

/// A way of looking at the design, as a whole page of the paper.
struct Page {
    const char* id;     ///< for scripts: "page:" + id; kept in the settings
    const char* words;  ///< on its tab
    const char* help;   ///< one sentence
    /// Draws into the part of the paper below the tabs.
    void (*draw)(const Studio& studio, const Area& area);
    bool with_loaf_strip;  ///< whether the loaf with its cut lies along the lower edge
};
const std::vector<Page>& all_pages();

/// A group of controls below those that belong to a step.
struct StepSection {
    Step step;
    void (*draw)(const Studio& studio);
};
const std::vector<StepSection>& all_step_sections();

}  // namespace foreslice::studio
