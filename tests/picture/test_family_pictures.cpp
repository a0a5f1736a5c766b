// Orders, variations, line-ups, the gallery's page and paper at true scale.
#include <doctest/doctest.h>
#include <stb_image.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "design/family.h"
#include "foundation/error.h"
#include "picture/contact_paper.h"
#include "picture/gallery.h"
#include "picture/glance.h"
#include "picture/layers.h"
#include "picture/lineup.h"
#include "picture/orders.h"
#include "picture/poppler.h"
#include "picture/sample.h"
#include "picture/variations.h"
#include "picture/web_image.h"

using namespace foreslice;
using namespace foreslice::picture;
using foreslice::testing::library;
using foreslice::testing::sample_design;

namespace {

// Coarse and quick.
OrdersRequest quick_orders() {
    OrdersRequest request;
    request.width_px = 64;
    request.resolution.cells_across = 32;
    return request;
}

design::Design one_pass() {
    auto design = sample_design();
    std::get<design::Passes>(design.strokes[0].path).count = 1;
    return design;
}

// A coverage of whole pixels: one letter a material.
Coverage drawn_by_hand(const std::vector<std::string>& rows, int materials) {
    Coverage coverage;
    coverage.width_px = static_cast<int>(rows[0].size());
    coverage.height_px = static_cast<int>(rows.size());
    coverage.portions = materials;
    coverage.px_per_mm = 1;
    for (const auto& row : rows)
        for (const char c : row)
            for (int m = 0; m < materials; ++m)
                coverage.share.push_back(c == '?' ? static_cast<std::uint8_t>(m < 2 ? 127 + m : 0)
                                                  : static_cast<std::uint8_t>(c - 'a' == m ? 255 : 0));
    coverage.area_percent.assign(static_cast<std::size_t>(materials), 0);
    return coverage;
}

std::vector<colour::PortionColour> greys(int count) {
    std::vector<colour::PortionColour> colours;
    for (int i = 0; i < count; ++i) {
        colour::Spectrum flat{};
        flat.fill(0.05 + 0.3 * i);
        colours.push_back(colour::colour_of_reflectance(flat));
    }
    return colours;
}

}  // namespace

TEST_CASE("glance: contrast, muddy and plain shares of pictures whose answers are known") {
    const auto colours = greys(3);
    const auto contrasts = contrasts_of(colours);
    CHECK(contrasts[0] == 0);
    CHECK(contrasts[1] == doctest::Approx(colour::ciede2000(colours[0].lab, colours[1].lab)));
    const auto halves =
        glance_at(drawn_by_hand(std::vector<std::string>(8, "aaaabbbb"), 3), colours, contrasts);
    CHECK(halves.contrast_de00 == doctest::Approx(contrasts[1]));
    CHECK(halves.plain_percent == std::vector<double>{50, 50, 0});
    CHECK(halves.muddy_percent == 0);
    const auto edge =
        glance_at(drawn_by_hand(std::vector<std::string>(8, "aaaa?bbbb"), 3), colours, contrasts);
    CHECK(edge.muddy_percent == 0);  // an edge is not mud
    CHECK(edge.contrast_de00 == doctest::Approx(contrasts[1]));
    const auto mud =
        glance_at(drawn_by_hand(std::vector<std::string>(10, "??????????"), 3), colours, contrasts);
    CHECK(mud.muddy_percent == 64);  // all but the rim
    const auto one = glance_at(drawn_by_hand(std::vector<std::string>(8, "cccccccc"), 3), colours, contrasts);
    CHECK(one.contrast_de00 == 0);
    CHECK(unlike_de00(one.signature, one.signature) == 0);
    CHECK(unlike_de00(one.signature, halves.signature) == unlike_de00(halves.signature, one.signature));
    const auto white = colours[2].lab;
    CHECK(colour::ciede2000(one.signature[0], white) < 0.5);
}

