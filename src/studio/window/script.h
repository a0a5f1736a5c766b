// Drives the window from a file, one step a line, through the same events that a mouse and a keyboard make.
//
//   wait-for face                     until the fine face of the design as it stands is shown
//   wait-for NAME                     until a widget of that name is on the screen; scrolls its panel there
//   wait-for-file FILE                until it is there
//   click NAME | double-click NAME | hover NAME   scrolls its panel there first; NAME@X,Y: not its middle
//                                     but so far to the right and down, as shares of its size
//   drag NAME DX DY                   press on it, move by so many pixels, release
//   drag-to NAME OTHER | draw NAME@X,Y NAME@X,Y ...   from one to the other; through all of them
//   frames COUNT | monkey SEED COUNT  lets frames pass; so many random acts of mouse and keys
//   wheel NAME LINES                  over the middle of it; negative goes down
//   type TEXT
//   key CHORD                         for example ctrl+z, enter, escape, f1
//   drop FILE                         a file dropped on the window
//   resize WIDTHxHEIGHT
//   remember-face                     for the next "expect face-changed"
//   expect face-changed | face-same
//   expect unsaved yes|no
//   expect shown NAME | hidden NAME
//   expect text NAME TEXT             what a widget shows
//   expect json POINTER VALUE         what the design says there
//   expect json-size POINTER COUNT
//   frame-times                       prints how long frames took since the last such line
//   screenshot FILE | dump-widgets FILE | quit
//   lose-graphics                     as if the graphics card had been reset
//
// Lines that begin with # and empty lines are left out. A step that does not come true within its time ends
// the program with exit code 1, one sentence, and a screenshot in the folder it runs in.
#pragma once

#include <SDL.h>

#include <chrono>
#include <cstdint>
#include <deque>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "picture/image.h"
#include "studio/window/frame_log.h"
#include "studio/window/view.h"

namespace foreslice::studio {

class Script {
  public:
    explicit Script(const std::filesystem::path& file);

    /// Called once a frame, when all input has been taken: does the next steps. `pixels_per_point` turns
    /// places on the screen into window coordinates.
    /// `frames` for "frame-times".
    void advance(const Studio& studio, float pixels_per_point, FrameLog& frames);
    bool wants_screenshot() const { return !screenshot_.empty(); }
    void take_screenshot(const picture::Image& image);
    std::optional<std::pair<int, int>> take_resize();
    bool take_lost_graphics() { return std::exchange(lose_graphics_, false); }
    /// Nothing can go on before something else happens: a frame now would be for nothing.
    bool waiting() const { return waiting_; }
    bool finished() const { return finished_; }
    bool failed() const { return failed_; }

  private:
    struct Step {
        int line = 0;
        std::string word;
        std::vector<std::string> arguments;
        std::string rest;  ///< everything after the word
    };
    enum class Outcome { done, not_yet, impossible };

    Outcome perform(const Step& step, const Studio& studio);
    void scroll_towards(const WidgetPlace& place) const;
    Outcome wait_for_widget(const std::string& name, const Studio& studio);
    Outcome point_at(const Step& step, const Studio& studio);
    Outcome expect(const Step& step, const Studio& studio);
    Outcome expect_json(const Step& step, const Studio& studio, bool size);
    Outcome press_keys(const Step& step);
    Outcome find(const std::string& words, const Studio& studio, SDL_Point& at);
    void drag_along(const std::vector<SDL_Point>& points);
    Outcome let_pass(const Step& step, const Studio& studio);
    void fail(const Step& step);

    std::filesystem::path file_;
    std::vector<Step> steps_;
    std::size_t at_ = 0;
    std::chrono::steady_clock::time_point step_began_;
    bool began_ = false;
    std::string why_;  ///< what is missing for the present step
    float pixels_per_point_ = 1;
    std::deque<std::function<void()>> gestures_;  ///< rest of a drag, one move a frame
    std::filesystem::path screenshot_;
    std::optional<std::pair<int, int>> resize_;
    std::uint64_t remembered_face_ = 0;
    bool finished_ = false, failed_ = false, waiting_ = false, lose_graphics_ = false;
    FrameLog* frames_ = nullptr;
};

/// A number that changes with every pixel of the face that is shown; 0 when there is none.
std::uint64_t fingerprint(const DrawnFace* face);
/// Names and places of all widgets, one a line: name, tab, x0 y0 x1 y1, enabled, text.
std::string widget_lines(const Ui& ui);

}  // namespace foreslice::studio
