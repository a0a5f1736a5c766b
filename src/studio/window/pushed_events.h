// Events as a mouse and a keyboard make them, for scripts and tests. Places are window coordinates.
#pragma once

#include <SDL.h>

#include <cstdint>
#include <string>

namespace foreslice::studio {

void push(SDL_Event event);
void push_motion(int x, int y);
void push_button(int x, int y, bool down);
void push_wheel(int lines);
/// With its modifiers going down before and up after it.
void push_key(SDL_Keycode key, std::uint16_t modifiers);
void push_text(const std::string& text);

}  // namespace foreslice::studio
