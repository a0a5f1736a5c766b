#include "design/history.h"

#include <limits>

namespace foreslice::design {
namespace {

constexpr std::size_t most_states = 100000;  // some kilobytes each: more than any evening makes
constexpr std::size_t nowhere = std::numeric_limits<std::size_t>::max();

}  // namespace

History::History(Design start) {
    states_.push_back({std::move(start), "", ""});
}

void History::edit(Design next, std::string label, std::string merge_key) {
    State& now = states_[at_];
    // The saved state stays as it was saved, so a drag that goes on after a save starts a step of its own.
    const bool same_step = !merge_key.empty() && merge_key == now.merge_key && at_ > 0 && at_ != saved_;
    if (same_step) {
        now.design = std::move(next);
        now.label = std::move(label);
        return;
    }
    if (next == now.design) return;
    states_.resize(at_ + 1, states_.front());  // what could be redone is gone
    if (saved_ != nowhere && saved_ > at_) saved_ = nowhere;
    states_.push_back({std::move(next), std::move(label), std::move(merge_key)});
    ++at_;
    if (states_.size() > most_states) {
        states_.erase(states_.begin());
        --at_;
        saved_ = saved_ == 0 || saved_ == nowhere ? nowhere : saved_ - 1;
    }
}

void History::close_step() {
    states_[at_].merge_key.clear();
    const bool last = at_ + 1 == states_.size();
    if (last && at_ > 0 && at_ != saved_ && states_[at_].design == states_[at_ - 1].design) {
        states_.pop_back();  // a drag that came back to where it began is no step
        --at_;
    }
}

const Design& History::undo() {
    if (can_undo()) --at_;
    states_[at_].merge_key.clear();
    return current();
}

const Design& History::redo() {
    if (can_redo()) ++at_;
    states_[at_].merge_key.clear();
    return current();
}

std::string History::undo_label() const {
    return can_undo() ? states_[at_].label : "";
}

std::string History::redo_label() const {
    return can_redo() ? states_[at_ + 1].label : "";
}

}  // namespace foreslice::design
