// An evening's work without a window: edits, undo, faces, files, autosave and recovery.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

#include "design/design_file.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "stand_in_drawer.h"
#include "studio/session/edits.h"
#include "studio/session/session.h"

using namespace foreslice;
using namespace foreslice::studio;
using namespace foreslice::studio::testing;
namespace fs = std::filesystem;

namespace {

// A folder of its own that goes away with the test.
struct Folder {
    fs::path path;
    Folder() {
        static int count = 0;
        path = fs::temp_directory_path() /
               ("foreslice-session-" +
                std::to_string(std::chrono::steady_clock::now().time_since_epoch().count()) + "-" +
                std::to_string(count++));
        fs::create_directories(path);
    }
    ~Folder() {
        std::error_code ignored;
        fs::remove_all(path, ignored);
    }
    fs::path copy_of_quick() const {
        const auto copy = path / "quick.foreslice.json";
        fs::copy_file(FORESLICE_TEST_DATA "/window/quick.foreslice.json", copy);
        return copy;
    }
};

Session::Setup setup_in(const Folder& folder, DrawerLog* log = nullptr) {
    Session::Setup setup;
    setup.colour_library = std::make_shared<colour::ColourantLibrary>(
        colour::ColourantLibrary::load(FORESLICE_SOURCE "/palettes/colourants.json"));
    setup.state_folder = folder.path / "state";
    setup.autosave_every = std::chrono::milliseconds(0);
    if (log) setup.make_drawer = [log](bool sketch) { return std::make_unique<StandInDrawer>(*log, sketch); };
    return setup;
}

bool up_to_date(const Session& session) {
    return session.face_status().kind == FaceStatus::Kind::up_to_date;
}

void autosave_now(Session& session) {
    session.tick(Session::Clock::now());
    session.finish_writing();
}

}  // namespace

TEST_CASE("an edit of the real thing: a dose repaints the face without touching the flow") {
    Folder folder;
    Session session(setup_in(folder));
    session.open(folder.copy_of_quick());
    session.show(2, 3);
    REQUIRE(becomes_true([&] { return up_to_date(session); }));
    const auto before = session.face();
    REQUIRE(before->drawn.image.width_px == 135);
    session.edit(with_white(session.design(), 0, 20), "white");
    session.show(2, 3);
    CHECK(!up_to_date(session));
    REQUIRE(becomes_true([&] { return up_to_date(session); }));
    const auto after = session.face();
    CHECK(after->drawn.image.rgba != before->drawn.image.rgba);
    CHECK(after->drawn.coverage->share == before->drawn.coverage->share);
    session.undo();
    session.show(2, 3);
    REQUIRE(becomes_true([&] { return up_to_date(session); }));
    CHECK(session.face()->drawn.image.rgba == before->drawn.image.rgba);
}

TEST_CASE("an edit is drawn in the frame it was made in, where its face is shown") {
    Folder folder;
    DrawerLog log;
    Session session(setup_in(folder, &log));
    const auto rename = [&](const char* name) {
        auto design = session.design();
        design.name = name;
        session.edit(std::move(design), "name");
    };
    session.show_edited();  // nothing was asked for yet
    CHECK(session.face_status().kind == FaceStatus::Kind::drawing);
    session.show(1, 5);
    const auto drawn = [&] {
        const auto face = session.face();
        return face && face->order.design == session.design();
    };
    rename("Another");
    session.show_edited();
    CHECK(becomes_true(drawn));
    rename("A third");
    session.show_edited();  // the page that shows the face is not on the screen
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
    CHECK_FALSE(drawn());
}

TEST_CASE("a picture is written behind the work, with a notice when it is there") {
    Folder folder;
    Session session(setup_in(folder));
    session.open(folder.copy_of_quick());
    session.show(1, 2);
    session.export_picture(folder.path / "face.png", 2);
    CHECK(session.pictures_being_written() == 1);
    REQUIRE(becomes_true([&] { return session.pictures_being_written() == 0; }));
    const auto notices = session.take_notices();
    REQUIRE(!notices.empty());
    CHECK(!notices.back().trouble);
    CHECK(read_file(folder.path / "face.png").substr(1, 3) == "PNG");
    session.export_picture(folder.path / "no such folder" / "face.png", 2);
    REQUIRE(becomes_true([&] { return session.pictures_being_written() == 0; }));
    CHECK(session.take_notices().back().trouble);
}

