// Several designs open side by side: the part of the session that is about which one is looked at.
#include <algorithm>
#include <system_error>
#include <utility>

#include "design/design_file.h"
#include "design/shared_picture.h"
#include "foundation/error.h"
#include "studio/session/edits.h"
#include "studio/session/own_colourants.h"
#include "studio/session/session.h"

namespace foreslice::studio {
namespace fs = std::filesystem;
namespace {

bool same_file(const fs::path& a, const fs::path& b) {
    std::error_code error;
    return !a.empty() && !b.empty() && (a == b || fs::equivalent(a, b, error));
}

}  // namespace

std::vector<Session::Open> Session::documents() const {
    std::vector<Open> out;
    for (const auto& document : documents_)
        out.push_back({document->history.current().name, document->file, changed(*document)});
    return out;
}

bool Session::untouched() const {
    return now().file.empty() && !now().history.can_undo() && !now().history.can_redo() && !now().recovery &&
           now().board.variants.empty();
}

// Where the system keeps no names, this window at least knows its own documents.
std::optional<Seat> Session::seat_at(const fs::path& file, int number) const {
    for (const auto& document : documents_)
        if (document->seat.number == number && (document->file == file || same_file(document->file, file)))
            return std::nullopt;
    return take_seat(file, setup_.state_folder, number);
}

Seat Session::free_seat(const fs::path& file, const design::Design* left_behind) const {
    Seat free;
    const int most = file.empty() ? most_unnamed : most_seats_of_a_file;
    for (int number = 1; number <= most; ++number) {
        auto seat = seat_at(file, number);
        if (!seat) continue;
        if (!left_behind || find_recovery(*left_behind, file, setup_.state_folder, number))
            return std::move(*seat);
        if (free.number == 0) free = std::move(*seat);
    }
    if (free.number == 0) free.number = most;  // shared, as a last resort
    return free;
}

void Session::sit_down(const fs::path& file) {
    now().seat = {};
    const bool elsewhere = !file.empty() && open_somewhere(file, setup_.state_folder);
    now().seat = free_seat(file, file.empty() ? nullptr : &design());
    if (!elsewhere) return;
    disk_.run_errand([this, file](Progress&) { other_windows_.told(file); });
    add_notice({true, file.filename().string() +
                          " is open in another window as well. Whichever saves second has to take another "
                          "name; nothing is written over."});
}

bool Session::open_elsewhere(const fs::path& file) const {
    const auto mine = std::any_of(documents_.begin(), documents_.end(),
                                  [&](const auto& document) { return same_file(document->file, file); });
    return !mine && open_somewhere(file, setup_.state_folder);
}

void Session::look_at(std::size_t document) {
    if (document >= documents_.size() || document == at_) return;
    now().history.close_step();
    keep_board(now());
    autosave(now());
    at_ = document;
    document_changed(false);
}

void Session::add_document(std::unique_ptr<Document> document) {
    now().history.close_step();
    keep_board(now());
    autosave(now());
    if (untouched()) {
        documents_[at_] = std::move(document);
    } else {
        documents_.push_back(std::move(document));
        at_ = documents_.size() - 1;
    }
    document_replaced(now().file);
}

bool Session::look_at_open(const fs::path& file) {
    for (std::size_t i = 0; i < documents_.size(); ++i)
        if (same_file(documents_[i]->file, file)) {
            look_at(i);
            return true;
        }
    return false;
}

void Session::open_beside(const fs::path& file) {
    if (look_at_open(file)) return;
    const FileStamp known = stamp_of(file);
    auto document = std::make_unique<Document>(design::load(file));
    document->file = file;
    document->known = known;
    add_document(std::move(document));
}

void Session::add_member(const design::Collection& collection, const design::CollectionMember& member,
                         const std::optional<colour::ColourantLibrary>& sent) {
    const fs::path file = collection.path_of(member.file);
    if (look_at_open(file)) return;
    const FileStamp known = stamp_of(file);
    auto document = std::make_unique<Document>(design::load_member(collection, member));
    use_sent(*document, sent);
    document->file = file;
    document->known = known;
    add_document(std::move(document));
}

void Session::open_collection(const fs::path& file) {
    const design::Collection collection = design::load_collection(file);
    std::optional<colour::ColourantLibrary> sent;
    if (!collection.colourants.empty()) {
        auto theirs = colour::ColourantLibrary::load(collection.path_of(collection.colourants).string());
        const CameWith came = came_with(*setup_.colour_library, theirs);
        if (came.other_base || !came.other_names.empty() || !came.unknown.empty()) sent = std::move(theirs);
    }
    std::optional<fs::path> first;
    std::size_t opened = 0;
    std::string trouble;
    for (const auto& member : collection.members) {
        try {
            add_member(collection, member, sent);
            ++opened;
            if (!first) first = now().file;
        } catch (const InputError& error) {
            if (trouble.empty()) trouble = error.what();
        }
    }
    if (!first)
        throw InputError(file.string(), "/designs", "none of its designs can be opened: " + trouble,
                         "at least one design file beside the collection");
    look_at_open(*first);
    std::string words = std::to_string(opened) + (opened == 1 ? " design of " : " designs of ") +
                        collection.name + (opened == 1 ? " is open." : " are open.");
    if (!trouble.empty()) words += " Not all: " + trouble;
    add_notice({!trouble.empty(), std::move(words)});
}

void Session::start_beside(design::Design start, const std::optional<colour::ColourantLibrary>& sent) {
    auto document = std::make_unique<Document>(std::move(start));
    use_sent(*document, sent);
    document->begun = true;
    add_document(std::move(document));
}

void Session::open_shared_picture(const fs::path& picture) {
    auto opened = design::open_design(picture);
    std::string words = "Opened from the picture as a new design.";
    CameWith came;
    if (opened.colourants) came = came_with(*setup_.colour_library, *opened.colourants);
    if (came.other_base || !came.other_names.empty())
        words += " Its own colourants are used for it while it is open, not yours.";
    start_beside(std::move(opened.design), opened.colourants);
    add_notice({false, std::move(words)});
}

void Session::open_whatever(const fs::path& file) {
    if (design::is_picture(file))
        open_shared_picture(file);
    else if (design::is_collection(file))
        open_collection(file);
    else
        open_beside(file);
}

void Session::give_up_changes() {
    discard_autosave();
    now().history.mark_saved();
    if (now().file.empty()) {
        forget_unnamed_board();
        now().board = {};
        now().board_due = false;
        now().board_stamp = ++board_stamps_;
    }
}

void Session::put_away() {
    keep_board(now());
    disk_.wait_until_idle();
    forget_unnamed_board();
    if (documents_.size() == 1) {
        now().file.clear();
        start_new(starter_design());
        return;
    }
    documents_.erase(documents_.begin() + static_cast<std::ptrdiff_t>(at_));
    at_ = std::min(at_, documents_.size() - 1);
    document_changed(false);
    remember_open_files();
}

void Session::open_left_behind() {
    for (int number = 2; number < most_unnamed; ++number) {
        const auto copy = autosave_beside({}, setup_.state_folder, number);
        std::error_code error;
        if (!fs::is_regular_file(copy, error)) continue;
        auto seat = seat_at({}, number);
        if (!seat) continue;  // another window's, and not left behind
        auto document = std::make_unique<Document>(starter_design());
        document->seat = std::move(*seat);
        const std::size_t looked_at = at_;
        documents_.push_back(std::move(document));
        at_ = documents_.size() - 1;
        document_replaced({});
        take_recovery();
        at_ = looked_at;
        document_changed(false);
    }
}

void Session::remember_open_files() {
    std::erase_if(settings_.open, [&](const fs::path& file) { return !open_elsewhere(file); });
    for (const auto& document : documents_) {
        std::error_code error;
        if (!document->file.empty()) settings_.open.push_back(fs::absolute(document->file, error));
    }
    save_settings();
}

}  // namespace foreslice::studio
