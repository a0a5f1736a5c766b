#include "studio/window/input_queue.h"

#include <algorithm>
#include <cfloat>
#include <utility>

namespace foreslice::studio {
namespace {

constexpr int frames_for_a_field = 4;

// io.KeysDown holds 512 flags. Letters and signs go by what is printed on the key (so Ctrl+Z is where the
// layout has Z), all others by their place on the keyboard.
int index_of(SDL_Keycode key) {
    if (key >= 0 && key < 256) return key;
    return 256 + (SDL_GetScancodeFromKey(key) & 255);
}

// Keys whose text arrives as a text event of its own; as keys they mean nothing to ImGui unless Ctrl is held.
bool writes_text(const Chord& chord) {
    return chord.key > SDLK_SPACE && chord.key < SDLK_DELETE && !chord.ctrl && !chord.alt;
}

int button_of(std::uint8_t sdl_button) {
    switch (sdl_button) {
        case SDL_BUTTON_LEFT:
            return 0;
        case SDL_BUTTON_RIGHT:
            return 1;
        case SDL_BUTTON_MIDDLE:
            return 2;
        default:
            return -1;
    }
}

}  // namespace

// What one frame has taken so far.
struct InputQueue::Frame {
    bool moved = false, pressed = false, wheeled = false, keyed = false, wrote = false;
    std::vector<std::pair<Kind, int>> changed;