TEST_CASE("edits in a row at one field are one step; undo and redo lead through them") {
    Folder folder;
    DrawerLog log;
    Session session(setup_in(folder, &log));
    session.start_new(starter_design());
    const auto start = session.design();
    const auto revision = session.revision();
    for (const double dose : {1.0, 2.0, 3.0})
        session.edit(with_white(session.design(), 0, dose), "white", "w");
    session.close_step();
    session.edit(with_white(session.design(), 0, 4), "white", "w");
    session.close_step();
    CHECK(session.revision() == revision + 4);
    session.edit(session.design(), "nothing");
    CHECK(session.revision() == revision + 4);
    session.undo();
    CHECK(session.design().portions[0].white.g_per_kg_oils == 3);
    session.undo();
    CHECK(session.design() == start);
    CHECK(!session.can_undo());
    session.redo();
    CHECK(session.design().portions[0].white.g_per_kg_oils == 3);
    CHECK(session.redo_label() == "white");
}

TEST_CASE("a design that cannot be made is not drawn, says why, and recovers") {
    Folder folder;
    DrawerLog log;
    Session session(setup_in(folder, &log));
    session.start_new(starter_design());
    session.show(1, 5);
    REQUIRE(becomes_true([&] { return up_to_date(session); }));
    auto wrong = session.design();
    wrong.strokes[0].wire_diameter_mm = 500;
    const int begun = log.sketches_begun;
    session.edit(wrong, "too thick");
    session.show(1, 5);
    CHECK(!session.fault().empty());
    CHECK(session.face_status().kind == FaceStatus::Kind::failed);
    CHECK(log.sketches_begun == begun);
    CHECK_THROWS_AS(session.export_picture(folder.path / "x.png", 5), InputError);
    session.undo();
    session.show(1, 5);
    CHECK(session.fault().empty());
    CHECK(becomes_true([&] { return up_to_date(session); }));
}

TEST_CASE("saving clears the mark; an unreadable file leaves the present design alone") {
    Folder folder;
    DrawerLog log;
    Session session(setup_in(folder, &log));
    session.start_new(starter_design());
    CHECK(!session.changed_since_saved());
    CHECK_THROWS_AS(session.save(), InputError);
    session.edit(with_white(session.design(), 0, 5), "white");
    CHECK(session.changed_since_saved());
    const auto file = folder.path / "Été.foreslice.json";
    session.save_as(file);
    CHECK(!session.changed_since_saved());
    CHECK(design::load(file) == session.design());
    CHECK(session.settings().recent.front() == file);
    std::ofstream(folder.path / "broken.json") << "{ \"format\": 3";
    const auto before = session.design();
    CHECK_THROWS_AS(session.open(folder.path / "broken.json"), InputError);
    CHECK_THROWS_AS(session.open(folder.path / "not there.json"), InputError);
    CHECK(session.design() == before);
    CHECK(session.file() == file);
    session.undo();
    CHECK(session.changed_since_saved());
}

TEST_CASE("unsaved work is kept beside the file and offered at the next start") {
    Folder folder;
    DrawerLog log;
    const auto file = folder.copy_of_quick();
    const auto copy = folder.path / ".quick.foreslice.json.autosave";
    design::Design edited;
    {
        Session session(setup_in(folder, &log));
        session.open(file);
        autosave_now(session);
        CHECK(!fs::exists(copy));  // nothing has changed
        session.edit(with_white(session.design(), 1, 8), "white");
        autosave_now(session);
        REQUIRE(fs::exists(copy));
        edited = session.design();
    }  // ends without saving or discarding, as a crash would
    {
        Session session(setup_in(folder, &log));
        session.open(file);
        REQUIRE(session.recovery());
        CHECK(session.recovery()->design == edited);
        autosave_now(session);
        CHECK(fs::exists(copy));  // an offer is not overwritten
        session.take_recovery();
        CHECK(session.design() == edited);
        CHECK(session.changed_since_saved());
        session.undo();
        CHECK(session.design() == design::load(file));
        session.redo();
        session.save();
        CHECK(!fs::exists(copy));
    }
    Session session(setup_in(folder, &log));
    session.open(file);
    CHECK(!session.recovery());
    CHECK(session.design() == edited);
}

