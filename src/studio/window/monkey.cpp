#include "studio/window/monkey.h"

#include <array>
#include <iterator>

#include "studio/window/pushed_events.h"

namespace foreslice::studio {
namespace {

bool writes_or_ends(const std::string& name) {
    for (const char* kept_from : {"save", "save-as", "picture", "open", "unsaved:save", "swatch"})
        if (name.rfind(kept_from, 0) == 0) return true;
    return false;
}

bool about_files(Dialog dialog) {
    return dialog == Dialog::open || dialog == Dialog::save_as || dialog == Dialog::export_picture ||
           dialog == Dialog::send;
}

}  // namespace

void Monkey::press_somewhere(const Studio& studio, float pixels_per_point) {
    const auto& places = studio.ui.places();
    if (places.empty()) return;
    const auto& [name, place] = *std::next(places.begin(), below(static_cast<int>(places.size())));
    if (writes_or_ends(name) || !place.on_screen()) return;
    const float share_x = static_cast<float>(below(100)) / 100,
                share_y = static_cast<float>(below(100)) / 100;
    x_ = static_cast<int>((place.min.x + (place.max.x - place.min.x) * share_x) / pixels_per_point);
    y_ = static_cast<int>((place.min.y + (place.max.y - place.min.y) * share_y) / pixels_per_point);
    push_motion(x_, y_);
    push_button(x_, y_, true);
    if (below(3) == 0)
        held_ = true;
    else
        push_button(x_, y_, false);
}

void Monkey::type_something() {
    static const std::array<const char*, 10> texts{"7",   "0",  "-3", "12,5 mm", "1 in",
                                                   "1e9", "é☂", " ",  "nan",     "%s%n"};
    push_text(texts[static_cast<std::size_t>(below(static_cast<int>(texts.size())))]);
    if (below(2) == 0) push_key(SDLK_RETURN, 0);
}

void Monkey::act(const Studio& studio, float pixels_per_point) {
    if (about_files(studio.view.dialog)) {
        push_key(SDLK_ESCAPE, 0);
        return;
    }
    if (held_) {
        x_ += below(121) - 60;
        y_ += below(121) - 60;
        push_motion(x_, y_);
        if (below(4) == 0) {
            push_button(x_, y_, false);
            held_ = false;
        }
        return;
    }
    struct Key {
        SDL_Keycode key;
        std::uint16_t modifiers;
    };
    static constexpr std::array keys{Key{SDLK_z, KMOD_LCTRL},   Key{SDLK_y, KMOD_LCTRL},
                                     Key{SDLK_z, KMOD_LCTRL},   Key{SDLK_TAB, 0},
                                     Key{SDLK_TAB, KMOD_LCTRL}, Key{SDLK_ESCAPE, 0},
                                     Key{SDLK_RETURN, 0},       Key{SDLK_SPACE, 0},
                                     Key{SDLK_LEFT, KMOD_LALT}, Key{SDLK_RIGHT, KMOD_LALT},
                                     Key{SDLK_PAGEUP, 0},       Key{SDLK_PAGEDOWN, 0},
                                     Key{SDLK_UP, 0},           Key{SDLK_DOWN, 0},
                                     Key{SDLK_F1, 0},           Key{SDLK_F5, 0},
                                     Key{SDLK_F9, 0},           Key{SDLK_F6, 0},
                                     Key{SDLK_F8, 0},           Key{SDLK_b, KMOD_LCTRL},
                                     Key{SDLK_t, KMOD_LCTRL},   Key{SDLK_d, KMOD_LCTRL},
                                     Key{SDLK_k, KMOD_LCTRL},   Key{SDLK_RETURN, KMOD_LCTRL},
                                     Key{SDLK_F2, 0},           Key{SDLK_BACKSPACE, 0},
                                     Key{SDLK_a, KMOD_LCTRL},   Key{SDLK_DELETE, 0}};
    const int what = below(10);
    if (what < 6) {
        press_somewhere(studio, pixels_per_point);
    } else if (what < 8) {
        const Key key = keys[static_cast<std::size_t>(below(static_cast<int>(keys.size())))];
        push_key(key.key, key.modifiers);
    } else if (what == 8) {
        type_something();
    } else {
        push_motion(x_, y_);
        push_wheel(below(2) == 0 ? 1 : -1);
    }
}

}  // namespace foreslice::studio
