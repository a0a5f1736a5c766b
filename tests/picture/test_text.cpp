#include <doctest/doctest.h>

#include <algorithm>

#include "design/design_file.h"
#include "picture/caption.h"
#include "picture/sample.h"
#include "picture/text.h"

using namespace foreslice;
using picture::Font;

TEST_CASE("the bundled typeface has every letter that the plates use") {
    for (const Font* font : {&Font::regular(), &Font::semibold()}) {
        for (const char* text : picture::words::all) CHECK_MESSAGE(font->covers(text), text);
        for (auto trace : batter::all_traces) CHECK(font->covers(batter::name_of(trace)));
        for (const auto& colourant : testing::library()->colourants())
            CHECK_MESSAGE(font->covers(colourant.name), colourant.name);
        auto design = testing::sample_design();
        design.batter.trace.reset();
        design.batter.explicit_rheology = {12.5, 0.5, 30};
        CHECK(font->covers(picture::batter_words(design)));
        CHECK(font->covers(picture::wire_words(design)));
        CHECK(font->covers(picture::pour_words(design)));
        CHECK(font->covers("0123456789.,-–… %·×"));
        CHECK_FALSE(font->covers("\xe6\xb0\xb4"));  // a CJK sign: shown as a box
    }
}

TEST_CASE("the demo's names can be written") {
    int designs = 0;
    for (const auto& entry : std::filesystem::directory_iterator(FORESLICE_SOURCE "/palettes")) {
        if (!entry.path().filename().string().ends_with(".foreslice.json")) continue;
        const auto design = design::load(entry.path());
        ++designs;
        CHECK(Font::semibold().covers(design.name));
        for (const auto& portion : design.portions) CHECK(Font::semibold().covers(portion.name));
    }
    CHECK(designs >= 4);
}

TEST_CASE("UTF-8 is read, and broken bytes become U+FFFD") {
    CHECK(picture::characters_of("aé€𝄞") == U"aé€𝄞");
    CHECK(picture::characters_of("a\xff"
                                 "b") == U"a\ufffdb");
    CHECK(picture::characters_of("\xc3") == U"\ufffd");
    CHECK(picture::characters_of("\xe2\x82") == U"\ufffd\ufffd");
    CHECK(picture::characters_of("") == U"");
}

TEST_CASE("widths add up with size, and drawing advances as measured") {
    const Font& font = Font::regular();
    const double one = font.width_px("Wavy Tallow", 20);
    CHECK(one > 60);
    CHECK(font.width_px("Wavy Tallow", 40) == doctest::Approx(2 * one).epsilon(1e-6));
    picture::Image page(200, 40, {255, 255, 255});
    CHECK(font.draw(page, 5, 28, 20, {}, "Wavy Tallow") == doctest::Approx(one).epsilon(1e-9));
    CHECK(*std::min_element(page.rgba.begin(), page.rgba.end()) < 40);  // ink was laid
}

TEST_CASE("text beyond the picture's edge is left out without harm") {
    picture::Image page(30, 20, {255, 255, 255});
    Font::semibold().draw(page, -15, 4, 30, {}, "over the edge");
    Font::semibold().draw(page, 20, 300, 30, {}, "below");
    CHECK(page.rgba.size() == 30 * 20 * 4);
}

TEST_CASE("text that does not fit ends in an ellipsis, never inside a character") {
    const Font& font = Font::regular();
    CHECK(font.fitted("short", 14, 500) == "short");
    const std::string cut = font.fitted("éééééééééééééééé", 14, 60);
    CHECK(cut.ends_with("…"));
    CHECK(font.width_px(cut, 14) <= 60);
    const auto characters = picture::characters_of(cut);
    CHECK(std::count(characters.begin(), characters.end(), U'\ufffd') == 0);
}

TEST_CASE("numbers read the way people write them") {
    CHECK(picture::short_number(0.684, 2) == "0.68");
    CHECK(picture::short_number(12.0, 3) == "12");
    CHECK(picture::short_number(0.05, 2) == "0.05");
    CHECK(picture::short_number(1234.6, 2) == "1235");
    CHECK(picture::short_number(-0.2, 3) == "-0.2");
    CHECK(picture::short_number(0, 3) == "0");
    CHECK(picture::short_number(9.96, 2) == "10");
}
