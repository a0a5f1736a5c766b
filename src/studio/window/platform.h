// The window itself: SDL, OpenGL and Dear ImGui set up, fed and shut down. Nothing here knows of designs.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "picture/image.h"
#include "studio/window/input_queue.h"

namespace foreslice::studio {

class Platform {
  public:
    struct Options {
        int width = 0, height = 0;      ///< 0: most of the display, at most 1600 x 1000 points
        bool may_be_invisible = false;  ///< a script or a test drives it: no display needed
        bool fixed_clock = false;       ///< every frame lasts 1/60 s: runs repeat exactly
    };
    struct Events {
        bool any = false;    ///< something happened
        bool close = false;  ///< a person closes the window
        bool end = false;    ///< the display or the desktop session ends, and nobody can be asked
        std::vector<std::string> dropped_files;
    };

    /// Throws std::runtime_error with a sentence for people: no display, no OpenGL at all.
    explicit Platform(const Options& options);
    ~Platform();
    Platform(const Platform&) = delete;
    Platform& operator=(const Platform&) = delete;

    /// Waits at most `timeout_ms` (0: not at all) for something to happen and takes all there is.
    Events take_events(int timeout_ms);
    /// Starts a frame; returns the chords that went down.
    std::vector<Chord> begin_frame();
    /// Draws and shows it; `capture` receives the pixels.
    void end_frame(picture::Image* capture = nullptr);
    bool input_waiting() const { return input_.empty() == false; }

    /// Whether the display has OpenGL 3.3; without it everything is drawn by OpenGL 2 and has no shaders.
    bool has_shaders() const;
    /// Drawable pixels per window point: 1 except on displays that scale by themselves.
    float pixels_per_point() const { return pixels_per_point_; }
    /// The ratio the display asks for (its dots per inch over 96), 1 when it does not say.
    float suggested_scale() const;
    /// Whether the graphics card was reset since the last call, so that everything on it is gone. The window
    /// can then be drawn again; whoever has something else on the card must put it there anew
    /// (texture.h). Throws std::runtime_error when drawing cannot be started again.
    bool mend_lost_graphics();
    /// For tests: as if the card had been reset.
    void lose_graphics();
    /// Call after the font atlas was built anew.
    void renew_font_texture();
    void set_title(const std::string& title);
    void set_size(int width, int height);
    /// Makes take_events() return at once; from any thread.
    static void wake();

  private:
    struct Parts;
    void update_cursor();
    picture::Image drawn_pixels() const;
    std::unique_ptr<Parts> parts_;
    InputQueue input_;
    float pixels_per_point_ = 1;
};

}  // namespace foreslice::studio
