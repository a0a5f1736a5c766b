#include "studio/window/app.h"

#include <SDL.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <system_error>
#include <utility>

#include "design/design_file.h"
#include "design/shared_picture.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "picture/assets.h"
#include "studio/session/own_colourants.h"
#include "studio/window/actions.h"
#include "studio/window/panel_list.h"
#include "studio/window/panels.h"
#include "studio/window/panels/making.h"
#include "studio/window/theme.h"

namespace foreslice::studio {
namespace fs = std::filesystem;
namespace {

constexpr const char* demo_design = "palettes/slipway.foreslice.json";
constexpr int frames_after_an_event = 3;  // a pop-up has its full size only in the frame after it opened

Platform::Options platform_options(const AppOptions& options) {
    Platform::Options out;
    out.width = options.width;
    out.height = options.height;
    out.may_be_invisible = out.fixed_clock = !options.script.empty();
    return out;
}

fs::path state_folder(const AppOptions& options) {
    if (!options.state_folder.empty()) return options.state_folder;
    char* from_sdl = SDL_GetPrefPath("", "foreslice");
    fs::path folder = from_sdl ? fs::path(from_sdl) : fs::path(".");
    SDL_free(from_sdl);
    return folder;
}

// One that cannot be read keeps nobody from working; `trouble` says so.
colour::ColourantLibrary library_in(const fs::path& state_folder, std::string& trouble) {
    if (auto own = load_own_colourants(own_colourants_file(state_folder), trouble)) return std::move(*own);
    return colour::ColourantLibrary::load(picture::own_file("palettes/colourants.json"));
}

Session::Setup session_setup(const AppOptions& options, std::string& trouble) {
    Session::Setup setup;
    setup.state_folder = state_folder(options);
    setup.colour_library =
        std::make_shared<colour::ColourantLibrary>(library_in(setup.state_folder, trouble));
    setup.wake = Platform::wake;
    setup.threads = options.threads;
    return setup;
}

std::chrono::seconds time_to_read(const Notice& notice) {
    const auto by_length = static_cast<int>(notice.sentence.size() / 12);
    return std::chrono::seconds(std::max(notice.trouble ? 20 : 6, by_length));
}

// A design that was asked for must open; the last one open is a courtesy; the demo is always there.
void open_first_design(Session& session, const AppOptions& options) {
    if (!options.design.empty()) {
        session.open_whatever(options.design);
        return;
    }
    const auto recent = session.settings().recent;
    const auto together = session.settings().open;
    std::error_code error;
    for (const auto& file : together) {
        if (!fs::is_regular_file(file, error) || session.open_elsewhere(file)) continue;
        try {
            session.open_beside(file);
        } catch (const InputError& problem) {
            session.add_notice({true, problem.what()});
        }
    }
    session.open_left_behind();
    if (!session.file().empty()) return;
    if (!recent.empty() && fs::is_regular_file(recent.front(), error) &&
        !session.open_elsewhere(recent.front())) {
        try {
            session.open(recent.front());
            return;
        } catch (const InputError& problem) {
            session.add_notice({true, problem.what()});
        }
    }
    // Without a file of its own, so that saving asks for a name and the demo stays as it is.
    session.start_new(design::load(picture::own_file(demo_design)));
}

// The session with its first design, whose face is being drawn: at a scale that will do until the window says
// how large it has room for, which is not known before it is there and takes a second look at the same flow.
std::unique_ptr<Session> begun_session(const AppOptions& options, std::string& trouble) {
    auto session = std::make_unique<Session>(session_setup(options, trouble));
    if (!trouble.empty()) session->add_notice({true, trouble});
    open_first_design(*session, options);
    constexpr double scale_until_then = 3;
    session->show((std::max(1, design::bar_count(session->design())) + 1) / 2, scale_until_then);
    return session;
}

}  // namespace

App::App(const AppOptions& options)
    : options_(options),
      end_signals_(Platform::wake),
      session_(begun_session(options, library_trouble_)),
      platform_(platform_options(options)),
      studio_{*session_, view_, ui_} {
    view_.swatches.own_library = own_colourants_file(session_->state_folder());
    if (!options_.script.empty()) script_ = std::make_unique<Script>(options_.script);
    const auto remembered = static_cast<float>(session_->settings().scale);
    set_scale(options_.scale > 0 ? options_.scale
              : remembered > 0   ? remembered
                                 : platform_.suggested_scale());
    const Settings& settings = session_->settings();
    for (std::size_t i = 0; i < all_pages().size(); ++i)
        if (settings.page == all_pages()[i].id) view_.page = i;
    view_.shaders = platform_.has_shaders();
    before_display_is_lost([this] { session_->keep_safe(); });
    if (session_->recovery()) {
        open_dialog(view_, Dialog::recovery);
    } else if (!settings.known && options_.design.empty() && options_.script.empty()) {
        view_.first_start = true;
        play_making(studio_, 0);
    }
}

App::~App() {
    before_display_is_lost(nullptr);
}

void App::set_scale(float scale) {
    wear(session_->settings().morning ? Look::morning : Look::dusk);
    // Window points and pixels may differ; everything is laid out in pixels.
    const float pixels = scale * platform_.pixels_per_point();
    std::string trouble;
    ui_.fonts = load_fonts(pixels, trouble);
    if (!trouble.empty())
        session_->add_notice({true, "A plain font stands in. " + trouble + ". Pictures need the real one."});
    ui_.scale = pixels;
    apply_theme(pixels);
    platform_.renew_font_texture();
    frames_wanted_ = frames_after_an_event;
}

// How often something on the screen may change without an event: progress, a cursor, a message that has had
// its time. Job threads wake the window for everything else.
std::chrono::milliseconds App::redraw_interval() const {
    const bool drawing = session_->face_status().kind == FaceStatus::Kind::drawing;
    if (making_runs(studio_) && !script_) return std::chrono::milliseconds(12);
    if (drawing || view_.swatches.busy() || session_->pictures_being_written() > 0 || board_busy(studio_))
        return std::chrono::milliseconds(200);
    return std::chrono::milliseconds(ImGui::GetIO().WantTextInput ? 300 : 1000);
}

int App::idle_time_ms() const {
    if (platform_.input_waiting() || frames_wanted_ > 0) return 0;
    if (making_runs(studio_) && !script_) return 12;
    if (script_) return script_->waiting() ? 20 : 0;
    return static_cast<int>(redraw_interval().count());
}

void App::take_events() {
    const auto events = platform_.take_events(idle_time_ms());
    if (events.any && platform_.input_waiting()) last_act_ = std::chrono::steady_clock::now();
    if (events.any)
        frames_wanted_ = frames_after_an_event;
    else if (std::chrono::steady_clock::now() - last_frame_ >= redraw_interval())
        frames_wanted_ = std::max(frames_wanted_, 1);
    session_ends_ = events.end || end_signals_.asked();
    if (events.close && view_.dialog != Dialog::unsaved) studio::run(Action::quit, studio_);
    for (const auto& file : events.dropped_files)
        if (design::carries_design(file) || !open_swatches(studio_, file)) open_file(studio_, file);
}

void App::take_notices() {
    const auto now = std::chrono::steady_clock::now();
    for (auto& notice : session_->take_notices()) {
        view_.notice_until = now + time_to_read(notice);
        view_.notice = std::move(notice);
    }
    if (view_.notice && now > view_.notice_until) view_.notice.reset();
}

void App::draw() {
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos(ImVec2(0, 0));
    ImGui::SetNextWindowSize(size);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0, 0));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, 0);
    ImGui::Begin("studio", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoScrollWithMouse);
    ImGui::PopStyleVar(2);
    const Layout first = window_layout(size.x, size.y, ui_.scale, 0);
    const Layout layout =
        window_layout(size.x, size.y, ui_.scale, notes_height(studio_, first.controls.width));
    draw_title_bar(studio_, layout.title);
    draw_ribbon(studio_, layout.ribbon);
    draw_paper(studio_, layout.sheet);
    draw_controls(studio_, layout.controls);
    draw_notes(studio_, layout.notes);
    draw_status(studio_, layout.status);
    draw_dialogs(studio_);
    ImGui::End();
}

