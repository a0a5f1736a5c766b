// The open designs without any window: each with its history, its file and its autosave; one of them is
// looked at, and faces are drawn of it. Everything the window shows comes from here and everything it does
// goes through here.
#pragma once

#include <atomic>
#include <chrono>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "colour/pigment.h"
#include "design/collection.h"
#include "design/design.h"
#include "design/history.h"
#include "design/validation.h"
#include "foundation/file_stamp.h"
#include "studio/session/autosave.h"
#include "studio/session/board.h"
#include "studio/session/face_jobs.h"
#include "studio/session/settings.h"
#include "studio/session/windows.h"

namespace foreslice::studio {

/// A sentence for the person, shown for a while.
struct Notice {
    bool trouble = false;
    std::string sentence;
};

class Session {
  public:
    using Clock = std::chrono::steady_clock;

    struct Setup {
        std::shared_ptr<const colour::ColourantLibrary> colour_library;
        std::filesystem::path state_folder;  ///< settings, autosave of designs without a file
        std::function<void()> wake = [] {};  ///< called from any thread when there is something new to show
        unsigned threads = 0;                ///< for drawing; 0: as many as the machine has
        std::chrono::milliseconds autosave_every{3000};
        /// Makes the two drawers; empty: the real ones.
        std::function<std::unique_ptr<FaceDrawer>(bool sketch)> make_drawer;
    };

    explicit Session(Setup setup);
    ~Session();

    const design::Design& design() const { return now().history.current(); }
    /// Of the design that is looked at: the maker's own, with what came with the design in its place.
    const colour::ColourantLibrary& colour_library() const { return *shared_library(); }
    /// The same for work on another thread.
    std::shared_ptr<const colour::ColourantLibrary> shared_library() const {
        return now().colour_library ? now().colour_library : setup_.colour_library;
    }
    std::shared_ptr<const colour::ColourantLibrary> own_library() const { return setup_.colour_library; }
    /// Call it, from any thread, when there is something new to show.
    const std::function<void()>& waker() const { return setup_.wake; }
    unsigned threads() const { return setup_.threads; }
    /// Another library of the maker's own at once, for everything that is shown.
    void use_library(std::shared_ptr<const colour::ColourantLibrary> library);
    /// In which light and by whose eyes the faces are shown.
    const Seeing& seeing() const { return seeing_; }
    void see(const Seeing& seeing);
    /// Grows whenever design() becomes another one.
    std::uint64_t revision() const { return revision_; }

    /// Edits with the same non-empty `merge_key` in a row make one undo step; an edit that changes nothing is
    /// none.
    void edit(design::Design next, std::string label, std::string merge_key = {});
    void close_step() { now().history.close_step(); }
    bool can_undo() const { return now().history.can_undo(); }
    bool can_redo() const { return now().history.can_redo(); }
    std::string undo_label() const { return now().history.undo_label(); }
    std::string redo_label() const { return now().history.redo_label(); }
    void undo();
    void redo();

    /// Why the design cannot be made as it stands; empty when it can.
    const std::string& fault() const { return fault_; }
    const std::vector<design::Warning>& warnings() const { return warnings_; }
    /// One a portion, in order; empty while a colourant is unknown.
    const std::vector<colour::PortionColour>& colours() const { return colours_; }

    /// Which face the window wants, and how large. Cheap to call every frame.
    void show(int bar, double px_per_mm, std::optional<double> z_mm = std::nullopt);
    /// After all of a frame is built: what was edited since show() need not wait for the next frame's. Does
    /// nothing where the face was not asked for in this one.
    void show_edited();
    int bar() const { return bar_; }
    std::shared_ptr<const DrawnFace> face() const { return jobs_->shown(); }
    FaceStatus face_status() const;
    /// Ask for measures while they are shown; the last ones there are, and whether they are of this face.
    std::shared_ptr<const MeasuredFace> measures(bool& current);
    void want_measures(bool wanted) { jobs_->want_measures(wanted); }

