#include "studio/window/pushed_events.h"

#include <algorithm>
#include <cstring>
#include <utility>

namespace foreslice::studio {

void push(SDL_Event event) {
    SDL_PushEvent(&event);
}

void push_motion(int x, int y) {
    SDL_Event event{};
    event.type = SDL_MOUSEMOTION;
    event.motion.x = x;
    event.motion.y = y;
    push(event);
}

void push_button(int x, int y, bool down) {
    SDL_Event event{};
    event.type = down ? SDL_MOUSEBUTTONDOWN : SDL_MOUSEBUTTONUP;
    event.button.button = SDL_BUTTON_LEFT;
    event.button.x = x;
    event.button.y = y;
    push(event);
}

void push_wheel(int lines) {
    SDL_Event event{};
    event.type = SDL_MOUSEWHEEL;
    event.wheel.y = lines;
    event.wheel.preciseY = static_cast<float>(lines);
    push(event);
}

static void push_key_event(SDL_Keycode key, bool down, std::uint16_t modifiers) {
    SDL_Event event{};
    event.type = down ? SDL_KEYDOWN : SDL_KEYUP;
    event.key.keysym.sym = key;
    event.key.keysym.scancode = SDL_GetScancodeFromKey(key);
    event.key.keysym.mod = modifiers;
    push(event);
}

void push_key(SDL_Keycode key, std::uint16_t modifiers) {
    const std::pair<std::uint16_t, SDL_Keycode> held[] = {
        {KMOD_LCTRL, SDLK_LCTRL}, {KMOD_LSHIFT, SDLK_LSHIFT}, {KMOD_LALT, SDLK_LALT}};
    for (const auto& [modifier, code] : held)
        if (modifiers & modifier) push_key_event(code, true, modifiers);
    push_key_event(key, true, modifiers);
    push_key_event(key, false, modifiers);
    for (const auto& [modifier, code] : held)
        if (modifiers & modifier) push_key_event(code, false, 0);
}

void push_text(const std::string& text) {
    for (std::size_t i = 0; i < text.size();) {
        std::size_t end = i + 1;
        while (end < text.size() && (static_cast<unsigned char>(text[end]) & 0xc0) == 0x80) ++end;
        SDL_Event event{};
        event.type = SDL_TEXTINPUT;
        std::memcpy(event.text.text, text.data() + i, std::min(end - i, sizeof event.text.text - 1));
        push(event);
        i = end;
    }
}

}  // namespace foreslice::studio
