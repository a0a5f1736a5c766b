// A question that a panel asks and that takes longer than a frame: it is answered on a thread of its own, the
// newest question wins, and the panel goes on showing the last answer meanwhile.
//
//     auto& faces = studio.view.shelf.at<MyState>().faces;                  // Asked<MyAnswer>
//     faces.want(key_of_what_it_depends_on, studio.session.waker(), [design = studio.session.design()](
//         Progress& progress) { return my_answer(design, progress); });
//     if (const auto answer = faces.answer()) draw(*answer, faces.current());
#pragma once

#include <cstdint>
#include <exception>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <utility>

#include "foundation/error.h"
#include "studio/session/worker.h"

namespace foreslice::studio {

template <class Answer>
class Asked {
  public:
    using Make = std::function<Answer(Progress&)>;

    /// Cheap when `key` is that of the last question, so it may be called every frame. Another key stops
    /// what is being worked on. `make` runs on another thread: give it copies, and let it advance its
    /// Progress, so that it can be stopped. `wake` is called from there when the answer is in.
    void want(std::uint64_t key, std::function<void()> wake, Make make) {
        {
            const std::lock_guard lock(state_->mutex);
            if (state_->wanted == key) return;
            state_->wanted = key;
            state_->problem.clear();
        }
        if (!worker_) worker_ = std::make_unique<Worker>();
        worker_->stop_work();
        worker_->post([state = state_, key, wake = std::move(wake), make = std::move(make)](
                          Progress& progress) { answer_it(*state, key, make, progress), wake(); });
    }

    /// The last answer there was, maybe to an older question; null before the first.
    std::shared_ptr<const Answer> answer() const {
        const std::lock_guard lock(state_->mutex);
        return state_->answer;
    }
    /// Whether that is the answer to the last question.
    bool current() const {
        const std::lock_guard lock(state_->mutex);
        return state_->answer && state_->answered == state_->wanted;
    }
    /// Why the last question has no answer; empty while there is none to give.
    std::string problem() const {
        const std::lock_guard lock(state_->mutex);
        return state_->problem;
    }
    Worker::Doing doing() const { return worker_ ? worker_->doing() : Worker::Doing{}; }
    /// Stops working on it; the same question may be asked again.
    void cancel() {
        if (worker_) worker_->stop_work();
        const std::lock_guard lock(state_->mutex);
        if (state_->answered != state_->wanted) state_->wanted.reset();
    }

  private:
    struct State {
        std::mutex mutex;
        std::optional<std::uint64_t> wanted, answered;
        std::shared_ptr<const Answer> answer;
        std::string problem;
    };

    static void answer_it(State& state, std::uint64_t key, const Make& make, Progress& progress) {
        try {
            auto made = std::make_shared<const Answer>(make(progress));
            const std::lock_guard lock(state.mutex);
            if (state.wanted != key) return;
            state.answer = std::move(made);
            state.answered = key;
        } catch (const Stopped&) {
            throw;
        } catch (const std::exception& error) {
            const std::lock_guard lock(state.mutex);
            if (state.wanted == key) state.problem = error.what();
        }
    }

    std::shared_ptr<State> state_ = std::make_shared<State>();
    std::unique_ptr<Worker> worker_;  // last: its thread ends before the rest goes
};

}  // namespace foreslice::studio
