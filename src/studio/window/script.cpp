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
#include "studio/window/monkey.h"
#include "studio/window/pushed_events.h"

namespace foreslice::studio {
namespace {

constexpr std::chrono::seconds patience{20};        // for a widget or an expectation
constexpr std::chrono::seconds face_patience{240};  // for a fine face, also on a slow sanitized build

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

void Script::advance(const Studio& studio, float pixels_per_point, FrameLog& frames) {
    frames_ = &frames;
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
        if (step.rest != "face") return wait_for_widget(step.rest, studio);
        const FaceStatus status = studio.session.face_status();
        why_ = status.kind == FaceStatus::Kind::failed ? status.problem : "the face is not up to date yet";
        if (status.kind == FaceStatus::Kind::failed) return Outcome::impossible;
        return status.kind == FaceStatus::Kind::up_to_date ? Outcome::done : Outcome::not_yet;
    }
    if (word == "click" || word == "double-click" || word == "hover" || word == "drag" || word == "wheel" ||
        word == "drag-to" || word == "draw")
        return point_at(step, studio);
    if (word == "frames" || word == "monkey") return let_pass(step, studio);
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
        std::printf("%s", frames_->words().c_str()), std::fflush(stdout), frames_->clear();
    else if (word == "lose-graphics")
        lose_graphics_ = true;
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

Script::Outcome Script::wait_for_widget(const std::string& name, const Studio& studio) {
    const auto found = studio.ui.places().find(name);
    why_ = "there is no such widget";
    if (found == studio.ui.places().end()) return Outcome::not_yet;
    if (found->second.on_screen()) return Outcome::done;
    scroll_towards(found->second);
    why_ = "it is scrolled away";
    return Outcome::not_yet;
}

Script::Outcome Script::find(const std::string& words, const Studio& studio, SDL_Point& at) {
    // "NAME" means its middle, "NAME@X,Y" a place in it: shares of its width and height from the upper left.
    std::string name = words;
    double share_x = 0.5, share_y = 0.5;
    if (const auto mark = words.rfind('@'); mark != std::string::npos) {
        name = words.substr(0, mark);
        if (std::sscanf(words.c_str() + mark + 1, "%lf,%lf", &share_x, &share_y) != 2)
            return Outcome::impossible;
    }
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
    const auto between = [this](float from, float to, double share) {
        return static_cast<int>((from + (to - from) * static_cast<float>(share)) / pixels_per_point_);
    };
    at = {between(place.min.x, place.max.x, share_x), between(place.min.y, place.max.y, share_y)};
    return Outcome::done;
}

void Script::drag_along(const std::vector<SDL_Point>& points) {
    constexpr int moves = 8;
    push_motion(points.front().x, points.front().y);
    push_button(points.front().x, points.front().y, true);
    for (std::size_t k = 0; k + 1 < points.size(); ++k)
        for (int i = 1; i <= moves; ++i) {
            const SDL_Point a = points[k], b = points[k + 1];
            gestures_.emplace_back(
                [=] { push_motion(a.x + (b.x - a.x) * i / moves, a.y + (b.y - a.y) * i / moves); });
        }
    const SDL_Point end = points.back();
    gestures_.emplace_back([=] { push_button(end.x, end.y, false); });
}

Script::Outcome Script::point_at(const Step& step, const Studio& studio) {
    if (step.arguments.empty()) return Outcome::impossible;
    // Names may hold blanks where nothing follows them.
    const bool more_follows = step.word != "click" && step.word != "double-click" && step.word != "hover";
    SDL_Point at{};
    if (const Outcome outcome = find(more_follows ? step.arguments.front() : step.rest, studio, at);
        outcome != Outcome::done)
        return outcome;
    if (step.word == "drag") {
        if (step.arguments.size() < 3) return Outcome::impossible;
        drag_along(
            {at, {at.x + std::atoi(step.arguments[1].c_str()), at.y + std::atoi(step.arguments[2].c_str())}});
        return Outcome::done;
    }
    if (step.word == "drag-to" || step.word == "draw") {
        std::vector<SDL_Point> points{at};
        for (std::size_t i = 1; i < step.arguments.size(); ++i) {
            points.emplace_back();
            if (const Outcome outcome = find(step.arguments[i], studio, points.back());
                outcome != Outcome::done)
                return outcome;
        }
        drag_along(points);
        return Outcome::done;
    }
    push_motion(at.x, at.y);
    if (step.word == "hover") return Outcome::done;
    if (step.word == "wheel") {
        const int lines = std::atoi(step.arguments.back().c_str());
        gestures_.emplace_back([lines] { push_wheel(lines); });
        return Outcome::done;
    }
    for (int press = 0; press < (step.word == "double-click" ? 2 : 1); ++press) {
        push_button(at.x, at.y, true);
        push_button(at.x, at.y, false);
    }
    return Outcome::done;
}

Script::Outcome Script::let_pass(const Step& step, const Studio& studio) {
    if (step.arguments.empty()) return Outcome::impossible;
    const int count = std::atoi(step.arguments.back().c_str());
    if (step.word == "frames") {
        for (int i = 0; i < count; ++i) gestures_.emplace_back([] {});
        return Outcome::done;
    }
    const auto monkey = std::make_shared<Monkey>(std::strtoull(step.arguments.front().c_str(), nullptr, 10));
    const float scale = pixels_per_point_;
    for (int i = 0; i < count; ++i)
        gestures_.emplace_back([monkey, studio, scale] { monkey->act(studio, scale); });
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

}  // namespace foreslice::studio
