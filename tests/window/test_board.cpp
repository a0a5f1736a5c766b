// The compare board without a window: what hangs on it, how it is kept, how a design goes to a collection.
#include <doctest/doctest.h>

#include <filesystem>
#include <string>
#include <vector>

#include "design/collection.h"
#include "design/design_file.h"
#include "design/layer_orders.h"
#include "design/shared_picture.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "own_folder.h"
#include "stand_in_drawer.h"
#include "studio/session/board.h"
#include "studio/session/board_faces.h"
#include "studio/session/board_words.h"
#include "studio/session/collection_sending.h"
#include "studio/session/edits.h"
#include "studio/session/session.h"

using namespace foreslice;
using namespace foreslice::studio;
using namespace foreslice::studio::testing;
namespace fs = std::filesystem;

namespace {

std::shared_ptr<const colour::ColourantLibrary> library() {
    static const auto loaded = std::make_shared<const colour::ColourantLibrary>(
        colour::ColourantLibrary::load(FORESLICE_SOURCE "/palettes/colourants.json"));
    return loaded;
}

design::Design quick() {
    return design::load(FORESLICE_TEST_DATA "/window/quick.foreslice.json");
}

Session::Setup setup_in(const OwnFolder& folder) {
    Session::Setup setup;
    setup.colour_library = library();
    setup.state_folder = folder.path / "state";
    setup.autosave_every = std::chrono::milliseconds(0);
    return setup;
}

Board board_of(int variants) {
    Board board;
    for (int i = 0; i < variants; ++i) pin(board, with_white(quick(), 0, 1 + i), "", library().get());
    return board;
}

void pin_in(Session& session, const design::Design& design) {
    Board next = session.board();
    pin(next, design, "", &session.colour_library());
    session.change_board(std::move(next));
}

}  // namespace

TEST_CASE("a board holds twelve variants, none of them twice, named by what differs") {
    Board board;
    const auto first = pin(board, quick(), "", library().get());
    REQUIRE(first);
    CHECK(board.find(*first)->name == quick().name);
    CHECK(pin(board, quick(), "", library().get()) == first);
    REQUIRE(board.variants.size() == 1);
    const auto second = pin(board, with_white(quick(), 0, 7), "", library().get());
    REQUIRE(second);
    CHECK(*second != *first);
    CHECK(board.find(*second)->name.find("7 g/kg") != std::string::npos);
    for (int i = 2; i < 12; ++i) CHECK(pin(board, with_white(quick(), 0, 7 + i), "", library().get()));
    CHECK(board.full());
    CHECK(!pin(board, with_white(quick(), 0, 40), "", library().get()));
    CHECK(board.variants.size() == most_variants);
}

TEST_CASE("a board's file gives the same board back; numbers stay its own") {
    Board board = board_of(3);
    board.variants[1].name = "Tarn été ☂";
    board.variants[1].named = board.variants[1].starred = true;
    const Board again = parse_board(to_json(board), "board");
    CHECK(again == board);
    Board twice = board;
    twice.variants[2].number = twice.variants[0].number;
    const Board mended = parse_board(to_json(twice), "board");
    CHECK(mended.variants[2].number != mended.variants[0].number);
    CHECK(mended.next_number > mended.variants[2].number);
}

TEST_CASE("a variant without a name takes its design's, cut to the length of a name") {
    auto design = quick();
    design.name = std::string(150, 'n');
    const std::string text = R"({"format":"foreslice board","variants":[{"number":99999999999,"design":)" +
                             design::to_json(design) + "}]}";
    const Board board = parse_board(text, "board");
    CHECK(board.variants[0].name == std::string(80, 'n'));
    CHECK(board.variants[0].number == 1);
    CHECK(parse_board(to_json(board), "board") == board);
}

TEST_CASE("what is no board is refused with a sentence and put aside, never written over") {
    OwnFolder folder;
    const fs::path file = folder.path / "x.board.json";
    const std::vector<std::string> texts{"{",
                                         "[]",
                                         R"({"format":"foreslice board","version":99})",
                                         R"({"format":"foreslice board","version":4294967297})",
                                         R"({"format":"foreslice board","variants":[{"design":3}]})",
                                         R"({"format":"foreslice board","variants":7})",
                                         std::string(200000, '[')};
    for (const auto& text : texts) {
        write_file_atomically(file, text);
        CHECK_THROWS_AS(load_board(file), InputError);
        CHECK(!fs::exists(file));
        CHECK(read_file(folder.path / "x.board.json.unreadable") == text);
        CHECK(load_board(file).variants.empty());
    }
}

