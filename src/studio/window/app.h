// The studio as a whole: what happens between two frames, and one frame.
#pragma once

#include <chrono>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "studio/session/session.h"
#include "studio/window/ending.h"
#include "studio/window/frame_log.h"
#include "studio/window/platform.h"
#include "studio/window/script.h"
#include "studio/window/view.h"

namespace foreslice::studio {

struct AppOptions {
    std::filesystem::path design;        ///< empty: the demo design, or the last one open
    std::filesystem::path script;        ///< drives the window; empty: a person does
    std::filesystem::path widget_file;   ///< kept up to date with names and places; empty: none
    std::filesystem::path state_folder;  ///< empty: the system's usual one
    int width = 0, height = 0;           ///< 0: a size that suits the display
    float scale = 0;                     ///< 0: the setting, else the display's
    unsigned threads = 0;
    bool frame_log = false;  ///< says at the end how long frames took
};

class App {
  public:
    explicit App(const AppOptions& options);
    ~App();
    /// Until the window is closed. Returns the exit code.
    int run();

  private:
    std::chrono::milliseconds redraw_interval() const;
    int idle_time_ms() const;
    void take_events();
    bool somebody_looks();
    void frame();
    void draw();
    void set_scale(float scale);
    void take_notices();
    void write_widget_file();
    void keep_page();
    void mend_lost_graphics();
    void prepare_ahead();
    std::string on_the_screen() const;
    void note_answers(std::chrono::steady_clock::time_point frame_began);

    AppOptions options_;
    EndSignals end_signals_;
    bool session_ends_ = false;  ///< the desktop's: nobody can be asked any more
    std::string library_trouble_;
    std::unique_ptr<Session> session_;  ///< before the window: the first face is drawn while that opens
    Platform platform_;
    struct EndOfSession {  ///< but gone before the window, and after what panels remember
        std::unique_ptr<Session>& session;
        ~EndOfSession() { session.reset(); }
    } end_of_session_{session_};
    Ui ui_;
    View view_;
    Studio studio_;
    std::unique_ptr<Script> script_;
    FrameLog frames_;
    int frames_wanted_ = 3, script_frames_ = 0;
    std::chrono::steady_clock::time_point last_frame_{}, last_act_ = std::chrono::steady_clock::now();
    std::string widgets_written_, title_;

    // For the frame log: the first edit that no picture has answered yet, and what was shown before it.
    std::optional<std::chrono::steady_clock::time_point> edited_at_;
    std::string edited_;
    std::shared_ptr<const DrawnFace> before_edit_, shown_before_;
    std::uint64_t seen_revision_ = 0;
};

}  // namespace foreslice::studio
