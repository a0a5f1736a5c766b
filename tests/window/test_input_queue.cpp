// What arrives between two frames reaches Dear ImGui in an order that loses nothing.
#include <doctest/doctest.h>

#include "studio/window/input_queue.h"

using namespace foreslice::studio;

namespace {

struct Context {
    Context() {
        ImGui::CreateContext();
        InputQueue::map_keys(ImGui::GetIO());
    }
    ~Context() { ImGui::DestroyContext(); }
    ImGuiIO& io() const { return ImGui::GetIO(); }
};

SDL_Event motion(int x, int y) {
    SDL_Event event{};
    event.type = SDL_MOUSEMOTION;
    event.motion.x = x;
    event.motion.y = y;
    return event;
}

SDL_Event button(bool down, int x = 5, int y = 6) {
    SDL_Event event{};
    event.type = down ? SDL_MOUSEBUTTONDOWN : SDL_MOUSEBUTTONUP;
    event.button.button = SDL_BUTTON_LEFT;
    event.button.x = x;
    event.button.y = y;
    return event;
}

SDL_Event key(SDL_Keycode code, bool down, Uint16 modifiers = 0) {
    SDL_Event event{};
    event.type = down ? SDL_KEYDOWN : SDL_KEYUP;
    event.key.keysym.sym = code;
    event.key.keysym.mod = modifiers;
    return event;
}

SDL_Event text(const char* words) {
    SDL_Event event{};
    event.type = SDL_TEXTINPUT;
    SDL_strlcpy(event.text.text, words, sizeof event.text.text);
    return event;
}

}  // namespace

TEST_CASE("a tap that begins and ends between two frames is down for one of them") {
    Context context;
    InputQueue queue;
    queue.push(button(true), 1);
    queue.push(button(false), 1);
    queue.feed(context.io());
    CHECK(context.io().MouseDown[0]);
    CHECK(queue.dragging());
    queue.feed(context.io());
    CHECK(!context.io().MouseDown[0]);
    CHECK(queue.empty());
    queue.push(key(SDLK_BACKSPACE, true), 1);
    queue.push(key(SDLK_BACKSPACE, false), 1);
    queue.feed(context.io());
    CHECK(context.io().KeysDown[context.io().KeyMap[ImGuiKey_Backspace]]);
    queue.feed(context.io());
    CHECK(!context.io().KeysDown[context.io().KeyMap[ImGuiKey_Backspace]]);
}

TEST_CASE("the last move of a drag is seen while the button is still down") {
    Context context;
    InputQueue queue;
    queue.push(button(true, 10, 10), 1);
    queue.feed(context.io());
    queue.push(motion(50, 10), 1);
    queue.push(button(false, 50, 10), 1);
    queue.feed(context.io());
    CHECK(context.io().MousePos.x == 50);
    CHECK(context.io().MouseDown[0]);
    queue.feed(context.io());
    CHECK(!context.io().MouseDown[0]);
}

TEST_CASE("places are turned into pixels on displays that scale") {
    Context context;
    InputQueue queue;
    queue.push(motion(30, 40), 2);
    queue.feed(context.io());
    CHECK(context.io().MousePos.x == 60);
    CHECK(context.io().MousePos.y == 80);
}

TEST_CASE("chords come in the order of the keys, and letters go by what is printed on them") {
    Context context;
    InputQueue queue;
    queue.push(key(SDLK_z, true, KMOD_LCTRL), 1);
    queue.push(key(SDLK_z, false, KMOD_LCTRL), 1);
    queue.push(key(SDLK_s, true, KMOD_RCTRL | KMOD_LSHIFT), 1);
    auto chords = queue.feed(context.io());
    REQUIRE(chords.size() == 1);
    CHECK(chords[0] == Chord{SDLK_z, true, false, false});
    CHECK(context.io().KeysDown[context.io().KeyMap[ImGuiKey_Z]]);
    while (chords.empty() || chords[0].key != SDLK_s) chords = queue.feed(context.io());
    CHECK(chords[0] == Chord{SDLK_s, true, true, false});
}

TEST_CASE("text waits for the field that was just clicked, but not for ever") {
    Context context;
    InputQueue queue;
    context.io().WantTextInput = false;
    queue.push(text("é"), 1);
    queue.feed(context.io());
    CHECK(!queue.empty());
    context.io().WantTextInput = true;
    queue.feed(context.io());
    CHECK(queue.empty());
    REQUIRE(context.io().InputQueueCharacters.Size == 1);
    CHECK(context.io().InputQueueCharacters[0] == 0xe9);
    context.io().WantTextInput = false;
    queue.push(text("x"), 1);
    for (int frame = 0; frame < 10; ++frame) queue.feed(context.io());
    CHECK(queue.empty());
}

TEST_CASE("keys do not stay down when the window loses the keyboard") {
    Context context;
    InputQueue queue;
    queue.push(key(SDLK_LEFT, true), 1);
    queue.feed(context.io());
    CHECK(context.io().KeysDown[context.io().KeyMap[ImGuiKey_LeftArrow]]);
    SDL_Event event{};
    event.type = SDL_WINDOWEVENT;
    event.window.event = SDL_WINDOWEVENT_FOCUS_LOST;
    queue.push(event, 1);
    queue.feed(context.io());
    CHECK(!context.io().KeysDown[context.io().KeyMap[ImGuiKey_LeftArrow]]);
}