    /// Stops drawing and writing pictures; the next edit, or go_on(), draws again.
    void stop_drawing() { jobs_->cancel(); }
    void go_on() { ordered_revision_ = 0; }

    const std::filesystem::path& file() const { return now().file; }
    /// Also variants on the board of a design that has no file yet: they would go with it.
    bool changed_since_saved() const { return changed(now()); }

    /// The compare board of the design that is looked at: kept with it, untouched by undo and redo.
    const Board& board() const { return now().board; }
    /// Another one whenever board() becomes another one.
    std::uint64_t board_stamp() const { return now().board_stamp; }
    void change_board(Board next);
    /// Puts a variant in the place of the design, as one step of undo.
    void take_variant(int number);
    /// Writes the design into a file of its own beside a collection and adds it there; made by a job thread,
    /// a notice says what came of it.
    void send_to_collection(design::Design design, const std::filesystem::path& collection);

    /// The open designs; the one looked at is at().
    struct Open {
        std::string name;
        std::filesystem::path file;
        bool changed = false;
    };
    std::vector<Open> documents() const;
    std::size_t at() const { return at_; }
    std::uint64_t document_id() const { return now().id; }  ///< of the one looked at; never given again
    /// Looks at another of them; its undo and redo are as they were left.
    void look_at(std::size_t document);
    /// Opens a design, or begins one, beside those that are open, and looks at it. A file that is open
    /// already is looked at. Nothing stays of a design that nobody has touched yet. Throws as open() does.
    void open_beside(const std::filesystem::path& file);
    /// Opens a design file, all of a collection, or what a picture carries: as a new design then, since
    /// saving must not write over the picture. Throws InputError.
    void open_whatever(const std::filesystem::path& file);
    /// Opens the designs of a collection beside each other, as the collection's defaults and colourants make
    /// them, and looks at the first. A design that cannot be read is left out and a notice says why; throws
    /// InputError when the collection cannot be read, or none of its designs.
    void open_collection(const std::filesystem::path& file);
    /// `sent`: the colourants that came with the design; used in the place of the maker's own while it is
    /// open.
    void start_beside(design::Design start,
                      const std::optional<colour::ColourantLibrary>& sent = std::nullopt);
    /// The changes of the one looked at count as dealt with: it is to be left without saving.
    void give_up_changes();
    /// Puts the one looked at away, changed or not; the last one gives way to a new design.
    void put_away();
    /// Designs without a file that a crash left behind, beyond the one that is open: opens each beside.
    void open_left_behind();

    void start_new(design::Design start);
    /// Throws InputError and keeps the present document when the file cannot be read.
    void open(const std::filesystem::path& file);
    /// To file(). Throws InputError, also when somebody else wrote it since; nothing is lost then.
    void save();
    void save_as(const std::filesystem::path& file);
    /// Written by a job thread; a notice says when it is there.
    void export_picture(const std::filesystem::path& file, double px_per_mm);
    int pictures_being_written() const;

    /// Work found in an autosave of the document just opened; cleared by the two calls below.
    const std::optional<Recovered>& recovery() const { return now().recovery; }
    void take_recovery();
    void refuse_recovery();

    Settings& settings() { return settings_; }
    const std::filesystem::path& state_folder() const { return setup_.state_folder; }
    /// On a thread; what other windows remember stays.
    void save_settings();
    /// Whether another window has it open.
    bool open_elsewhere(const std::filesystem::path& file) const;
    std::vector<Notice> take_notices();
    void add_notice(Notice notice);

    /// To be called at least once a second: autosaves what has changed.
    void tick(Clock::time_point now);
    /// Autosaves at once what has changed in any of them, with the boards, and waits until it is on disk: the
    /// program is about to end without being asked.
    void keep_safe();
    /// Waits until an autosave that is being written is on disk (for tests and for the end).
    void finish_writing() { disk_.wait_until_idle(); }
    /// The person leaves on purpose, knowing that unsaved changes are lost: no copy stays behind.
    void discard_autosave();