TEST_CASE("likeness: groups gather cousins, and the reach grows until they fit the sheet") {
    std::vector<FaceSignature> faces(6);
    for (std::size_t i = 0; i < faces.size(); ++i)
        faces[i].fill(
            {i < 3 ? 20.0 + 0.5 * static_cast<double>(i) : 80.0 - 8.0 * static_cast<double>(i - 3), 0, 0});
    std::vector<const FaceSignature*> list;
    for (const auto& face : faces) list.push_back(&face);
    const auto fine = grouped(list, 2, 10);
    CHECK(fine.groups.size() == 4);
    CHECK(fine.groups[0] == std::vector<std::size_t>{0, 1, 2});
    CHECK(fine.reach_de00 == 2);
    const auto coarse = grouped(list, 2, 2);
    CHECK(coarse.groups.size() <= 2);
    CHECK(coarse.reach_de00 > 2);
    std::size_t members = 0;
    for (const auto& group : coarse.groups) members += group.size();
    CHECK(members == 6);
    CHECK(grouped(list, 0, 1).groups.size() == 1);
}

TEST_CASE("orders: the same face as a design with its pours in that order, from one flow") {
    WorkerPool pool(2);
    FaceMaker maker(pool, library());
    Progress progress;
    const auto design = one_pass();
    const auto ranked = ranked_orders(maker, design, quick_orders(), progress);
    REQUIRE(ranked.orders.size() == 24);  // 4!: the two pours of white differ in their unevenness
    const design::Layers layers(design);
    for (const std::size_t i : {std::size_t{0}, std::size_t{5}, std::size_t{11}}) {
        FaceRequest request{.px_per_mm = 64 / 60.0};
        request.resolution.cells_across = 32;
        const auto ordered = layers.in_order(ranked.orders[i].order);
        const auto face = maker.make(ordered, request, progress);
        const auto glance = glance_at(*face.coverage, face.colours, contrasts_of(face.colours));
        CHECK(glance.contrast_de00 == ranked.orders[i].glance.contrast_de00);
        CHECK(glance.muddy_percent == ranked.orders[i].glance.muddy_percent);
        CHECK(unlike_de00(glance.signature, ranked.orders[i].glance.signature) == 0);
        CHECK(ranked.orders[i].glance.face_percent == face.coverage->area_percent);
    }
}

TEST_CASE("orders: ranked by what is asked for, and the same on one thread and on two") {
    WorkerPool one(1), two(2);
    FaceMaker serial(one, library()), parallel(two, library());
    Progress progress;
    const auto design = one_pass();
    auto request = quick_orders();
    const auto by_contrast = ranked_orders(parallel, design, request, progress);
    CHECK(std::is_sorted(
        by_contrast.orders.begin(), by_contrast.orders.end(),
        [](const auto& a, const auto& b) { return a.glance.contrast_de00 > b.glance.contrast_de00; }));
    CHECK(by_contrast.accent == "amber");
    const auto again = ranked_orders(serial, design, request, progress);
    for (std::size_t i = 0; i < again.orders.size(); ++i) {
        CHECK(again.orders[i].order == by_contrast.orders[i].order);
        CHECK(again.orders[i].score == by_contrast.orders[i].score);
    }
    CHECK(again.groups == by_contrast.groups);
    request.aims = aims_from("accent=-1", design);
    const auto hidden = ranked_orders(parallel, design, request, progress);
    CHECK(hidden.orders.front().accent_percent <= hidden.orders.back().accent_percent);
    request.aims = aims_from("clean,contrast=0.5,share:ink=2", design);
    const auto mixed = ranked_orders(parallel, design, request, progress);
    CHECK(mixed.orders.front().score >= mixed.orders.back().score);
    request.aims = aims_from("kin", design);
    request.collection = {by_contrast.orders[3].glance.signature};
    const auto kin = ranked_orders(parallel, design, request, progress);
    CHECK(kin.orders.front().nearest_de00 == 0);
    CHECK(kin.orders.front().order == by_contrast.orders[3].order);
    request.aims = aims_from("apart", design);
    CHECK(ranked_orders(parallel, design, request, progress).orders.back().nearest_de00 == 0);
}