    bool has(Kind kind, int code) const {
        return std::find(changed.begin(), changed.end(), std::pair(kind, code)) != changed.end();
    }
};

void InputQueue::map_keys(ImGuiIO& io) {
    const std::pair<ImGuiKey, SDL_Keycode> keys[] = {
        {ImGuiKey_Tab, SDLK_TAB},
        {ImGuiKey_LeftArrow, SDLK_LEFT},
        {ImGuiKey_RightArrow, SDLK_RIGHT},
        {ImGuiKey_UpArrow, SDLK_UP},
        {ImGuiKey_DownArrow, SDLK_DOWN},
        {ImGuiKey_PageUp, SDLK_PAGEUP},
        {ImGuiKey_PageDown, SDLK_PAGEDOWN},
        {ImGuiKey_Home, SDLK_HOME},
        {ImGuiKey_End, SDLK_END},
        {ImGuiKey_Insert, SDLK_INSERT},
        {ImGuiKey_Delete, SDLK_DELETE},
        {ImGuiKey_Backspace, SDLK_BACKSPACE},
        {ImGuiKey_Space, SDLK_SPACE},
        {ImGuiKey_Enter, SDLK_RETURN},
        {ImGuiKey_Escape, SDLK_ESCAPE},
        {ImGuiKey_KeyPadEnter, SDLK_KP_ENTER},
        {ImGuiKey_A, SDLK_a},
        {ImGuiKey_C, SDLK_c},
        {ImGuiKey_V, SDLK_v},
        {ImGuiKey_X, SDLK_x},
        {ImGuiKey_Y, SDLK_y},
        {ImGuiKey_Z, SDLK_z},
    };
    for (const auto& [imgui_key, sdl_key] : keys) io.KeyMap[imgui_key] = index_of(sdl_key);
}

void InputQueue::push_key(const SDL_KeyboardEvent& key) {
    if (key.repeat != 0 && key.type == SDL_KEYDOWN) {
        // ImGui repeats held keys by itself; shortcuts must not repeat.
        return;
    }
    Entry entry;
    entry.kind = Kind::key;
    entry.down = key.type == SDL_KEYDOWN;
    entry.code = index_of(key.keysym.sym);
    entry.chord.key = key.keysym.sym;
    entry.chord.ctrl = (key.keysym.mod & (KMOD_CTRL | KMOD_GUI)) != 0;
    entry.chord.shift = (key.keysym.mod & KMOD_SHIFT) != 0;
    entry.chord.alt = (key.keysym.mod & KMOD_ALT) != 0;
    if (!writes_text(entry.chord) || !entry.down) entries_.push_back(std::move(entry));
}

void InputQueue::push(const SDL_Event& event, float pixels_per_point) {
    Entry entry;
    switch (event.type) {
        case SDL_MOUSEMOTION:
            entry.x = static_cast<float>(event.motion.x) * pixels_per_point;
            entry.y = static_cast<float>(event.motion.y) * pixels_per_point;
            // Two moves in a row are one, unless a press between them makes the place matter.
            if (!entries_.empty() && entries_.back().kind == Kind::move) entries_.pop_back();
            break;
        case SDL_MOUSEBUTTONDOWN:
        case SDL_MOUSEBUTTONUP:
            entry.kind = Kind::button;
            entry.code = button_of(event.button.button);
            entry.down = event.type == SDL_MOUSEBUTTONDOWN;
            entry.x = static_cast<float>(event.button.x) * pixels_per_point;
            entry.y = static_cast<float>(event.button.y) * pixels_per_point;
            if (entry.code < 0) return;
            break;
        case SDL_MOUSEWHEEL:
            entry.kind = Kind::wheel;
            entry.x = event.wheel.preciseX;
            entry.y = event.wheel.preciseY;
            break;
        case SDL_KEYDOWN:
        case SDL_KEYUP:
            push_key(event.key);
            return;
        case SDL_TEXTINPUT:
            entry.kind = Kind::text;
            entry.text = event.text.text;
            break;
        case SDL_WINDOWEVENT:
            if (event.window.event == SDL_WINDOWEVENT_LEAVE)
                entry.kind = Kind::leave;
            else if (event.window.event == SDL_WINDOWEVENT_FOCUS_LOST)
                entry.kind = Kind::focus_lost;
            else
                return;
            break;
        default:
            return;
    }
    entries_.push_back(std::move(entry));
}

bool InputQueue::fits(const Entry& entry, const Frame& frame) {
    const bool acted = frame.pressed || frame.wheeled || frame.keyed || frame.wrote;
    switch (entry.kind) {
        case Kind::move:
            return !acted;
        case Kind::leave:
        case Kind::focus_lost:
            return !acted && !frame.moved;
        // A release right behind a move waits a frame, else the last step of a drag would be dropped.
        case Kind::button:
            return !frame.has(Kind::button, entry.code) && (entry.down || !frame.moved) && !frame.keyed &&
                   !frame.wrote;
        case Kind::wheel:
            return !frame.moved && !frame.pressed;
        case Kind::key:
            return !frame.has(Kind::key, entry.code) && !frame.wrote && !frame.pressed;
        case Kind::text:
            return !frame.keyed && !frame.pressed;
    }
    return true;
}

void InputQueue::apply(const Entry& entry, ImGuiIO& io, Frame& frame, std::vector<Chord>& chords) {
    frame.changed.emplace_back(entry.kind, entry.code);
    switch (entry.kind) {
        case Kind::move:
            io.MousePos = ImVec2(entry.x, entry.y);
            frame.moved = true;
            break;
        case Kind::leave:
            if (buttons_held_ == 0) io.MousePos = ImVec2(-FLT_MAX, -FLT_MAX);
            break;
        case Kind::focus_lost:
            std::fill(std::begin(io.KeysDown), std::end(io.KeysDown), false);
            io.KeyCtrl = io.KeyShift = io.KeyAlt = false;
            break;
        case Kind::button:
            io.MousePos = ImVec2(entry.x, entry.y);
            io.MouseDown[entry.code] = entry.down;
            if (entry.down)
                buttons_held_ |= 1U << entry.code;
            else
                buttons_held_ &= ~(1U << entry.code);
            frame.pressed = true;
            break;
        case Kind::wheel:
            io.MouseWheel += entry.y;
            io.MouseWheelH += entry.x;
            frame.wheeled = true;
            break;
        case Kind::key:
            io.KeysDown[entry.code] = entry.down;
            io.KeyCtrl = entry.chord.ctrl;
            io.KeyShift = entry.chord.shift;
            io.KeyAlt = entry.chord.alt;
            if (entry.down) chords.push_back(entry.chord);
            frame.keyed = true;
            break;
        case Kind::text:
            io.AddInputCharactersUTF8(entry.text.c_str());
            frame.wrote = true;
            break;
    }
}

std::vector<Chord> InputQueue::feed(ImGuiIO& io) {
    Frame frame;
    std::vector<Chord> chords;
    while (!entries_.empty() && fits(entries_.front(), frame)) {
        // A field that was just clicked takes text only two frames later; what is typed meanwhile waits for
        // it.
        if (entries_.front().kind == Kind::text && !io.WantTextInput && text_waited_ < frames_for_a_field) {
            ++text_waited_;
            break;
        }
        text_waited_ = 0;
        apply(entries_.front(), io, frame, chords);
        entries_.pop_front();
    }
    return chords;
}

}  // namespace foreslice::studio
