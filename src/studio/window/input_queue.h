// Every event of the mouse and keyboard, fed to Dear ImGui in an order that loses none: taps that begin and
// end between two frames, drags that move faster than the picture, text typed on a slow machine.
#pragma once

#include <SDL.h>
#include <imgui.h>

#include <deque>
#include <string>
#include <vector>

namespace foreslice::studio {

/// A key with Ctrl, Shift or Alt, or a function key: what shortcuts are made of.
struct Chord {
    SDL_Keycode key = 0;
    bool ctrl = false, shift = false, alt = false;
    friend bool operator==(const Chord&, const Chord&) = default;
};

class InputQueue {
  public:
    /// Fills io.KeyMap; call once per ImGui context.
    static void map_keys(ImGuiIO& io);

    /// Takes the events it knows; `pixels_per_point` turns window coordinates into pixels.
    void push(const SDL_Event& event, float pixels_per_point);
    bool empty() const { return entries_.empty(); }
    /// Hands over what belongs to one frame; to be called just before ImGui::NewFrame(). Returns the chords
    /// that went down in it.
    std::vector<Chord> feed(ImGuiIO& io);
    /// True while a mouse button is held, by what has been fed so far.
    bool dragging() const { return buttons_held_ != 0; }

  private:
    enum class Kind { move, leave, button, wheel, key, text, focus_lost };
    struct Entry {
        Kind kind = Kind::move;
        float x = 0, y = 0;
        int code = 0;  // button number, or index into io.KeysDown
        bool down = false;
        Chord chord;
        std::string text;
    };
    struct Frame;

    static bool fits(const Entry& entry, const Frame& frame);
    void apply(const Entry& entry, ImGuiIO& io, Frame& frame, std::vector<Chord>& chords);
    void push_key(const SDL_KeyboardEvent& key);

    std::deque<Entry> entries_;
    unsigned buttons_held_ = 0;
    int text_waited_ = 0;  ///< frames that text has waited for a field to take it
};

}  // namespace foreslice::studio