TEST_CASE("orders: what cannot be asked for is refused") {
    WorkerPool pool(1);
    FaceMaker maker(pool, library());
    Progress progress;
    const auto design = one_pass();
    for (const char* wrong : {"", "beauty", "contrast=x", "contrast=", "share:nobody", "contrast=1e9", "=2"})
        CHECK_THROWS_AS_MESSAGE(aims_from(wrong, design), InputError, wrong);
    auto request = quick_orders();
    request.aims = {{OrderAim::kin}};
    CHECK_THROWS_WITH_AS(ranked_orders(maker, design, request, progress), doctest::Contains("collection"),
                         InputError);
    request = quick_orders();
    request.accent = "nobody";
    CHECK_THROWS_WITH_AS(ranked_orders(maker, design, request, progress),
                         doctest::Contains("ink, white, amber"), InputError);
    auto single = design;
    single.pours.resize(1);
    single.portions = {{"ink", "ink", 100, {}, {"titanium-dioxide", 0}}};
    CHECK_THROWS_WITH_AS(ranked_orders(maker, single, quick_orders(), progress),
                         doctest::Contains("only one order"), InputError);
    Progress stopped;
    stopped.request_stop();
    CHECK_THROWS_AS(ranked_orders(maker, design, quick_orders(), stopped), Stopped);
}

TEST_CASE("variations: values run through a field; faults name the value") {
    const auto design = sample_design();
    const std::vector<design::FieldAxis> axes{design::axis_from("passes=1..3"),
                                              design::axis_from("batter.trace=light,medium")};
    const auto list = variations_of(design, axes, *library());
    REQUIRE(list.size() == 6);
    CHECK(list[0].values == std::vector<std::string>{"1", "light"});
    CHECK(list[4].values == std::vector<std::string>{"2", "medium"});
    CHECK(std::get<design::Passes>(list[4].design.strokes[0].path).count == 2);
    CHECK(list[4].design.batter.trace == batter::Trace::medium);
    CHECK_THROWS_WITH_AS(variations_of(design, {design::axis_from("wire_diameter_mm=4,40")}, *library()),
                         doctest::Contains("wire_diameter_mm=40"), InputError);
    CHECK_THROWS_AS(variations_of(design, {}, *library()), InputError);
    CHECK_THROWS_WITH_AS(
        variations_of(design, {design::axis_from("seed=1..40"), design::axis_from("age_days=1..4")},
                      *library()),
        doctest::Contains("160 faces"), InputError);
}

TEST_CASE("variations: a table by RFC 4180, one line a face") {
    auto design = sample_design();
    design.strokes.clear();
    const std::vector<design::FieldAxis> axes{{"name", {"plain", "with, comma", "with \"quotes\""}}};
    auto list = variations_of(design, axes, *library());
    WorkerPool pool(2);
    FaceMaker maker(pool, library());
    Progress progress;
    measure_all(maker, list, {.px_per_mm = 2}, progress);
    const std::string csv = variations_csv(design, axes, list);
    CHECK(std::count(csv.begin(), csv.end(), '\n') == 4);
    CHECK(csv.find("\"with, comma\",") != std::string::npos);
    CHECK(csv.find("\"with \"\"quotes\"\"\",") != std::string::npos);
    CHECK(csv.find("ink_face_percent,white_face_percent,amber_face_percent\n") != std::string::npos);
    const std::string first_line = csv.substr(0, csv.find('\n'));
    const std::string plain_line = csv.substr(csv.find("\nplain,") + 1);
    CHECK(std::count(first_line.begin(), first_line.end(), ',') ==
          std::count(plain_line.begin(),
                     plain_line.begin() + static_cast<std::ptrdiff_t>(plain_line.find('\n')), ','));
}

TEST_CASE("line-up: every bar stands on a shelf at one scale; alike pairs are found") {
    WorkerPool pool(2);
    FaceMaker maker(pool, library());
    Progress progress;
    auto tall = sample_design(), wide = sample_design();
    tall.strokes.clear();
    wide.strokes.clear();
    tall.mould = {40, 80, 200, 75};
    wide.mould = {90, 50, 200, 40};
    wide.portions[0].doses.clear();
    std::vector<LineupBar> bars;
    std::vector<FaceSignature> faces;
    for (const auto* design : {&tall, &wide, &tall}) {
        const auto face = family_face(maker, *design, 2, {}, progress);
        bars.push_back(face.bar);
        faces.push_back(face.signature);
    }
    const Image picture = lineup_picture("Family", "three soaps", bars, 2);
    CHECK(picture.width_px > 2 * (40 + 90 + 40));
    CHECK(picture.width_px < 2 * 400);
    for (std::size_t i = 3; i < picture.rgba.size(); i += 4) REQUIRE(int{picture.rgba[i]} == 255);
    const auto alike = alike_pairs(faces, 1);
    REQUIRE(alike.size() == 1);
    CHECK(alike[0].a == 0);
    CHECK(alike[0].b == 2);
    CHECK_THROWS_AS(lineup_picture("x", "", bars, 50), InputError);
}

