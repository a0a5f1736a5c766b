#include "studio/session/session.h"

#include <algorithm>
#include <system_error>
#include <utility>

#include "design/design_file.h"
#include "foundation/error.h"
#include "studio/session/edits.h"

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
    : setup_(std::move(setup)), history_(starter_design()), settings_(load_settings(setup_.state_folder)) {
    std::error_code ignored;  // a folder that cannot be made shows itself when something is written there
    fs::create_directories(setup_.state_folder, ignored);
    if (!setup_.make_drawer)
        setup_.make_drawer = [this](bool sketch) {
            return make_face_drawer(setup_.library, sketch, setup_.threads);
        };
    jobs_ = std::make_unique<FaceJobs>(setup_.make_drawer(true), setup_.make_drawer(false), setup_.wake);
    document_changed();
}

Session::~Session() = default;

void Session::edit(design::Design next, std::string label, std::string merge_key) {
    if (next == history_.current()) return;
    history_.edit(std::move(next), std::move(label), std::move(merge_key));
    document_changed();
}

void Session::undo() {
    if (!history_.can_undo()) return;
    history_.undo();
    document_changed();
}

void Session::redo() {
    if (!history_.can_redo()) return;
    history_.redo();
    document_changed();
}

void Session::document_changed() {
    ++revision_;
    fault_.clear();
    colours_.clear();
    warnings_.clear();
    try {
        design::validate(design());
        design::validate(design(), *setup_.library);
        colours_ = picture::portion_colours(design(), *setup_.library);
        warnings_ = design::warnings(design(), *setup_.library);
    } catch (const InputError& error) {
        fault_ = sentence_of(error);
    }
}

void Session::show(int bar, double px_per_mm, std::optional<double> z_mm) {
    if (z_mm) z_mm = std::clamp(*z_mm, 0.0, design().mould.length_mm);
    z_mm_ = z_mm;
    bar_ = fault_.empty() ? std::clamp(bar, 1, std::max(1, design::bar_count(design()))) : bar;
    px_per_mm_ = px_per_mm;
    order_face();
}

void Session::order_face() {
    if (!fault_.empty() || px_per_mm_ <= 0) return;
    if (ordered_revision_ == revision_ && ordered_bar_ == bar_ && ordered_px_per_mm_ == px_per_mm_ &&
        ordered_z_mm_ == z_mm_)
        return;
    ordered_revision_ = revision_;
    ordered_bar_ = bar_;
    ordered_px_per_mm_ = px_per_mm_;
    ordered_z_mm_ = z_mm_;
    jobs_->order({design(), bar_, px_per_mm_, z_mm_});
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
    file_ = std::move(file);
    document_changed();
    autosaved_revision_ = revision_;
    recovery_ = find_recovery(design(), file_, setup_.state_folder);
    if (!file_.empty()) {
        remember_file(settings_, file_);
        save_settings();
    }
}

void Session::start_new(design::Design start) {
    history_ = design::History(std::move(start));
    document_replaced({});
}

void Session::open(const fs::path& file) {
    design::Design loaded = design::load(file);
    history_ = design::History(std::move(loaded));
    document_replaced(file);
}

void Session::save() {
    if (file_.empty()) throw InputError("", "", "This design has no file yet", "save it under a name first");
    save_as(file_);
}

void Session::save_as(const fs::path& file) {
    design::save(design(), file);
    disk_.wait_until_idle();  // else an older autosave could still land after the removal
    remove_autosave(file_, setup_.state_folder);
    remove_autosave(file, setup_.state_folder);
    file_ = file;
    history_.mark_saved();
    autosaved_revision_ = revision_;
    remember_file(settings_, file_);
    save_settings();
    add_notice({false, "Saved as " + file_.filename().string() + "."});
}

void Session::export_picture(const fs::path& file, double px_per_mm) {
    if (!fault_.empty()) throw InputError("", "", fault_, "");
    {
        const std::lock_guard lock(notices_mutex_);
        ++pictures_being_written_;
    }
    const std::string path = file.string();
    jobs_->write_picture({design(), bar_, px_per_mm, z_mm_}, path, [this, path](const std::string& problem) {
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
    if (!recovery_) return;
    // Kept as an edit of the file's own content, so that undo leads back to what the file says.
    edit(std::move(recovery_->design), "bring back unsaved work");
    history_.close_step();
    recovery_.reset();
    autosaved_revision_ = revision_;
}

void Session::refuse_recovery() {
    recovery_.reset();
    discard_autosave();
}

void Session::discard_autosave() {
    disk_.wait_until_idle();
    remove_autosave(file_, setup_.state_folder);
    autosaved_revision_ = revision_;
}

void Session::add_notice(Notice notice) {
    const std::lock_guard lock(notices_mutex_);
    notices_.push_back(std::move(notice));
}

std::vector<Notice> Session::take_notices() {
    const std::lock_guard lock(notices_mutex_);
    return std::exchange(notices_, {});
}

void Session::tick(Clock::time_point now) {
    if (recovery_) return;  // the copy on disk is still being offered
    if (autosaved_revision_ == revision_ || now - last_autosave_ < setup_.autosave_every) return;
    last_autosave_ = now;
    autosaved_revision_ = revision_;
    if (!changed_since_saved()) {
        disk_.post(
            [file = file_, folder = setup_.state_folder](Progress&) { remove_autosave(file, folder); });
        return;
    }
    disk_.post([this, copy = design(), file = file_](Progress&) {
        try {
            write_autosave(copy, file, setup_.state_folder);
        } catch (const std::exception& error) {
            add_notice({true, std::string("Unsaved work cannot be kept safe: ") + error.what()});
            setup_.wake();
        }
    });
}

}  // namespace foreslice::studio