TEST_CASE("a variant's name is cut between characters") {
    CHECK(variant_name("  one\ntwo ") == "one two");
    const std::string long_name(79, 'a');
    CHECK(variant_name(long_name + "é") == long_name);
    CHECK(variant_name(long_name + "b").size() == 80);
    CHECK(variant_name("   ").empty());
}

TEST_CASE("undo leaves the board alone, and the next start finds it") {
    OwnFolder folder;
    const fs::path file = folder.path / "quick.foreslice.json";
    fs::copy_file(FORESLICE_TEST_DATA "/window/quick.foreslice.json", file);
    Board kept;
    {
        Session session(setup_in(folder));
        session.open(file);
        pin_in(session, session.design());
        session.edit(with_white(session.design(), 0, 9), "white");
        pin_in(session, session.design());
        session.undo();
        CHECK(!session.changed_since_saved());
        CHECK(session.board().variants.size() == 2);
        kept = session.board();
    }
    Session session(setup_in(folder));
    session.open(file);
    CHECK(session.board() == kept);
    session.take_variant(kept.variants[1].number);
    CHECK(session.design() == kept.variants[1].design);
    session.undo();
    CHECK(session.design() == kept.variants[0].design);
    CHECK(session.board() == kept);
}

TEST_CASE("a crash loses no variant once a moment has passed") {
    OwnFolder folder;
    const fs::path file = folder.path / "quick.foreslice.json";
    fs::copy_file(FORESLICE_TEST_DATA "/window/quick.foreslice.json", file);
    Session session(setup_in(folder));
    session.open(file);
    pin_in(session, session.design());
    session.tick(Session::Clock::now());
    session.finish_writing();
    // What lies on the disk now is what a killed program leaves.
    CHECK(load_board(board_file(file, folder.path / "state")).variants.size() == 1);
}

TEST_CASE("each open design has a board of its own; saving a new one takes its board along") {
    OwnFolder folder;
    Session session(setup_in(folder));
    CHECK(!session.changed_since_saved());
    pin_in(session, session.design());
    CHECK(session.changed_since_saved());  // nothing but the studio knows of it yet
    session.start_beside(quick());
    CHECK(session.board().variants.empty());
    session.look_at(0);
    REQUIRE(session.board().variants.size() == 1);
    const fs::path file = folder.path / "new.foreslice.json";
    session.save_as(file);
    CHECK(!session.changed_since_saved());
    session.finish_writing();
    CHECK(load_board(board_file(file, folder.path / "state")).variants.size() == 1);
    CHECK(load_board(board_file({}, folder.path / "state", 1)).variants.empty());
}

TEST_CASE("two variants in words") {
    const auto before = quick();
    const design::Layers layers(before);
    auto order = layers.as_designed();
    REQUIRE(order.size() >= 2);
    std::swap(order.front(), order.back());
    const auto swapped = design_changes(before, layers.in_order(order), library().get());
    REQUIRE(swapped.size() == 1);
    CHECK(swapped.front() == "layers 1 and " + std::to_string(order.size()) + " swapped");
    auto renamed = before;
    renamed.name = "another";
    CHECK(design_changes(before, renamed, library().get()).empty());

    picture::FaceMeasures one, other;
    one.muddy_percent = 6;
    other.muddy_percent = 11;
    one.symmetry = other.symmetry = 0.5;
    one.mean_contrast_de00 = 20;
    other.mean_contrast_de00 = 20.3;  // nobody sees that
    const auto faces = measure_changes(before, one, before, other, {});
    REQUIRE(faces.size() == 1);
    CHECK(faces.front() == "muddy share 6 % to 11 %");
    CHECK(in_one_line(swapped, faces, 3) == swapped.front() + "; " + faces.front());
    CHECK(in_one_line({}, {}, 3) == "no difference");
    CHECK(in_one_line({"a", "b", "c"}, {}, 2) == "a, b and 1 more");
}

