// What must not be lost when the program ends unasked, or when a design came with colourants of its own.
#include <doctest/doctest.h>

#include <filesystem>

#include "colour/learned.h"
#include "design/design_file.h"
#include "own_studio.h"
#include "studio/session/edits.h"

using namespace foreslice;
using namespace foreslice::studio;
using namespace foreslice::studio::testing;
namespace fs = std::filesystem;

namespace {

std::string last_notice(Session& session) {
    const auto notices = session.take_notices();
    return notices.empty() ? "" : notices.back().sentence;
}

// As it comes out of a picture: a colourant that nobody else has, another ultramarine, the usual base.
struct Sent {
    design::Design design = design::load(FORESLICE_TEST_DATA "/window/quick.foreslice.json");
    colour::ColourantLibrary colourants;

    Sent() {
        const auto library = shipped();
        auto rust = *library.find("iron-oxide-yellow");
        rust.id = "ferry-rust";
        rust.name = "ferry rust";
        rust.price_per_100_g = 40;
        auto blue = *library.find("ultramarine-blue");
        for (double& absorption : blue.unit.absorption_per_mm) absorption *= 2;
        auto white = *library.find("titanium-dioxide");
        white.price_per_100_g = 7;  // each maker's own affair
        colourants = colour::ColourantLibrary(library.base(), library.base_provenance(), {rust, blue, white});
        design.name = "Sent Tender";
        design.portions[1].doses[0].colourant = rust.id;
    }
};

}  // namespace

TEST_CASE("the last edits of every open design are kept safe at once, with the board") {
    OwnStudio maker;
    const auto first = maker.design_file("first.foreslice.json");
    const auto second = maker.design_file("second.foreslice.json");
    {
        Session session(maker.setup());
        session.open(first);
        rename(session, "First, early");
        session.tick(Session::Clock::now());
        rename(session, "First, late");
        session.open_beside(second);
        rename(session, "Second, early");
        session.tick(Session::Clock::now());
        rename(session, "Second, late");
        session.start_beside(starter_design());
        rename(session, "No file yet");
        Board board = session.board();
        pin(board, session.design(), "pinned", nullptr);
        session.change_board(board);
        session.keep_safe();
        // Nothing that happens from here on may be needed: the program may be ended hard.
        CHECK(design::load(autosave_beside(first, maker.file("state"))).name == "First, late");
        CHECK(design::load(autosave_beside(second, maker.file("state"))).name == "Second, late");
        CHECK(load_board(board_file({}, maker.file("state"), 1)).variants.size() == 1);
    }
    Session again(maker.setup());
    again.start_new(starter_design());
    REQUIRE(again.recovery());
    CHECK(again.recovery()->design.name == "No file yet");
    again.open_beside(first);
    REQUIRE(again.recovery());
    CHECK(again.recovery()->design.name == "First, late");
}

TEST_CASE(
    "colourants that came with a design are the maker's own once it is saved, and nothing of hers is lost") {
    OwnStudio maker;
    const Sent sent;
    const auto file = maker.file("sent.foreslice.json");
    const auto key_before = shipped().key();
    {
        Session session(maker.setup());
        session.start_beside(sent.design, sent.colourants);
        CHECK(session.fault().empty());
        session.save_as(file);
        const std::string said = last_notice(session);
        CHECK_MESSAGE(said.find("ferry rust is among your own now") != std::string::npos, said);
        CHECK_MESSAGE(said.find("Your own ultramarine blue differs") != std::string::npos, said);
        CHECK_MESSAGE(said.find("titanium") == std::string::npos, said);
        CHECK(session.fault().empty());
        rename(session, "Renamed");
        session.save();
        CHECK(last_notice(session).find("ferry rust") == std::string::npos);  // said once
        session.start_beside(starter_design());
        CHECK(session.colour_library().find("ferry-rust"));  // for other designs too
    }
    const auto own = colour::ColourantLibrary::load(own_colourants_file(maker.file("state")));
    REQUIRE(own.find("ferry-rust"));
    CHECK(own.find("ferry-rust")->price_per_100_g == 0);
    CHECK(own.find("ferry-rust")->provenance.find("Came with “Sent Tender”") != std::string::npos);
    CHECK(own.colourants().size() == shipped().colourants().size() + 1);
    std::vector<colour::Colourant> rest;
    for (const auto& entry : own.colourants())
        if (entry.id != "ferry-rust") rest.push_back(entry);
    CHECK(colour::ColourantLibrary(own.base(), "", rest).key() == key_before);
    Session again(maker.setup());
    again.open(file);
    CHECK_MESSAGE(again.fault().empty(), again.fault());
}

TEST_CASE("a design that came with what the maker has already is saved without a word about it") {
    OwnStudio maker;
    Session session(maker.setup());
    const auto design = design::load(FORESLICE_TEST_DATA "/window/quick.foreslice.json");
    session.start_beside(design, shipped());
    session.save_as(maker.file("same.foreslice.json"));
    CHECK(last_notice(session) == "Saved as same.foreslice.json.");
    CHECK_FALSE(fs::exists(own_colourants_file(maker.file("state"))));
}

TEST_CASE("unsaved work that came with colourants is brought back with them") {
    OwnStudio maker;
    const Sent sent;
    {
        Session session(maker.setup());
        session.start_beside(sent.design, sent.colourants);
        rename(session, "Changed");
        session.keep_safe();
    }
    Session again(maker.setup());
    again.start_new(starter_design());
    REQUIRE(again.recovery());
    again.take_recovery();
    CHECK(again.design().name == "Changed");
    CHECK_MESSAGE(again.fault().empty(), again.fault());
    CHECK(again.colour_library().find("ferry-rust"));
    again.save_as(maker.file("kept.foreslice.json"));
    CHECK(again.own_library()->find("ferry-rust"));
    CHECK_FALSE(fs::exists(maker.file("state") / "unnamed.colourants.json"));
}
