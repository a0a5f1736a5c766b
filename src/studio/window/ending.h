// The ways the program is ended without anybody there to answer a question: a signal from the system, or the
// display that goes away. Both leave time to put unsaved work aside, and no more.
#pragma once

#include <functional>
#include <thread>

namespace foreslice::studio {

/// SIGTERM, SIGHUP and SIGINT while it lives; one at a time. A signal that was ignored when the program
/// started (nohup, a job in the background) stays ignored.
class EndSignals {
  public:
    /// `wake`: called on a thread of its own after every such signal, to end a wait for input.
    explicit EndSignals(std::function<void()> wake);
    ~EndSignals();
    EndSignals(const EndSignals&) = delete;
    EndSignals& operator=(const EndSignals&) = delete;

    bool asked() const;

  private:
    std::thread thread_;
};

/// When the connection to an X server breaks, its library ends the program on the spot; `last_act` runs
/// before that, on the thread that noticed. To be called when a window is open; an empty one takes it back.
void before_display_is_lost(std::function<void()> last_act);

}  // namespace foreslice::studio
