// Two studios at once on the same state folder: neither loses what the other keeps there.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <thread>

#include "colour/learned.h"
#include "design/design_file.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "own_studio.h"
#include "studio/session/edits.h"
#include "studio/session/own_colourants.h"
#include "studio/session/session.h"

using namespace foreslice;
using namespace foreslice::studio;
using namespace foreslice::studio::testing;
namespace fs = std::filesystem;

namespace {

colour::Colourant colourant(const std::string& name, double strength = 1) {
    auto made = *shipped().find("ultramarine-blue");
    made.id = colour::id_from_name(name);
    made.name = name;
    for (double& absorption : made.unit.absorption_per_mm) absorption *= strength;
    return made;
}

auto adding(const colour::Colourant& entry) {
    return [entry](const colour::ColourantLibrary& now) { return colour::with_colourant(now, entry); };
}

bool has(const std::vector<fs::path>& files, const fs::path& file) {
    return std::find(files.begin(), files.end(), file) != files.end();
}

}  // namespace

TEST_CASE("two windows: each keeps a colourant, and both are there") {
    const OwnFolder folder;
    const auto file = own_colourants_file(folder.path);
    const auto at_their_start = shipped();
    change_own_colourants(file, at_their_start, adding(colourant("quay rust")));
    const auto second = change_own_colourants(file, at_their_start, adding(colourant("buoy red")));
    CHECK(second.find("quay-rust"));  // the second window has it from now on as well
    const auto kept = colour::ColourantLibrary::load(file);
    CHECK(kept.find("quay-rust"));
    CHECK(kept.find("buoy-red"));
    CHECK(kept.colourants().size() == shipped().colourants().size() + 2);
}

TEST_CASE("two windows: many colourants kept at the same time are all there") {
    const OwnFolder folder;
    const auto file = own_colourants_file(folder.path);
    const auto at_their_start = shipped();
    constexpr int each = 12;
    const auto keep = [&](const std::string& whose) {
        for (int i = 0; i < each; ++i)
            change_own_colourants(file, at_their_start, adding(colourant(whose + std::to_string(i))));
    };
    std::thread other([&] { keep("hers "); });
    keep("his ");
    other.join();
    const auto kept = colour::ColourantLibrary::load(file);
    CHECK(kept.colourants().size() == shipped().colourants().size() + 2 * each);
}

TEST_CASE("two windows: the same name for different colourants gives two entries") {
    const OwnFolder folder;
    const auto file = own_colourants_file(folder.path);
    const auto at_their_start = shipped();
    const auto first = colourant("my colour");
    const auto after = change_own_colourants(file, at_their_start, adding(first));
    const auto now = colour::ColourantLibrary::load(file);
    CHECK(free_colourant_name("my colour", at_their_start, now) == "my colour 2");
    CHECK(free_colourant_name("my colour", after, now) == "my colour");  // who knows it renews it
    CHECK(free_colourant_name("tide grey", at_their_start, now) == "tide grey");
    const auto both = change_own_colourants(file, at_their_start, adding(colourant("my colour 2", 2)));
    CHECK(both.find("my-colour")->unit.absorption_per_mm == first.unit.absorption_per_mm);
}

TEST_CASE("two windows: what could not be kept is kept with the next, and a broken file is put aside") {
    const OwnFolder folder;
    const auto file = own_colourants_file(folder.path);
    const auto mine = colour::with_colourant(shipped(), colourant("never written"));
    change_own_colourants(file, shipped(), adding(colourant("hers")));
    CHECK(change_own_colourants(file, mine, adding(colourant("his"))).find("never-written"));
    write_file_atomically(file, "{");
    const auto kept = change_own_colourants(file, mine, adding(colourant("his")));
    CHECK(kept.find("never-written"));
    CHECK(fs::exists(folder.path / "my-colourants.unreadable.json"));
    CHECK(colour::ColourantLibrary::load(file).find("his"));
}

TEST_CASE("two windows: designs without a file keep a copy each, and both are found after a crash") {
    OwnStudio harbour;
    {
        Session first(harbour.setup());
        first.start_new(starter_design());
        rename(first, "First");
        first.keep_safe();
        Session second(harbour.setup());
        second.open_left_behind();
        CHECK(second.documents().size() == 1);  // the other window's work is not left behind
        second.start_new(starter_design());
        CHECK_FALSE(second.recovery());
        rename(second, "Second");
        second.keep_safe();
        second.start_beside(starter_design());
        rename(second, "Third");
        second.keep_safe();
    }
    Session again(harbour.setup());
    again.open_left_behind();
    REQUIRE(again.documents().size() == 3);
    again.start_new(starter_design());
    REQUIRE(again.recovery());
    CHECK(again.recovery()->design.name == "First");
    CHECK(again.documents()[1].name == "Second");
    CHECK(again.documents()[2].name == "Third");
}

