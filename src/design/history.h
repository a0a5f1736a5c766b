// Undo and redo as a list of whole documents: no inverse operations to get wrong.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "design/design.h"

namespace foreslice::design {

class History {
  public:
    explicit History(Design start);

    const Design& current() const { return states_[at_].design; }
    /// Replace the current document. Calls with the same non-empty `merge_key` in a row make one step (a
    /// drag).
    void edit(Design next, std::string label, std::string merge_key = "");
    /// Ends a run of merged edits, so the next one starts a step of its own.
    void close_step();
    bool can_undo() const { return at_ > 0; }
    bool can_redo() const { return at_ + 1 < states_.size(); }
    const Design& undo();
    const Design& redo();
    std::string undo_label() const;  ///< what undo would take back, "" if nothing
    std::string redo_label() const;
    bool changed_since_saved() const { return at_ != saved_; }
    void mark_saved() { saved_ = at_; }

  private:
    struct State {
        Design design;
        std::string label;
        std::string merge_key;
    };
    std::vector<State> states_;
    std::size_t at_ = 0;
    std::size_t saved_ = 0;
};

}  // namespace foreslice::design
