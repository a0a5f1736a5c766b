// Designs that travel inside pictures: bit for bit there and back, and nothing hostile gets through.
#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

#include "design/design_file.h"
#include "design/limits.h"
#include "design/samples.h"
#include "design/shared_picture.h"
#include "design/tint.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "foundation/png_text.h"
#include "foundation/random.h"
#include "foundation/text_file.h"
#include "png_file.h"

using namespace foreslice;
using namespace foreslice::design;
using foreslice::testing::png_by_libpng;
using foreslice::testing::text_by_libpng;

namespace {

std::string shared(const Design& design) {
    return with_design(png_by_libpng(), design, samples::library(), View{});
}

std::string with_text(const std::string& text) {
    return with_png_text(png_by_libpng(), picture_keyword, text);
}

std::string refusal_of_picture(const std::string& png) {
    try {
        const auto opened = design_in_picture(png, "shared.png");
        validate(opened.design, "shared.png");
        return "";
    } catch (const InputError& error) {
        CHECK(error.file() == "shared.png");
        return error.what();
    }
}

// The text of a shared picture with one thing in it changed.
template <typename Change>
std::string changed(Change&& change) {
    auto tree = nlohmann::ordered_json::parse(*text_by_libpng(shared(samples::plain()), "Foreslice design"));
    change(tree);
    return with_text(tree.dump());
}

}  // namespace

TEST_CASE("shared picture: random designs come back bit for bit, with unknown fields") {
    for (std::uint64_t seed = 0; seed < 100; ++seed) {
        const Design design = samples::random(seed);
        const OpenedDesign opened = design_in_picture(shared(design), "x");
        CHECK(opened.design == design);
        CHECK(to_json(opened.design) == to_json(design));
        CHECK(opened.from_picture);
        CHECK(opened.view == View{});
    }
    const Design strange = load(samples::data("v2/unknown-fields.json"));
    CHECK(to_json(design_in_picture(shared(strange), "x").design) == to_json(strange));
}

TEST_CASE("shared picture: colours come out the same to the last bit where the library is another") {
    const Design design = samples::plain();
    auto entries = samples::library().colourants();
    for (auto& entry : entries)  // digits that a library file would round away
        for (double& value : entry.unit.absorption_per_mm) value *= std::sqrt(2.0);
    const colour::ColourantLibrary sender(samples::library().base(), "own", entries);
    const auto opened = design_in_picture(with_design(png_by_libpng(), design, sender, {}), "x");
    REQUIRE(opened.colourants);
    CHECK(opened.colourants->colourants().size() < entries.size());  // only what is used
    const auto receiver = with_sent(samples::library(), *opened.colourants);
    for (const Portion& portion : design.portions) {
        const auto there = colour_of(portion, design, sender), here = colour_of(portion, design, receiver);
        for (std::size_t band = 0; band < there.reflectance.size(); ++band)
            CHECK(there.reflectance[band] == here.reflectance[band]);
    }
}

TEST_CASE("shared picture: how it was looked at comes along") {
    const View view{7, 12.5, true, true, 128};
    const auto png = with_design(png_by_libpng(), samples::plain(), samples::library(), view);
    CHECK(design_in_picture(png, "x").view == view);
    CHECK_FALSE(
        design_in_picture(with_design(png_by_libpng(), samples::plain(), samples::library(), {}), "x").view);
}

TEST_CASE("shared picture: a design file and a picture open the same way") {
    const auto folder = std::filesystem::temp_directory_path();
    const auto file = folder / "foreslice-open.json", picture = folder / "foreslice-open.png";
    save(samples::plain(), file);
    write_file_atomically(picture, shared(samples::plain()));
    CHECK(open_design(file).design == open_design(picture).design);
    CHECK_FALSE(open_design(file).from_picture);
    CHECK(is_picture(picture));
    CHECK_FALSE(is_picture(file));
    CHECK_FALSE(is_picture(folder));
    CHECK_FALSE(is_picture(folder / "no-such-file.png"));
    std::filesystem::remove(file);
    std::filesystem::remove(picture);
}