  private:
    struct Document {
        explicit Document(design::Design start) : history(std::move(start)) {
            static std::uint64_t made = 0;
            id = ++made;
        }
        std::uint64_t id = 0;
        design::History history;
        std::filesystem::path file;
        FileStamp known;  ///< what the file held when it was opened or saved
        std::optional<Recovered> recovery;
        Seat seat;                  ///< among the windows and documents that keep copies of the same design
        bool autosave_due = false;  ///< changed since it was last kept safe
        Board board;
        Board board_known;  ///< what this window last read of its file or wrote there
        bool board_due = false;
        std::uint64_t board_stamp = 0;
        std::optional<colour::ColourantLibrary> sent;  ///< came with the design
        bool sent_settled = false;  ///< what of it the maker has not is among the maker's own
        std::shared_ptr<const colour::ColourantLibrary>
            colour_library;  ///< the maker's own with that in it; may be null
        bool begun = false;  ///< just now, by the maker: no board of an older one belongs to it
    };
    static bool changed(const Document& document) {
        return document.history.changed_since_saved() ||
               (document.file.empty() && !document.board.variants.empty());
    }
    void find_board();
    /// Both write what is due, behind whatever is being written.
    void keep_board(Document& document);
    void autosave(Document& document);
    void forget_unnamed_board();
    Document& now() { return *documents_[at_]; }
    const Document& now() const { return *documents_[at_]; }
    void use_sent(Document& document, std::optional<colour::ColourantLibrary> sent) const;
    std::string settle_sent();
    bool untouched() const;
    /// `left_behind`: rather one whose copy differs from this design, which the file holds.
    Seat free_seat(const std::filesystem::path& file, const design::Design* left_behind) const;
    std::optional<Seat> seat_at(const std::filesystem::path& file, int number) const;
    void sit_down(const std::filesystem::path& file);
    void add_document(std::unique_ptr<Document> document);
    bool look_at_open(const std::filesystem::path& file);
    void open_shared_picture(const std::filesystem::path& picture);
    void add_member(const design::Collection& collection, const design::CollectionMember& member,
                    const std::optional<colour::ColourantLibrary>& sent);
    void remember_open_files();
    void note_failed_autosaves();
    void look_for_other_windows();
    void autosave_failed(const std::string& why);
    void saved_as(const std::filesystem::path& file, const FileStamp& now_known);
    void document_changed(bool edited = true);
    void document_replaced(std::filesystem::path file);
    void order_face();

    Setup setup_;
    std::vector<std::unique_ptr<Document>> documents_;
    std::size_t at_ = 0;
    std::uint64_t revision_ = 1, board_stamps_ = 0;
    Clock::time_point last_autosave_{}, last_board_{}, last_look_{};
    std::atomic<bool> autosave_again_{false};  ///< the last could not be written
    std::atomic<bool> board_again_{false};     ///< the same of a board
    std::atomic<bool> trouble_told_{false};    ///< once is enough until it works again

    std::string fault_;
    std::vector<design::Warning> warnings_;
    std::vector<colour::PortionColour> colours_;

    int bar_ = 1;
    bool shown_in_frame_ = false;
    double px_per_mm_ = 0;
    std::optional<double> z_mm_;  ///< where the loaf is cut, when not at the bar's face
    std::uint64_t ordered_revision_ = 0;
    int ordered_bar_ = 0;
    double ordered_px_per_mm_ = 0;
    std::optional<double> ordered_z_mm_;
    Seeing seeing_, ordered_seeing_;

    Settings settings_, settings_written_;
    mutable std::mutex notices_mutex_;
    std::vector<Notice> notices_;
    int pictures_being_written_ = 0;
    OtherWindows other_windows_;  ///< belongs to the thread of the disk

    // Last, so that their threads end before anything they use.
    std::unique_ptr<FaceJobs> jobs_;
    Worker disk_{Urgency::now};  // the window waits for it before a file changes places
};

}  // namespace foreslice::studio