TEST_CASE("web pictures: base64 as in RFC 4648 section 10; JPEG with every component in full") {
    CHECK(base64("").empty());
    CHECK(base64("f") == "Zg==");
    CHECK(base64("fo") == "Zm8=");
    CHECK(base64("foo") == "Zm9v");
    CHECK(base64("foob") == "Zm9vYg==");
    CHECK(base64("fooba") == "Zm9vYmE=");
    CHECK(base64("foobar") == "Zm9vYmFy");
    Image image(40, 24, {30, 90, 160});
    const std::string jpeg = jpeg_bytes(image);
    // ITU-T T.81, B.2.2: the frame header says height, width and how finely each component is sampled.
    const auto frame = jpeg.find("\xff\xc0");
    REQUIRE(frame != std::string::npos);
    CHECK(jpeg.rfind("\xff\xd8", 0) == 0);
    CHECK(jpeg.substr(jpeg.size() - 2) == "\xff\xd9");
    const auto byte = [&](std::size_t at) { return int{static_cast<unsigned char>(jpeg[frame + at])}; };
    CHECK(byte(5) * 256 + byte(6) == 24);
    CHECK(byte(7) * 256 + byte(8) == 40);
    CHECK(byte(9) == 3);
    for (const std::size_t component : {10, 13, 16}) CHECK(byte(component + 1) == 0x11);  // none halved
}

namespace {

GallerySoap sample_soap(const std::string& name) {
    auto design = sample_design();
    design.name = name;
    design.notes = "<script>alert(1)</script> & \"quotes\"";
    design.strokes.clear();
    WorkerPool pool(2);
    FaceMaker maker(pool, library());
    Progress progress;
    return gallery_soap(maker, design, 1, {.px_per_mm = 2, .orders = 3}, progress);
}

std::size_t count_of(const std::string& text, const std::string& part) {
    std::size_t count = 0;
    for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
    return count;
}

}  // namespace

TEST_CASE("gallery: one page with nothing from outside, alt texts, labels, and no way in for markup") {
    const auto soap = sample_soap("Evil </title><img src=x onerror=alert(1)>");
    REQUIRE(soap.orders.size() >= 1);
    CHECK(soap.orders.size() <= 3);
    const auto report = design::family_report({{soap.design, 1}}, *library(), 10);
    const std::string page = gallery_page({"Tarn & Quay", "notes"}, {soap, soap}, report, {{0, 1, 2.5}});
    CHECK(page.rfind("<!DOCTYPE html>", 0) == 0);
    for (const char* outside : {"http:", "https:", "//cdn", "@import", "url(", "<link", "<iframe"})
        CHECK_MESSAGE(page.find(outside) == std::string::npos, outside);
    CHECK(page.find("default-src 'none'") != std::string::npos);
    CHECK(page.find("<script>alert") == std::string::npos);
    CHECK(page.find("<img src=x") == std::string::npos);
    CHECK(page.find("Tarn &amp; Quay") != std::string::npos);
    CHECK(count_of(page, "<img ") == count_of(page, " alt=\""));
    CHECK(count_of(page, "src=\"data:image/jpeg;base64,") == count_of(page, "<img "));
    for (const char* label : {">1</button>", ">2</button>", ">1A</button>", ">2A</button>"})
        CHECK_MESSAGE(page.find(label) != std::string::npos, label);
    CHECK(page.find(colour::hex_of(soap.colours[0].srgb)) != std::string::npos);
    CHECK(page.find("look alike") != std::string::npos);
    CHECK(page.find("download=\"evil-title-img-src-x-onerror-alert-1.foreslice.json\"") != std::string::npos);
}

