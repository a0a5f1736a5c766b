#include "studio/session/session.h"

#include <algorithm>
#include <system_error>
#include <utility>

#include "design/design_file.h"
#include "design/shared_picture.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "studio/session/edits.h"
#include "studio/session/own_colourants.h"

namespace foreslice::studio {
namespace fs = std::filesystem;
namespace {

// Without the place in the file, which says nothing to somebody who sees the controls.
std::string sentence_of(const InputError& error) {
    std::string text = error.problem();
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
        text.front() = static_cast<char>(text.front() - 'a' + 'A');
    text += ".";
    if (!error.allowed().empty()) text += " Allowed: " + error.allowed() + ".";
    return text;
}

}  // namespace

Session::Session(Setup setup)
    : setup_(std::move(setup)), settings_(load_settings(setup_.state_folder)), settings_written_(settings_) {
    std::error_code ignored;  // a folder that cannot be made shows itself when something is written there
    fs::create_directories(setup_.state_folder, ignored);
    documents_.push_back(std::make_unique<Document>(starter_design()));
    now().seat = free_seat({}, nullptr);
    if (!setup_.make_drawer)
        setup_.make_drawer = [this](bool sketch) {
            return make_face_drawer(setup_.colour_library, sketch, setup_.threads);
        };
    jobs_ = std::make_unique<FaceJobs>(setup_.make_drawer(true), setup_.make_drawer(false), setup_.wake);
    document_changed(false);
}

// What was undone back to the file needs no copy; the next start would offer it in vain.
Session::~Session() {
    disk_.wait_until_idle();
    for (const auto& document : documents_) {
        if (document->autosave_due && !document->recovery && !changed(*document))
            remove_autosave(document->file, setup_.state_folder, document->seat.number);
        if (!document->board_due) continue;
        try {
            save_board(document->board, document->board_known,
                       board_file(document->file, setup_.state_folder, document->seat.number));
        } catch (const InputError&) {
            // The state folder cannot be written, which every earlier try has said.
        }
    }
}

void Session::edit(design::Design next, std::string label, std::string merge_key) {
    if (next == now().history.current()) return;
    now().history.edit(std::move(next), std::move(label), std::move(merge_key));
    document_changed();
}

void Session::undo() {
    if (!now().history.can_undo()) return;
    now().history.undo();
    document_changed();
}

void Session::redo() {
    if (!now().history.can_redo()) return;
    now().history.redo();
    document_changed();
}

void Session::document_changed(bool edited) {
    ++revision_;
    if (edited) now().autosave_due = true;
    fault_.clear();
    colours_.clear();
    warnings_.clear();
    try {
        design::validate(design());
        design::validate(design(), colour_library());
        colours_ = picture::portion_colours(design(), colour_library());
        warnings_ = design::warnings(design(), colour_library());
    } catch (const InputError& error) {
        fault_ = sentence_of(error);
    }
}

void Session::use_library(std::shared_ptr<const colour::ColourantLibrary> library) {
    setup_.colour_library = std::move(library);
    for (const auto& document : documents_) use_sent(*document, document->sent);
    document_changed(false);  // the document itself is the same
    order_face();
}

void Session::use_sent(Document& document, std::optional<colour::ColourantLibrary> sent) const {
    document.sent = std::move(sent);
    document.colour_library = document.sent ? std::make_shared<const colour::ColourantLibrary>(
                                                  design::with_sent(*setup_.colour_library, *document.sent))
                                            : nullptr;
}

// A design file does not hold the colourants that came with the design: the maker's library has to, or they
// would be missing when it is opened again. Returns what the maker should know.
std::string Session::settle_sent() {
    if (!now().sent || std::exchange(now().sent_settled, true)) return "";
    const CameWith came = came_with(*setup_.colour_library, *now().sent);
    if (!came.unknown.empty()) {
        use_library(std::make_shared<const colour::ColourantLibrary>(
            with_unknown(*setup_.colour_library, came, design().name)));
        disk_.run_errand([this, library = setup_.colour_library](Progress&) {
            try {
                change_own_colourants(own_colourants_file(setup_.state_folder), *library,
                                      [](const colour::ColourantLibrary& all) { return all; });
            } catch (const std::exception& error) {
                add_notice({true, std::string("The colourants that came with it cannot be kept: ") +
                                      error.what() + "."});
                setup_.wake();
            }
        });
    }
    return sentence_of(came);
}

void Session::see(const Seeing& seeing) {
    seeing_ = seeing;
    order_face();
}

std::shared_ptr<const MeasuredFace> Session::measures(bool& current) {
    auto found = jobs_->measures();
    const auto shown = face();
    current = found && shown && found->number == shown->number && ordered_revision_ == revision_;
    return found;
}

void Session::show(int bar, double px_per_mm, std::optional<double> z_mm) {
    if (z_mm) z_mm = std::clamp(*z_mm, 0.0, design().mould.length_mm);
    z_mm_ = z_mm;
    bar_ = fault_.empty() ? std::clamp(bar, 1, std::max(1, design::bar_count(design()))) : bar;
    px_per_mm_ = px_per_mm;
    shown_in_frame_ = true;
    order_face();
}

void Session::show_edited() {
    if (shown_in_frame_) show(bar_, px_per_mm_, z_mm_);
    shown_in_frame_ = false;
}

void Session::order_face() {
    if (!fault_.empty() || px_per_mm_ <= 0) return;
    if (ordered_revision_ == revision_ && ordered_bar_ == bar_ && ordered_px_per_mm_ == px_per_mm_ &&
        ordered_z_mm_ == z_mm_ && ordered_seeing_ == seeing_)
        return;
    ordered_revision_ = revision_;
    ordered_bar_ = bar_;
    ordered_px_per_mm_ = px_per_mm_;
    ordered_z_mm_ = z_mm_;
    ordered_seeing_ = seeing_;
    FaceOrder order{design(), bar_, px_per_mm_, z_mm_};
    order.colour_library = shared_library();
    order.seeing = seeing_;
    jobs_->order(std::move(order));
}

FaceStatus Session::face_status() const {
    FaceStatus status = jobs_->status();
    if (!fault_.empty()) {
        status.kind = FaceStatus::Kind::failed;
        status.problem = fault_;
        status.sketch = true;
    } else if (ordered_revision_ != revision_) {
        status.kind = FaceStatus::Kind::drawing;
        status.sketch = true;
    }
    return status;
}

void Session::document_replaced(fs::path file) {
    disk_.wait_until_idle();
    if (now().seat.number == 0 || now().file != file) sit_down(file);
    now().file = std::move(file);
    document_changed(false);
    now().autosave_due = false;
    now().recovery = find_recovery(design(), now().file, setup_.state_folder, now().seat.number);
    find_board();
    if (!now().file.empty()) remember_file(settings_, now().file);
    remember_open_files();
}

void Session::start_new(design::Design start) {
    now().history = design::History(std::move(start));
    document_replaced({});
}

void Session::open(const fs::path& file) {
    const FileStamp known = stamp_of(file);
    design::Design loaded = design::load(file);
    now().known = known;
    now().history = design::History(std::move(loaded));
    document_replaced(file);
}

void Session::save() {
    if (now().file.empty())
        throw InputError("", "", "This design has no file yet", "save it under a name first");
    const FileStamp there = stamp_of(now().file);
    const FileStamp& known = there == FileStamp{} ? there : now().known;  // taken away: nothing to write over
    saved_as(now().file, write_file_if_unchanged(now().file, design::to_json(design()), known));
}

void Session::save_as(const fs::path& file) {
    const std::string text = design::to_json(design());
    write_file_atomically(file, text);
    saved_as(file, FileStamp(text));
}

void Session::saved_as(const fs::path& file, const FileStamp& now_known) {
    now().known = now_known;
    disk_.wait_until_idle();  // else an older autosave could still land after the removal
    remove_autosave(now().file, setup_.state_folder, now().seat.number);
    forget_unnamed_board();
    if (now().file != file) {
        now().seat = free_seat(file, nullptr);
        now().board_known = board_at(board_file(file, setup_.state_folder));  // made way with its design
    }
    remove_autosave(file, setup_.state_folder, now().seat.number);
    now().file = file;
    now().board_due = now().board_due || !now().board.variants.empty();  // it goes along
    keep_board(now());
    now().history.mark_saved();
    now().autosave_due = false;
    remember_file(settings_, now().file);
    remember_open_files();
    const std::string about_colourants = settle_sent();
    add_notice({false, "Saved as " + now().file.filename().string() + "." +
                           (about_colourants.empty() ? "" : " " + about_colourants)});
}

void Session::export_picture(const fs::path& file, double px_per_mm) {
    if (!fault_.empty()) throw InputError("", "", fault_, "");
    {
        const std::lock_guard lock(notices_mutex_);
        ++pictures_being_written_;
    }
    const std::string path = file.string();
    FaceOrder order{design(), bar_, px_per_mm, z_mm_};
    order.colour_library = shared_library();
    jobs_->write_picture(std::move(order), path, [this, path](const std::string& problem) {
        const std::lock_guard lock(notices_mutex_);
        --pictures_being_written_;
        notices_.push_back(problem.empty() ? Notice{false, "The picture is written: " + path}
                                           : Notice{true, problem});
    });
}

int Session::pictures_being_written() const {
    const std::lock_guard lock(notices_mutex_);
    return pictures_being_written_;
}

void Session::take_recovery() {
    if (!now().recovery) return;
    if (now().recovery->sent) use_sent(now(), std::move(now().recovery->sent));
    // Kept as an edit of the file's own content, so that undo leads back to what the file says.
    edit(std::move(now().recovery->design), "bring back unsaved work");
    now().history.close_step();
    now().recovery.reset();
    now().autosave_due = false;
}

void Session::refuse_recovery() {
    now().recovery.reset();
    discard_autosave();
}

void Session::discard_autosave() {
    disk_.wait_until_idle();
    remove_autosave(now().file, setup_.state_folder, now().seat.number);
    now().autosave_due = false;
}

void Session::add_notice(Notice notice) {
    const std::lock_guard lock(notices_mutex_);
    notices_.push_back(std::move(notice));
}

void Session::save_settings() {
    disk_.run_errand(
        [mine = settings_, before = std::exchange(settings_written_, settings_),
         folder = setup_.state_folder](Progress&) { save_settings_beside_others(mine, before, folder); });
}

std::vector<Notice> Session::take_notices() {
    const std::lock_guard lock(notices_mutex_);
    return std::exchange(notices_, {});
}

void Session::look_for_other_windows() {
    std::vector<OtherWindows::Mine> mine;
    for (const auto& document : documents_)
        if (!document->file.empty()) mine.push_back({document->file, document->seat.number});
    if (mine.empty()) return;
    disk_.run_errand([this, mine = std::move(mine)](Progress&) {
        const auto news = other_windows_.news(mine, setup_.state_folder);
        for (const auto& file : news)
            add_notice({true, file.filename().string() +
                                  " was opened in another window too. Whichever saves second has to take "
                                  "another name; nothing is written over."});
        if (!news.empty()) setup_.wake();
    });
}

void Session::tick(Clock::time_point time) {
    constexpr std::chrono::seconds between_looks{2};
    if (time - last_look_ >= between_looks) {
        last_look_ = time;
        look_for_other_windows();
    }
    if ((now().board_due || board_again_) && time - last_board_ >= setup_.autosave_every) {
        last_board_ = time;
        if (board_again_.exchange(false)) now().board_due = true;
        keep_board(now());
    }
    if (time - last_autosave_ < setup_.autosave_every) return;
    note_failed_autosaves();
    bool any = false;
    for (const auto& document : documents_) {
        any = any || (document->autosave_due && !document->recovery);
        autosave(*document);
    }
    if (any) last_autosave_ = time;
}

void Session::note_failed_autosaves() {
    if (!autosave_again_.exchange(false)) return;
    for (const auto& document : documents_)
        if (changed(*document)) document->autosave_due = true;
}

void Session::keep_safe() {
    disk_.wait_until_idle();
    note_failed_autosaves();
    for (const auto& document : documents_) {
        autosave(*document);
        keep_board(*document);
    }
    disk_.wait_until_idle();
}

// Not while a copy is offered that may still be wanted.
void Session::autosave(Document& document) {
    if (document.recovery || !std::exchange(document.autosave_due, false)) return;
    if (!changed(document)) {
        disk_.run_errand([file = document.file, seat = document.seat.number,
                          folder = setup_.state_folder](Progress&) { remove_autosave(file, folder, seat); });
        return;
    }
    disk_.run_errand([this, copy = document.history.current(),
                      sent = document.file.empty() ? document.sent : std::nullopt, file = document.file,
                      seat = document.seat.number](Progress&) {
        try {
            if (sent) write_sent(*sent, setup_.state_folder, seat);
            write_autosave(copy, file, setup_.state_folder, seat);
            trouble_told_ = false;
        } catch (const std::exception& error) {
            autosave_failed(error.what());
        }
    });
}

// A disk that is full now may have room again in a minute, whether or not anything is edited until then.
void Session::autosave_failed(const std::string& why) {
    autosave_again_ = true;
    if (trouble_told_.exchange(true)) return;
    add_notice(
        {true, "Unsaved work cannot be kept safe: " + why + ". It is tried again; save it elsewhere."});
    setup_.wake();
}

}  // namespace foreslice::studio