TEST_CASE("shared picture: what is wrong inside is named with its place") {
    const auto says = [](const std::string& png, const std::string& word) {
        const std::string said = refusal_of_picture(png);
        CHECK_MESSAGE(said.find(word) != std::string::npos, said);
    };
    says(png_by_libpng(), "carries no design");
    says(with_text(""), "not JSON");
    says(with_text("{}"), "/format");
    says(with_text(R"({"format": "foreslice design", "version": 2})"), "/format");
    says(changed([](auto& tree) { tree["version"] = 2; }), "newer program");
    says(changed([](auto& tree) { tree.erase("design"); }), "/design");
    says(changed([](auto& tree) { tree["design"]["version"] = 99; }), "version");
    says(changed([](auto& tree) { tree["design"]["mould"]["width_mm"] = 1e9; }), "20 to 500");
    says(changed([](auto& tree) { tree["view"]["bar"] = -1; }), "/view/bar");
    says(changed([](auto& tree) { tree["view"]["px_per_mm"] = 1e300; }), "0.5 to 60");
    says(changed([](auto& tree) { tree["view"]["stage"] = "../../etc/passwd"; }), "\"drawn\"");
    says(changed([](auto& tree) { tree["colourants"] = 7; }), "shared.png");
    says(changed([](auto& tree) { tree["colourants"]["base"].erase("provenance"); }), "provenance");
    says(changed([](auto& tree) { tree["colourants"]["colourants"][0]["id"] = "../../x"; }), "a-z");
}

TEST_CASE("shared picture: hostile texts are refused: depth, size, numbers that are none") {
    const auto says = [](const std::string& text, const std::string& word) {
        const std::string said = refusal_of_picture(with_text(text));
        CHECK_MESSAGE(said.find(word) != std::string::npos, said);
    };
    says(std::string(2000000, '['), "deep");
    says(R"({"design":)" + std::string(100000, '{'), "JSON");
    says(std::string(limits::file_bytes + 1, ' '), "KiB");
    says(R"({"format": "foreslice shared design", "version": NaN})", "JSON");
    says(R"({"format": "foreslice shared design", "version": 1e999})", "too large");
    says(R"({"format": "foreslice shared design", "format": 1})", "twice");
    says("\xff\xfe{}", "JSON");
}

TEST_CASE("shared picture: a design too large for its picture is not put into it") {
    Design design = samples::plain();
    Waypoints way;
    for (int i = 0; i < 10000; ++i)
        way.points_mm.push_back({10 + 0.001234567 * i, 84 - 0.001234567 * (i % 1000)});
    Stroke stroke;
    stroke.path = way;
    design.strokes.assign(20, stroke);
    CHECK_THROWS_WITH_AS(shared(design), doctest::Contains("too large to travel"), InputError);
}

TEST_CASE("shared picture: whatever changes in the text, a design comes out or an InputError") {
    const std::string text = *text_by_libpng(shared(samples::plain()), "Foreslice design");
    static const std::string spice = "{}[]\",:-+.eE0123456789\\u/ntf \x80\xff\x01";
    int opened = 0, refused = 0;
    for (std::uint64_t seed = 0; seed < 3000; ++seed) {
        std::string bytes = text;
        for (std::uint64_t i = 0; i <= seed % 3; ++i) {
            const auto at = static_cast<std::size_t>(mixed_bits(seed * 16 + i) % bytes.size());
            if (mixed_bits(seed * 16 + i + 8) % 3 == 0)
                bytes.erase(at, 1 + mixed_bits(seed + i) % 9);
            else
                bytes[at] = spice[static_cast<std::size_t>(mixed_bits(seed * 16 + i + 9) % spice.size())];
        }
        (refusal_of_picture(with_text(bytes)).empty() ? opened : refused) += 1;
    }
    CHECK(opened > 50);
    CHECK(refused > 500);
}