namespace {

PaperBar square(double width_mm, double height_mm) {
    return {Image(20, 20, {200, 30, 30}), width_mm, height_mm, "a bar", "to measure"};
}

// First and last column, or row, of a page where the red face shows, in px.
std::pair<int, int> red_span(const std::string& png, bool across) {
    int width = 0, height = 0, channels = 0;
    auto* pixels = stbi_load_from_memory(reinterpret_cast<const stbi_uc*>(png.data()),
                                         static_cast<int>(png.size()), &width, &height, &channels, 3);
    REQUIRE(pixels != nullptr);
    std::pair<int, int> span{1 << 30, -1};
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
            const auto* p = pixels + 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                                          static_cast<std::size_t>(x));
            if (p[0] < 150 || p[1] > 100) continue;
            span.first = std::min(span.first, across ? x : y);
            span.second = std::max(span.second, across ? x : y);
        }
    stbi_image_free(pixels);
    return span;
}

}  // namespace

TEST_CASE("contact sheet: a printed bar measures what it should (as Poppler lays the page out)") {
    const ContactPaper sheet{a4_paper, false, "True size", ""};
    Paper paper = Paper::pdf(sheet.paper, {"x"});
    draw_contact_paper(paper, sheet, {square(65, 78.8)});
    const std::string png = testing::page_of_pdf(paper.pdf_bytes(), 1, 508);  // 20 px to the mm
    const auto [left, right] = red_span(png, true);
    const auto [top, bottom] = red_span(png, false);
    CHECK(right - left + 1 == doctest::Approx(20 * 65).epsilon(0.002));
    CHECK(bottom - top + 1 == doctest::Approx(20 * 78.8).epsilon(0.002));
    const auto place = places_on(sheet, {square(65, 78.8)})[0].face;
    CHECK(left == doctest::Approx(20 * place.x).epsilon(0.01));
    CHECK(top == doctest::Approx(20 * place.y).epsilon(0.01));
}

TEST_CASE("contact sheet: bars lie beside each other without touching, page after page, inside the margins") {
    const ContactPaper sheet{letter_paper, true, "Many", "of them"};
    std::vector<PaperBar> bars;
    for (int i = 0; i < 17; ++i) bars.push_back(square(50 + i, 70 + (i % 3) * 20));
    const auto places = places_on(sheet, bars);
    REQUIRE(places.size() == bars.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        const auto& a = places[i].face;
        CHECK(a.x >= 10);
        CHECK(a.x + a.width <= sheet.paper.width_mm - 10);
        CHECK(a.y + a.height <= sheet.paper.height_mm - 20);
        for (std::size_t j = 0; j < i; ++j) {
            const auto& b = places[j].face;
            const bool apart = places[i].page != places[j].page || a.x >= b.x + b.width + 8 ||
                               b.x >= a.x + a.width + 8 || a.y >= b.y + b.height + 8 ||
                               b.y >= a.y + a.height + 8;
            CHECK(apart);
        }
    }
    Paper paper = Paper::pdf(sheet.paper, {"x"});
    draw_contact_paper(paper, sheet, bars);
    CHECK(paper.page_count() == places.back().page + 1);
    CHECK_THROWS_WITH_AS(places_on(sheet, {square(400, 50)}), doctest::Contains("does not fit"), InputError);
}

TEST_CASE("contact sheet: crop marks stand in line with the edges, off the face") {
    const ContactPaper sheet{a4_paper, true, "", ""};
    Paper paper = Paper::pictures(sheet.paper, 10);
    draw_contact_paper(paper, sheet, {square(60, 80)});
    const Image page = paper.images()[0];
    const auto face = places_on(sheet, {square(60, 80)})[0].face;
    const auto dark = [&](double x_mm, double y_mm) {
        int least = 255;
        for (int dx = -2; dx <= 2; ++dx)
            for (int dy = -2; dy <= 2; ++dy) {
                const auto x = static_cast<std::size_t>(std::lround(x_mm * 10) + dx),
                           y = static_cast<std::size_t>(std::lround(y_mm * 10) + dy);
                least = std::min(least,
                                 int{page.rgba[4 * (y * static_cast<std::size_t>(page.width_px) + x) + 1]});
            }
        return least < 160;
    };
    for (const double x : {face.x, face.x + face.width}) {
        CHECK(dark(x, face.y - 4));
        CHECK(dark(x, face.y + face.height + 4));
        CHECK_FALSE(dark(x + 2, face.y - 4));
    }
    for (const double y : {face.y, face.y + face.height}) {
        CHECK(dark(face.x - 4, y));
        CHECK(dark(face.x + face.width + 4, y));
    }
}