TEST_CASE("recovered work is still safe after a second crash") {
    Folder folder;
    DrawerLog log;
    const auto file = folder.copy_of_quick();
    {
        Session session(setup_in(folder, &log));
        session.open(file);
        session.edit(with_white(session.design(), 1, 8), "white");
        autosave_now(session);
    }
    {
        Session session(setup_in(folder, &log));
        session.open(file);
        session.take_recovery();
        autosave_now(session);
    }
    Session session(setup_in(folder, &log));
    session.open(file);
    REQUIRE(session.recovery());
    CHECK(session.recovery()->design.portions[1].white.g_per_kg_oils == 8);
    session.refuse_recovery();
    CHECK(!fs::exists(folder.path / ".quick.foreslice.json.autosave"));
}

TEST_CASE("undoing back to what is saved takes the copy away; a design without a file has one too") {
    Folder folder;
    DrawerLog log;
    {
        Session session(setup_in(folder, &log));
        session.open(folder.copy_of_quick());
        session.edit(with_white(session.design(), 1, 8), "white");
        autosave_now(session);
        session.undo();
        autosave_now(session);
        CHECK(!fs::exists(folder.path / ".quick.foreslice.json.autosave"));
        session.start_new(starter_design());
        session.edit(with_white(session.design(), 1, 8), "white");
        autosave_now(session);
    }
    Session session(setup_in(folder, &log));
    session.start_new(starter_design());
    REQUIRE(session.recovery());
    CHECK(session.recovery()->design.portions[1].white.g_per_kg_oils == 8);
}

TEST_CASE("work in a folder that cannot be written is kept in the state folder") {
    Folder folder;
    // The folder of the document does not exist, which nobody may write to, not even the system's owner.
    const auto document = folder.path / "gone" / "x.foreslice.json";
    write_autosave(starter_design(), document, folder.path);
    CHECK(fs::exists(autosave_elsewhere(document, folder.path)));
    const auto found = find_recovery(design::Design{}, document, folder.path);
    REQUIRE(found);
    CHECK(found->design == starter_design());
    remove_autosave(document, folder.path);
    CHECK(!find_recovery(design::Design{}, document, folder.path));
}

TEST_CASE("an autosave that is not a design is left where it is and not offered") {
    Folder folder;
    std::ofstream(folder.path / ".x.json.autosave") << "not a design";
    CHECK(!find_recovery(starter_design(), folder.path / "x.json", folder.path));
    CHECK(fs::exists(folder.path / ".x.json.autosave"));
}

TEST_CASE("settings survive, and a broken settings file means the defaults") {
    Folder folder;
    Settings settings;
    settings.scale = 1.25;
    for (int i = 0; i < 20; ++i) remember_file(settings, folder.path / (std::to_string(i) + " é.json"));
    remember_file(settings, folder.path / "15 é.json");
    save_settings(settings, folder.path);
    const auto read = load_settings(folder.path);
    CHECK(read.scale == 1.25);
    REQUIRE(read.recent.size() == 12);
    CHECK(read.recent == settings.recent);
    CHECK(read.recent.front() == folder.path / "15 é.json");
    std::ofstream(folder.path / "studio-settings.txt") << "scale 1e9\n\x01\x02\nrecent";
    CHECK(load_settings(folder.path).scale == 0);
    CHECK(load_settings(folder.path / "nowhere").recent.empty());
}
