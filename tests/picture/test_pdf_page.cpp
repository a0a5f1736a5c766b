#include <doctest/doctest.h>

#include <cmath>

#include "picture/pdf_page.h"
#include "picture/poppler.h"
#include "text.h"

using namespace foreslice;
using namespace foreslice::testing;
using namespace foreslice::picture;

namespace {

void draw_two_pages(Paper& paper) {
    paper.text({20, 30}, "Weigh 141.2 g – then stir", {24, Weight::semibold});
    paper.text({190, 45}, "right end", {10, Weight::regular, 0x555555, Align::right});
    paper.fill({20, 60, 40, 20}, 0x336699);
    Image picture(8, 8, {200, 40, 30});
    paper.image(picture, {100, 60, 40, 40});
    paper.next_page();
    paper.text({20, 30}, "second page 3x4 -> \"fi\" é Ω", {11});
}

std::string sample_pdf() {
    Paper paper = Paper::pdf(a4_paper, {"A title", "A subject"});
    draw_two_pages(paper);
    CHECK(paper.page_count() == 2);
    return paper.pdf_bytes();
}

const std::uint8_t* pixel(const Image& image, int x, int y) {
    return &image.rgba[4 * static_cast<std::size_t>(y * image.width_px + x)];
}

}  // namespace

TEST_CASE("pages: the text of a PDF can be selected, as it was written") {
    const std::string text = testing::text_of_pdf(sample_pdf());
    CHECK_MESSAGE(contains(text, "Weigh 141.2 g – then stir"), text);
    CHECK_MESSAGE(contains(text, "right end"), text);
    CHECK_MESSAGE(contains(text, "second page 3x4 -> \"fi\" é Ω"), text);
}

TEST_CASE("pages: both weights of the typeface are embedded") {
    const std::string fonts = testing::fonts_of_pdf(sample_pdf());
    for (const char* name : {"Inter-Regular", "Inter-SemiBold"}) {
        const auto at = fonts.find(name);
        REQUIRE_MESSAGE(at != std::string::npos, fonts);
        const std::string row = fonts.substr(at, fonts.find('\n', at) - at);
        CHECK_MESSAGE(contains(row, "yes yes yes"), row);  // embedded, a subset, with its Unicode table
    }
}

TEST_CASE("pages: size, title and count are told, and the same pages are the same bytes") {
    const std::string pdf = sample_pdf();
    const std::string facts = testing::facts_of_pdf(pdf);
    CHECK_MESSAGE(contains(facts, "A title"), facts);
    CHECK_MESSAGE(contains(facts, "(A4)"), facts);
    CHECK_MESSAGE(contains(facts, "Pages:           2"), facts);
    CHECK(pdf == sample_pdf());
    Paper letter = Paper::pdf(letter_paper, {"x"});
    CHECK(contains(testing::facts_of_pdf(letter.pdf_bytes()), "612 x 792 pts (letter)"));
}

TEST_CASE("pages: pictures show what was drawn where it was drawn") {
    Paper paper = Paper::pictures(a4_paper, 4);
    draw_two_pages(paper);
    const auto pages = paper.images();
    REQUIRE(pages.size() == 2);
    CHECK(pages[0].width_px == 840);
    CHECK(pages[0].height_px == 1188);
    CHECK(int{pixel(pages[0], 2, 2)[0]} == 255);
    CHECK(int{pixel(pages[0], 160, 280)[0]} == 0x33);
    CHECK(int{pixel(pages[0], 160, 280)[2]} == 0x99);
    CHECK(int{pixel(pages[0], 480, 320)[0]} == 200);
    CHECK(int{pixel(pages[0], 480, 320)[1]} == 40);
}

TEST_CASE("pages: widths scale with the size; kerning and even digits count") {
    Paper paper = Paper::pdf(a4_paper, {"x"});
    const double one = paper.width_mm("Wavy AVAVA", {10});
    CHECK(one > 10);
    CHECK(paper.width_mm("Wavy AVAVA", {20}) == doctest::Approx(2 * one).epsilon(1e-9));
    CHECK(paper.width_mm("AV", {10}) < paper.width_mm("A", {10}) + paper.width_mm("V", {10}));
    const TextStyle even{10, Weight::regular, 0, Align::left, true};
    CHECK(paper.width_mm("1111", even) == doctest::Approx(paper.width_mm("8888", even)));
    CHECK(paper.width_mm("1111", {10}) < paper.width_mm("8888", {10}));
}

TEST_CASE("pages: text is broken at blanks and cut where it does not fit") {
    const Paper paper = Paper::pdf(a4_paper, {"x"});
    const TextStyle style{10};
    const auto lines = paper.wrapped("Pour the lye into the water and never the other way", style, 40);
    CHECK(lines.size() >= 2);
    std::string joined;
    for (const auto& line : lines) {
        CHECK(paper.width_mm(line, style) <= 40);
        joined += (joined.empty() ? "" : " ") + line;
    }
    CHECK(joined == "Pour the lye into the water and never the other way");
    const std::string cut = paper.fitted("a very long name of a portion", style, 20);
    CHECK(cut.ends_with("…"));
    CHECK(paper.width_mm(cut, style) <= 20);
    CHECK(paper.wrapped("", style, 40).empty());
}

TEST_CASE("pages: broken text does no harm") {
    Paper paper = Paper::pdf(a4_paper, {std::string("bad \xff title")});
    paper.text({20, 20}, std::string_view("a\xff\x00\nb\xed\xa0\x80", 8), {10});
    paper.text({20, 30}, "", {10});
    const std::string text = testing::text_of_pdf(paper.pdf_bytes());
    CHECK(contains(text, "a"));
    CHECK(contains(text, "b"));
}