// Drawing in software takes most of a script's time; where nobody sees what it draws, some frames will do.
bool App::somebody_looks() {
    constexpr int drawn_of_a_script = 8;  // one in so many
    return !script_ || options_.frame_log || ++script_frames_ % drawn_of_a_script == 0;
}

void App::frame() {
    const auto began = std::chrono::steady_clock::now();
    const double processor_before = thread_seconds();
    last_frame_ = began;
    if (std::exchange(view_.look_changed, false)) {
        wear(session_->settings().morning ? Look::morning : Look::dusk);
        apply_theme(ui_.scale);
    }
    if (view_.wanted_scale > 0) set_scale(std::exchange(view_.wanted_scale, 0.0F));
    const auto chords = platform_.begin_frame();
    ui_.begin_frame();
    ui_.units = units_of(session_->design());
    for (const Chord& chord : chords) run_chord(chord, studio_, ImGui::GetIO().WantTextInput);
    draw();
    session_->show_edited();
    const auto built = std::chrono::steady_clock::now();
    const double processor = thread_seconds() - processor_before;
    picture::Image image;
    const bool capture = script_ && script_->wants_screenshot();
    if (capture || somebody_looks())
        platform_.end_frame(capture ? &image : nullptr);
    else
        ImGui::EndFrame();
    if (capture) script_->take_screenshot(image);
    const auto seconds = [](auto span) { return std::chrono::duration<double>(span).count(); };
    if (options_.frame_log || script_)
        frames_.note({seconds(built - began), processor, seconds(std::chrono::steady_clock::now() - built),
                      on_the_screen()});
    note_answers(began);
    const std::string title =
        (session_->changed_since_saved() ? "● " : "") + session_->design().name + " – Foreslice";
    if (title != title_) platform_.set_title(title_ = title);
    write_widget_file();
}

