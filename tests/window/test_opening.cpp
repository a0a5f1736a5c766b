// What can be opened: a design, all of a collection, a picture that carries a design.
#include <doctest/doctest.h>

#include <filesystem>
#include <memory>

#include "design/design_file.h"
#include "design/shared_picture.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "own_studio.h"

using namespace foreslice;
using namespace foreslice::studio;
using namespace foreslice::studio::testing;
namespace fs = std::filesystem;

namespace {

struct Quay : OwnStudio {
    Quay() {
        for (const char* name : {"quick.foreslice.json", "slow.foreslice.json", "pair.collection.json"})
            copied(std::string("faults/") + name, name);
        for (const char* name : {"shared.png", "theme.png"}) copied(std::string("window/") + name, name);
    }
    std::unique_ptr<Session> session() { return std::make_unique<Session>(setup()); }
    void write_collection(const std::string& rest) const {
        write_file_atomically(
            file("pair.collection.json"),
            R"({"format": "foreslice collection", "version": 1, "name": "Two", )" + rest + "}");
    }
};

constexpr const char* both =
    R"("designs": [{"file": "quick.foreslice.json"}, {"file": "slow.foreslice.json"}])";

std::string refusal(Session& session, const fs::path& file) {
    try {
        session.open_whatever(file);
        return "";
    } catch (const InputError& error) {
        return error.what();
    }
}

}  // namespace

TEST_CASE("a collection opens all its designs and looks at the first; a second time opens none twice") {
    Quay quay;
    const auto session = quay.session();
    session->open_whatever(quay.file("pair.collection.json"));
    REQUIRE(session->documents().size() == 2);
    CHECK(session->at() == 0);
    CHECK(session->file() == quay.file("quick.foreslice.json"));
    CHECK(session->documents()[1].file == quay.file("slow.foreslice.json"));
    CHECK_FALSE(session->changed_since_saved());
    CHECK(notices(*session).find("2 designs of Two at the quay are open.") != std::string::npos);
    session->look_at(1);
    session->open_whatever(quay.file("pair.collection.json"));
    CHECK(session->documents().size() == 2);
    CHECK(session->at() == 0);
}

TEST_CASE(
    "what a collection's designs have in common is theirs when they are opened, and when they are saved") {
    Quay quay;
    auto text = read_file(quay.file("quick.foreslice.json"), 1 << 20);
    const auto at = text.find("\"cut\"");
    REQUIRE(at != std::string::npos);
    text.replace(at, 5, "\"x-cut\"");  // left out, as far as the reader is concerned
    write_file_atomically(quay.file("quick.foreslice.json"), text);
    quay.write_collection(std::string(R"("defaults": {"cut": {"bar_thickness_mm": 17, "trim_mm": 3}}, )") +
                          both);
    const auto session = quay.session();
    session->open_whatever(quay.file("pair.collection.json"));
    REQUIRE(session->file() == quay.file("quick.foreslice.json"));
    CHECK(session->design().cut.bar_thickness_mm == 17);
    session->save();
    CHECK(design::load(quay.file("quick.foreslice.json")).cut.bar_thickness_mm == 17);
}

TEST_CASE("a collection with a design that cannot be read opens the others and says so") {
    Quay quay;
    fs::remove(quay.file("quick.foreslice.json"));
    const auto session = quay.session();
    session->open_whatever(quay.file("pair.collection.json"));
    REQUIRE(session->documents().size() == 1);
    CHECK(session->file() == quay.file("slow.foreslice.json"));
    CHECK(notices(*session).find("quick.foreslice.json") != std::string::npos);
    SUBCASE("with none that can, nothing is opened") {
        fs::remove(quay.file("slow.foreslice.json"));
        const auto other = quay.session();
        CHECK(refusal(*other, quay.file("pair.collection.json")).find("none of its designs") !=
              std::string::npos);
        CHECK(other->file().empty());
    }
    SUBCASE("an empty one is refused") {
        quay.write_collection(R"("designs": [])");
        CHECK(refusal(*session, quay.file("pair.collection.json")).find("/designs") != std::string::npos);
        CHECK(session->file() == quay.file("slow.foreslice.json"));
    }
}

TEST_CASE("a picture that carries a design opens as a new one, a photo is refused") {
    Quay quay;
    CHECK(design::carries_design(quay.file("shared.png")));
    CHECK_FALSE(design::carries_design(quay.file("theme.png")));
    CHECK_FALSE(design::carries_design(quay.file("quick.foreslice.json")));
    CHECK_FALSE(design::carries_design(quay.file("not-there.png")));
    const auto session = quay.session();
    session->open_whatever(quay.file("shared.png"));
    CHECK(session->file().empty());
    CHECK(session->design().name == "Sent Tender");
    CHECK(notices(*session).find("Opened from the picture") != std::string::npos);
    CHECK(refusal(*session, quay.file("theme.png")).find("carries no design") != std::string::npos);
    CHECK(session->design().name == "Sent Tender");
}
