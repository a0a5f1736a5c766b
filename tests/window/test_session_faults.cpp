// The session when the disk does not play along: another window wrote the file, there is no room for a copy.
#include <doctest/doctest.h>

#include <filesystem>

#include "design/design_file.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "stand_in_drawer.h"
#include "studio/session/session.h"

#if !defined(_WIN32)
#include <sys/resource.h>

#include <csignal>
#endif

using namespace foreslice;
using namespace foreslice::studio;
using namespace foreslice::studio::testing;
namespace fs = std::filesystem;

namespace {

// A folder of its own that goes away with the test, with one design in it.
struct Evening {
    fs::path folder, file;
    DrawerLog log;
    Session session;

    Evening() : folder(own_folder()), file(copied(folder)), session(setup()) { session.open(file); }
    ~Evening() {
        std::error_code ignored;
        fs::remove_all(folder, ignored);
    }
    Evening(const Evening&) = delete;
    Evening& operator=(const Evening&) = delete;

    void edit(const std::string& name) {
        auto design = session.design();
        design.name = name;
        session.edit(std::move(design), "name");
    }
    std::string on_disk() const { return design::load(file).name; }

    /// Lets the time for an autosave pass; what was said of it.
    std::vector<Notice> pass() {
        session.tick(Session::Clock::now());
        session.finish_writing();
        return session.take_notices();
    }

  private:
    static fs::path own_folder() {
        const auto now = std::chrono::steady_clock::now().time_since_epoch().count();
        const auto path = fs::temp_directory_path() / ("foreslice-evening-" + std::to_string(now));
        fs::create_directories(path);
        return path;
    }
    static fs::path copied(const fs::path& folder) {
        const auto copy = folder / "quick.foreslice.json";
        fs::copy_file(FORESLICE_TEST_DATA "/window/quick.foreslice.json", copy);
        return copy;
    }
    Session::Setup setup() {
        Session::Setup setup;
        setup.colour_library = std::make_shared<colour::ColourantLibrary>(
            colour::ColourantLibrary::load(FORESLICE_SOURCE "/palettes/colourants.json"));
        setup.state_folder = folder / "state";
        setup.autosave_every = std::chrono::milliseconds(0);
        setup.make_drawer = [this](bool sketch) { return std::make_unique<StandInDrawer>(log, sketch); };
        return setup;
    }
};

std::string refusal(Session& session) {
    try {
        session.save();
        return "";
    } catch (const InputError& error) {
        return error.what();
    }
}

#if !defined(_WIN32)
// No file can grow beyond some bytes: the nearest thing to a full disk that needs no disk.
struct NoRoom {
    rlimit before{};
    NoRoom() {
        std::signal(SIGXFSZ, SIG_IGN);
        getrlimit(RLIMIT_FSIZE, &before);
        const rlimit little{64, before.rlim_max};
        setrlimit(RLIMIT_FSIZE, &little);
    }
    ~NoRoom() { setrlimit(RLIMIT_FSIZE, &before); }
    NoRoom(const NoRoom&) = delete;
    NoRoom& operator=(const NoRoom&) = delete;
};
#endif

}  // namespace

TEST_CASE("another window wrote the file: saving over it is refused, nothing of either is lost") {
    Evening evening;
    auto theirs = design::load(evening.file);
    theirs.name = "Theirs";
    design::save(theirs, evening.file);
    evening.edit("Ours");
    const std::string said = refusal(evening.session);
    CHECK_MESSAGE(said.find("was changed since it was opened here") != std::string::npos, said);
    CHECK(evening.on_disk() == "Theirs");
    CHECK(evening.session.changed_since_saved());
    CHECK(evening.session.design().name == "Ours");
    evening.session.save_as(evening.folder / "ours.foreslice.json");
    CHECK(evening.on_disk() == "Theirs");
    CHECK(design::load(evening.folder / "ours.foreslice.json").name == "Ours");
    evening.edit("Ours again");
    CHECK(refusal(evening.session).empty());  // the file is ours now
    evening.edit("And again");
    CHECK(refusal(evening.session).empty());
}

TEST_CASE("a file that was taken away is written again, and one written the same is no stranger's") {
    Evening evening;
    evening.edit("Ours");
    fs::remove(evening.file);
    CHECK(refusal(evening.session).empty());
    CHECK(evening.on_disk() == "Ours");
    write_file_atomically(evening.file, read_file(evening.file));  // only touched
    evening.edit("Later");
    CHECK(refusal(evening.session).empty());
    CHECK(evening.on_disk() == "Later");
}

#if !defined(_WIN32)
TEST_CASE(
    "no room on the disk: saving says so, work stays unsaved, and its copy is tried until there is room") {
    Evening evening;
    const std::string before = read_file(evening.file);
    const fs::path copy = autosave_beside(evening.file, evening.folder / "state");
    evening.edit("Unsaved");
    {
        const NoRoom none;
        const auto notices = evening.pass();
        REQUIRE(notices.size() == 1);
        CHECK(notices[0].trouble);
        CHECK_MESSAGE(notices[0].sentence.find("Unsaved work cannot be kept safe") != std::string::npos,
                      notices[0].sentence);
        CHECK_MESSAGE(notices[0].sentence.find("File too large") != std::string::npos, notices[0].sentence);
        CHECK(evening.pass().empty());  // said once
        const std::string said = refusal(evening.session);
        CHECK_MESSAGE(said.find("cannot be written") != std::string::npos, said);
        CHECK(read_file(evening.file) == before);
        CHECK(evening.session.changed_since_saved());
        CHECK_FALSE(fs::exists(copy));
    }
    CHECK(evening.pass().empty());  // there is room again; nothing was edited meanwhile
    REQUIRE(fs::exists(copy));
    CHECK(design::load(copy).name == "Unsaved");
    CHECK(refusal(evening.session).empty());
    CHECK(evening.on_disk() == "Unsaved");
    CHECK_FALSE(fs::exists(copy));
}
#endif