// What the first sight of a page needs and takes longer than a frame, while nobody does anything.
void App::prepare_ahead() {
    constexpr std::chrono::milliseconds at_rest{400};
    if (frames_wanted_ > 0 || platform_.input_waiting() || making_runs(studio_) ||
        std::chrono::steady_clock::now() - last_act_ < at_rest ||
        session_->face_status().kind != FaceStatus::Kind::up_to_date)
        return;
    const double before = thread_seconds();
    const bool more = prepare_page_bar(studio_);
    const double took = thread_seconds() - before;
    if (took > 1e-3) frames_.note_ahead(took);
    if (more) frames_wanted_ = 1;  // the next part after the next look at what came in
}

std::string App::on_the_screen() const {
    return view_.dialog == Dialog::none ? std::string(all_pages()[view_.page].id) : title_of(view_.dialog);
}

// How long a person waits for the first picture, coarse as it may be, that has what they just did in it.
// While they go on, the wait runs from the first edit that no picture has answered.
void App::note_answers(std::chrono::steady_clock::time_point frame_began) {
    if (!options_.frame_log) return;
    const auto face = session_->face();
    if (seen_revision_ != session_->revision()) {
        seen_revision_ = session_->revision();
        if (!edited_at_ && shown_before_ && !(shown_before_->order.design == session_->design())) {
            edited_at_ = frame_began;
            edited_ = session_->undo_label();
            before_edit_ = shown_before_;
        }
    }
    if (face != shown_before_ && edited_at_ && face && !(face->order.design == before_edit_->order.design)) {
        frames_.note_answer(
            std::chrono::duration<double>(std::chrono::steady_clock::now() - *edited_at_).count(), edited_);
        edited_at_.reset();
    }
    shown_before_ = face;
}

// For tests with a real mouse: names and places, and what the session says, whenever any of it has changed.
void App::write_widget_file() {
    if (options_.widget_file.empty()) return;
    std::string text = widget_lines(ui_);
    text += "=face\t" + std::to_string(fingerprint(session_->face().get())) + "\n";
    text += "=file\t" + session_->file().filename().string() + "\n";
    text += std::string("=unsaved\t") + (session_->changed_since_saved() ? "yes" : "no") + "\n";
    const bool current = session_->face_status().kind == FaceStatus::Kind::up_to_date;
    text += std::string("=current\t") + (current ? "yes" : "no") + "\n";
    if (text == widgets_written_) return;
    write_file_atomically(options_.widget_file, text);
    widgets_written_ = std::move(text);
}

int App::run() {
    while (!view_.quit) {
        take_events();
        if (session_ends_) {
            session_->keep_safe();
            break;
        }
        session_->tick(Session::Clock::now());
        take_notices();
        settle_swatches(studio_);
        settle_measures(studio_);
        if (script_ && !platform_.input_waiting() && frames_wanted_ == 0) {
            script_->advance(studio_, platform_.pixels_per_point(), frames_);
            if (const auto size = script_->take_resize()) platform_.set_size(size->first, size->second);
            if (script_->finished()) break;
            if (!script_->waiting()) frames_wanted_ = std::max(frames_wanted_, 1);
        }
        if (frames_wanted_ <= 0 && !platform_.input_waiting()) continue;
        mend_lost_graphics();
        frame();
        frames_wanted_ = std::max(0, frames_wanted_ - 1);
        prepare_ahead();
    }
    keep_page();
    if (options_.frame_log) std::printf("%s", frames_.words().c_str());
    if (script_) return script_->failed() ? 1 : 0;
    return 0;
}

// Nothing of the design is on the card; only the pictures of it are, and they go up again.
void App::mend_lost_graphics() {
    if (script_ && script_->take_lost_graphics()) platform_.lose_graphics();
    bool lost = false;
    try {
        lost = platform_.mend_lost_graphics();
    } catch (const std::exception&) {
        session_->keep_safe();
        throw;
    }
    if (!lost) return;
    note_graphics_lost();
    session_->add_notice({false, "The graphics card was reset; the studio goes on."});
    frames_wanted_ = frames_after_an_event;
}

void App::keep_page() {
    Settings& settings = session_->settings();
    const std::string page = all_pages()[std::min(view_.page, all_pages().size() - 1)].id;
    if (settings.known && settings.page == page) return;
    settings.page = page;
    session_->save_settings();
}

}  // namespace foreslice::studio