TEST_CASE("two windows: leaving unsaved work in one keeps the other's copy") {
    OwnStudio harbour;
    Session first(harbour.setup());
    first.start_new(starter_design());
    rename(first, "First");
    first.keep_safe();
    {
        Session second(harbour.setup());
        second.start_new(starter_design());
        rename(second, "Second");
        second.keep_safe();
        second.discard_autosave();
    }
    CHECK(design::load(autosave_beside({}, harbour.state())).name == "First");
}

TEST_CASE("two windows: of a design that is open twice both copies are kept, and the second is told") {
    OwnStudio harbour;
    const auto file = harbour.design_file("pier.foreslice.json");
    {
        Session first(harbour.setup());
        first.open(file);
        CHECK(notices(first).find("another window") == std::string::npos);
        rename(first, "First");
        first.keep_safe();
        Session second(harbour.setup());
        CHECK(second.open_elsewhere(file));
        CHECK_FALSE(first.open_elsewhere(file));
        second.open(file);
        CHECK(notices(second).find("pier.foreslice.json is open in another window as well") !=
              std::string::npos);
        CHECK_FALSE(second.recovery());  // that work is not left behind
        const auto looks = [](Session& session) {
            static auto time = Session::Clock::now();
            session.tick(time += std::chrono::seconds(3));
            session.keep_safe();  // waits for the disk
            return notices(session);
        };
        CHECK(looks(first).find("pier.foreslice.json was opened in another window too") != std::string::npos);
        CHECK(looks(first).empty());   // once is enough,
        CHECK(looks(second).empty());  // and the second knows
        rename(second, "Second");
        second.keep_safe();
        CHECK(design::load(autosave_beside(file, harbour.state())).name == "First");
    }
    Session again(harbour.setup());
    again.open(file);
    CHECK(notices(again).find("another window") == std::string::npos);
    REQUIRE(again.recovery());
    CHECK(again.recovery()->design.name == "First");
    again.take_recovery();
    again.save();
    again.put_away();
    again.open(file);
    REQUIRE(again.recovery());  // the other's comes next
    CHECK(again.recovery()->design.name == "Second");
}

TEST_CASE("two windows: the second save is refused, and its copy is there still") {
    OwnStudio harbour;
    const auto file = harbour.design_file("pier.foreslice.json");
    Session first(harbour.setup()), second(harbour.setup());
    first.open(file);
    second.open(file);
    rename(first, "First");
    rename(second, "Second");
    second.keep_safe();
    first.save();
    CHECK_THROWS_AS(second.save(), InputError);
    CHECK(design::load(file).name == "First");
    CHECK(design::load(autosave_beside(file, harbour.state(), 2)).name == "Second");
    second.save_as(harbour.file("pier-2.foreslice.json"));
    CHECK_FALSE(fs::exists(autosave_beside(file, harbour.state(), 2)));
}

TEST_CASE("two windows: variants pinned in each hang on the board") {
    OwnStudio harbour;
    const auto file = harbour.design_file("pier.foreslice.json");
    const auto hang = [](Session& session, const std::string& name) {
        auto design = session.design();
        design.name = name;
        Board board = session.board();
        pin(board, design, name, nullptr);
        session.change_board(board);
        session.keep_safe();
    };
    const auto take_off = [](Session& session, const std::string& name) {
        Board board = session.board();
        std::erase_if(board.variants, [&](const Variant& variant) { return variant.name == name; });
        session.change_board(board);
        session.keep_safe();
    };
    {
        Session first(harbour.setup()), second(harbour.setup());
        first.open(file);
        second.open(file);
        hang(first, "first");
        hang(second, "second");
        hang(first, "third");
        hang(first, "fourth");
        take_off(first, "third");
    }
    Session again(harbour.setup());
    again.open(file);
    std::vector<std::string> names;
    for (const auto& variant : again.board().variants) names.push_back(variant.name);
    std::sort(names.begin(), names.end());
    CHECK(names == std::vector<std::string>{"first", "fourth", "second"});
}

TEST_CASE(
    "two windows: recent and open files of both are remembered, and the look of the one that chose it") {
    OwnStudio harbour;
    const auto a = harbour.design_file("a.foreslice.json"), b = harbour.design_file("b.foreslice.json");
    const auto c = harbour.design_file("c.foreslice.json");
    Session first(harbour.setup()), second(harbour.setup());
    first.open(a);
    first.finish_writing();
    second.open(b);
    second.settings().morning = true;
    second.save_settings();
    second.finish_writing();
    first.open_beside(c);
    first.finish_writing();
    const auto kept = load_settings(harbour.state());
    for (const auto& file : {a, b, c}) {
        CHECK(has(kept.recent, file));
        CHECK(has(kept.open, file));
    }
    CHECK(kept.morning);
    first.put_away();
    first.finish_writing();
    CHECK_FALSE(has(load_settings(harbour.state()).open, c));
    CHECK(has(load_settings(harbour.state()).open, b));
}
