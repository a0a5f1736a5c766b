#include "studio/window/script.h"

#include <SDL.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <nlohmann/json.hpp>
#include <sstream>
#include <utility>

#include "design/design_file.h"
#include "foundation/content_key.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "studio/session/quantity.h"

namespace foreslice::studio {
namespace {

constexpr std::chrono::seconds patience{20};        // for a widget or an expectation
constexpr std::chrono::seconds face_patience{240};  // for a fine face, also on a slow sanitized build

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

void push_key_event(SDL_Keycode key, bool down, std::uint16_t modifiers) {
    SDL_Event event{};
    event.type = down ? SDL_KEYDOWN : SDL_KEYUP;
    event.key.keysym.sym = key;
    event.key.keysym.scancode = SDL_GetScancodeFromKey(key);
    event.key.keysym.mod = modifiers;
    push(event);
}

// With its modifiers going down before and up after it, as on a keyboard.
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

SDL_Keycode key_named(const std::string& name) {
    if (name == "enter") return SDLK_RETURN;
    if (name == "plus") return SDLK_PLUS;
    if (name == "minus") return SDLK_MINUS;
    return SDL_GetKeyFromName(name.c_str());
}

bool shown(const Ui& ui, const std::string& name) {
    const auto found = ui.places().find(name);
    return found != ui.places().end() && found->second.on_screen();
}

}  // namespace

std::uint64_t fingerprint(const DrawnFace* face) {
    if (!face) return 0;
    const auto& bytes = face->drawn.image.rgba;
    return ContentKey()
        .add(std::string_view(reinterpret_cast<const char*>(bytes.data()), bytes.size()))
        .value();
}

std::string widget_lines(const Ui& ui) {
    std::ostringstream out;
    for (const auto& [name, place] : ui.places()) {
        if (!place.on_screen()) continue;
        out << name << '\t' << static_cast<int>(place.min.x) << ' ' << static_cast<int>(place.min.y) << ' '
            << static_cast<int>(place.max.x) << ' ' << static_cast<int>(place.max.y) << '\t'
            << (place.enabled ? "enabled" : "disabled") << '\t' << place.text << '\n';
    }
    return out.str();
}

Script::Script(const std::filesystem::path& file) : file_(file) {
    std::istringstream lines(read_file(file));
    int number = 0;
    for (std::string line; std::getline(lines, line);) {
        ++number;
        std::istringstream words(line);
        Step step;
        step.line = number;
        if (!(words >> step.word) || step.word.front() == '#') continue;
        for (std::string word; words >> word;) step.arguments.push_back(word);
        const auto after = line.find(step.word) + step.word.size() + 1;
        step.rest = after < line.size() ? line.substr(after) : "";
        steps_.push_back(std::move(step));
    }
}

void Script::advance(const Studio& studio, float pixels_per_point) {
    pixels_per_point_ = pixels_per_point;
    if (finished_ || wants_screenshot() || resize_) return;
    waiting_ = false;
    if (!gestures_.empty()) {
        gestures_.front()();
        gestures_.pop_front();
        return;
    }
    if (at_ >= steps_.size()) {
        finished_ = true;
        return;
    }
    const Step& step = steps_[at_];
    const auto now = std::chrono::steady_clock::now();
    if (!began_) step_began_ = now;
    began_ = true;
    const Outcome outcome = perform(step, studio);
    if (outcome == Outcome::done) {
        ++at_;
        began_ = false;
        return;
    }
    waiting_ = true;
    const bool for_face = step.word == "wait-for" && step.rest == "face";
    if (outcome == Outcome::impossible || now - step_began_ > (for_face ? face_patience : patience))
        fail(step);
}

void Script::fail(const Step& step) {
    std::fprintf(stderr, "%s, line %d: %s %s: %s\n", file_.string().c_str(), step.line, step.word.c_str(),
                 step.rest.c_str(), why_.empty() ? "this did not come true in time" : why_.c_str());
    failed_ = true;
    screenshot_ = file_.filename().string() + ".failed.png";
}

void Script::take_screenshot(const picture::Image& image) {
    try {
        picture::write_png(image, screenshot_);
    } catch (const InputError& error) {
        std::fprintf(stderr, "%s\n", error.what());
        failed_ = true;
    }
    screenshot_.clear();
    if (failed_) finished_ = true;
}

std::optional<std::pair<int, int>> Script::take_resize() {
    return std::exchange(resize_, std::nullopt);
}

Script::Outcome Script::perform(const Step& step, const Studio& studio) {
    const std::string& word = step.word;
    why_.clear();
    if (word == "wait-for") {
        if (step.rest != "face") return shown(studio.ui, step.rest) ? Outcome::done : Outcome::not_yet;
        const FaceStatus status = studio.session.face_status();
        why_ = status.kind == FaceStatus::Kind::failed ? status.problem : "the face is not up to date yet";
        if (status.kind == FaceStatus::Kind::failed) return Outcome::impossible;
        return status.kind == FaceStatus::Kind::up_to_date ? Outcome::done : Outcome::not_yet;
    }
    if (word == "click" || word == "double-click" || word == "hover" || word == "drag" || word == "wheel")
        return point_at(step, studio);
    if (word == "wait-for-file") {
        why_ = "there is no such file yet";
        return std::filesystem::exists(step.rest) ? Outcome::done : Outcome::not_yet;
    }
    if (word == "expect") return expect(step, studio);
    if (word == "key") return press_keys(step);
    if (word == "type")
        push_text(step.rest);
    else if (word == "remember-face")
        remembered_face_ = fingerprint(studio.session.face().get());
    else if (word == "screenshot")
        screenshot_ = step.rest;
    else if (word == "dump-widgets")
        write_file_atomically(step.rest, widget_lines(studio.ui));
    else if (word == "frame-times")
        print_frame_times();
    else if (word == "quit")
        finished_ = true;
    else if (word == "drop") {
        SDL_Event event{};
        event.type = SDL_DROPFILE;
        event.drop.file = SDL_strdup(step.rest.c_str());
        push(event);
    } else if (word == "resize") {
        int width = 0, height = 0;
        if (std::sscanf(step.rest.c_str(), "%dx%d", &width, &height) != 2) return Outcome::impossible;
        resize_ = {width, height};
    } else {
        why_ = "there is no such step";
        return Outcome::impossible;
    }
    return Outcome::done;
}

// As a person does: the mouse over the panel, and the wheel.
void Script::scroll_towards(const WidgetPlace& place) const {
    const float x = (place.view_min.x + place.view_max.x) / 2, y = (place.view_min.y + place.view_max.y) / 2;
    push_motion(static_cast<int>(x / pixels_per_point_), static_cast<int>(y / pixels_per_point_));
    push_wheel(place.middle().y > y ? -1 : 1);
}

Script::Outcome Script::point_at(const Step& step, const Studio& studio) {
    if (step.arguments.empty()) return Outcome::impossible;
    // Names may hold blanks; a drag has two numbers behind its name.
    std::string name = step.rest;
    int dx = 0, dy = 0;
    if (step.word == "drag") {
        if (step.arguments.size() < 3) return Outcome::impossible;
        dx = std::atoi(step.arguments[step.arguments.size() - 2].c_str());
        dy = std::atoi(step.arguments.back().c_str());
        name = step.arguments.front();
    }
    if (step.word == "wheel") name = step.arguments.front();
    const auto found = studio.ui.places().find(name);
    if (found == studio.ui.places().end() || !found->second.enabled) {
        why_ = "no such widget can be used on the screen";
        return Outcome::not_yet;
    }
    const WidgetPlace& place = found->second;
    if (!place.on_screen()) {
        scroll_towards(place);
        why_ = "it is scrolled away";
        return Outcome::not_yet;
    }
    const int x = static_cast<int>(place.middle().x / pixels_per_point_);
    const int y = static_cast<int>(place.middle().y / pixels_per_point_);
    push_motion(x, y);
    if (step.word == "hover") return Outcome::done;
    if (step.word == "wheel") {
        const int lines = std::atoi(step.arguments.back().c_str());
        gestures_.push_back([lines] { push_wheel(lines); });
        return Outcome::done;
    }
    push_button(x, y, true);
    if (step.word == "drag") {
        for (int i = 1; i <= 8; ++i)
            gestures_.push_back([=] { push_motion(x + dx * i / 8, y + dy * i / 8); });
        gestures_.push_back([=] { push_button(x + dx, y + dy, false); });
        return Outcome::done;
    }
    push_button(x, y, false);
    if (step.word == "double-click") {
        push_button(x, y, true);
        push_button(x, y, false);
    }
    return Outcome::done;
}

Script::Outcome Script::expect(const Step& step, const Studio& studio) {
    if (step.arguments.empty()) return Outcome::impossible;
    const std::string& what = step.arguments.front();
    const std::string rest = step.rest.size() > what.size() + 1 ? step.rest.substr(what.size() + 1) : "";
    const auto when = [](bool true_now) { return true_now ? Outcome::done : Outcome::not_yet; };
    if (what == "face-changed" || what == "face-same") {
        why_ = what == "face-same" ? "the face is another one" : "the face is still the same";
        const bool same = fingerprint(studio.session.face().get()) == remembered_face_;
        return when(same == (what == "face-same"));
    }
    if (what == "unsaved") {
        why_ = studio.session.changed_since_saved() ? "there are unsaved changes"
                                                    : "there are no unsaved changes";
        return when(studio.session.changed_since_saved() == (rest == "yes"));
    }
    if (what == "shown") return when(shown(studio.ui, rest));
    if (what == "hidden") return when(!shown(studio.ui, rest));
    if (what == "json") return expect_json(step, studio, false);
    if (what == "json-size") return expect_json(step, studio, true);
    if (what == "text" && step.arguments.size() >= 2) {
        const std::string& name = step.arguments[1];
        const std::string text = rest.size() > name.size() + 1 ? rest.substr(name.size() + 1) : "";
        const auto found = studio.ui.places().find(name);
        why_ = found == studio.ui.places().end() ? "it is not on the screen"
                                                 : "it says \"" + found->second.text + "\"";
        return when(found != studio.ui.places().end() && found->second.text.find(text) != std::string::npos);
    }
    why_ = "there is no such expectation";
    return Outcome::impossible;
}

Script::Outcome Script::expect_json(const Step& step, const Studio& studio, bool size) {
    if (step.arguments.size() < 2) return Outcome::impossible;
    const auto document = nlohmann::json::parse(design::to_json(studio.session.design()));
    const nlohmann::json::json_pointer pointer(step.arguments[1]);
    if (!document.contains(pointer)) {
        why_ = "the design has nothing there";
        return Outcome::not_yet;
    }
    const auto& value = document.at(pointer);
    const auto at = step.rest.find(step.arguments[1]) + step.arguments[1].size() + 1;
    const std::string wanted = at < step.rest.size() ? step.rest.substr(at) : "";
    why_ = "the design says " + value.dump() + " there";
    if (size)
        return value.size() == static_cast<std::size_t>(std::atoi(wanted.c_str())) ? Outcome::done
                                                                                   : Outcome::not_yet;
    const auto number = parse_quantity(wanted, Unit::none);
    const bool equal = value.is_number() && number ? std::abs(value.get<double>() - *number) < 1e-6
                       : value.is_boolean()        ? value.dump() == wanted
                                                   : value.is_string() && value.get<std::string>() == wanted;
    return equal ? Outcome::done : Outcome::not_yet;
}

Script::Outcome Script::press_keys(const Step& step) {
    std::uint16_t modifiers = 0;
    std::string name = step.rest;
    const std::pair<const char*, std::uint16_t> prefixes[] = {
        {"ctrl+", KMOD_LCTRL}, {"shift+", KMOD_LSHIFT}, {"alt+", KMOD_LALT}};
    for (bool found = true; found;) {
        found = false;
        for (const auto& [prefix, modifier] : prefixes)
            if (name.rfind(prefix, 0) == 0) {
                modifiers = static_cast<std::uint16_t>(modifiers | modifier);
                name.erase(0, std::strlen(prefix));
                found = true;
            }
    }
    const SDL_Keycode key = key_named(name);
    if (key == SDLK_UNKNOWN) {
        why_ = "there is no key of that name";
        return Outcome::impossible;
    }
    push_key(key, modifiers);
    return Outcome::done;
}

void Script::print_frame_times() {
    const auto print = [](const char* what, std::vector<double> times) {
        if (times.empty()) return;
        std::sort(times.begin(), times.end());
        const auto at = [&](double share) {
            return 1000 * times[static_cast<std::size_t>(share * static_cast<double>(times.size() - 1))];
        };
        std::printf("%zu frames %s, ms: median %.1f, 99 %% under %.1f, longest %.1f\n", times.size(), what,
                    at(0.5), at(0.99), at(1));
    };
    print("built", std::exchange(built_seconds_, {}));
    print("rendered", std::exchange(rendered_seconds_, {}));
    std::fflush(stdout);
}

}  // namespace foreslice::studio