TEST_CASE("a design goes into a collection as a file of its own, and no file is written over") {
    OwnFolder folder;
    const fs::path file = folder.path / "soaps.collection.json";
    const Sent first = add_to_collection(quick(), file, *library());
    CHECK(first.collection_begun);
    const Sent second = add_to_collection(with_white(quick(), 0, 5), file, *library());
    CHECK(!second.collection_begun);
    CHECK(first.file != second.file);
    const auto collection = design::load_collection(file);
    REQUIRE(collection.members.size() == 2);
    CHECK(design::load_member(collection, collection.members[0]) == quick());
    CHECK(design::load_member(collection, collection.members[1]) == with_white(quick(), 0, 5));
    CHECK(second.changed.empty());

    // What is no collection stays as it is, and no design is left behind.
    const fs::path other = folder.path / "no.json";
    write_file_atomically(other, "{}");
    const auto files = std::distance(fs::directory_iterator(folder.path), fs::directory_iterator());
    CHECK_THROWS_AS(add_to_collection(quick(), other, *library()), InputError);
    CHECK(read_file(other) == "{}");
    CHECK(std::distance(fs::directory_iterator(folder.path), fs::directory_iterator()) == files);
}

TEST_CASE("a collection's defaults that would change a design are said") {
    OwnFolder folder;
    const fs::path file = folder.path / "soaps.collection.json";
    add_to_collection(quick(), file, *library());
    auto text = read_file(file);
    const auto at = text.find("\"designs\"");
    REQUIRE(at != std::string::npos);
    text.insert(at, "\"defaults\": {\"hand\": {\"wander_mm\": 1.5}},\n  ");
    write_file_atomically(file, text);
    const Sent sent = add_to_collection(quick(), file, *library());
    CHECK(sentence_of(sent).find(quick().name.empty() ? "" : "soaps") != std::string::npos);
    const auto collection = design::load_collection(file);
    const bool same = design::load_member(collection, collection.members.back()) == quick();
    CHECK(same == sent.changed.empty());
    CHECK(!same);
}

TEST_CASE(
    "faces of variants come one by one, with their measures, and are forgotten when nobody wants them") {
    BoardFaces faces;
    const auto with = with_white(quick(), 0, 20);
    const std::vector<design::Design> designs{quick(), with};
    std::vector<std::uint64_t> keys;
    for (const auto& design : designs) keys.push_back(BoardFaces::key_of(design, 1, 2, 0));
    const auto order = [&](std::size_t i) { return BoardFaces::Wanted{keys[i], designs[i], 1, 2.0}; };
    faces.want(keys, order, library(), 1, [] {});
    REQUIRE(becomes_true([&] { return faces.missing() == 0; }));
    REQUIRE(faces.face(keys[0]));
    CHECK(faces.face(keys[0])->problem.empty());
    CHECK(faces.face(keys[0])->bar.rgba != faces.face(keys[1])->bar.rgba);
    CHECK(faces.face(keys[0])->measures.portions.size() == designs[0].portions.size());
    const std::vector<std::uint64_t> rest{keys[1]};
    faces.want(rest, order, library(), 1, [] {});
    faces.want({}, order, library(), 1, [] {});
    CHECK(!faces.face(keys[0]));
}

TEST_CASE("colourants that came with a design hold for it alone") {
    OwnFolder folder;
    Session session(setup_in(folder));
    session.open(FORESLICE_TEST_DATA "/window/quick.foreslice.json");
    const auto own = session.colours().at(0).linear;
    const auto opened = design::open_design(FORESLICE_TEST_DATA "/window/shared.png");
    REQUIRE(opened.colourants);
    session.start_beside(opened.design, opened.colourants);
    // The same colours that the command line draws such a picture in.
    const auto sent =
        picture::portion_colours(opened.design, design::with_sent(*library(), *opened.colourants));
    const auto seen = session.colours().at(0).linear;
    CHECK(seen.r == sent[0].linear.r);
    CHECK(seen.b == sent[0].linear.b);
    CHECK(seen.b != own.b);
    session.look_at(0);
    CHECK(session.colours().at(0).linear.b == own.b);
    CHECK(session.own_library() == session.shared_library());
    // Another library of the maker's own leaves what was sent in its place.
    session.look_at(1);
    session.use_library(std::make_shared<const colour::ColourantLibrary>(*library()));
    CHECK(session.colours().at(0).linear.b == sent[0].linear.b);
}
