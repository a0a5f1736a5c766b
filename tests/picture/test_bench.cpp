#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "design/design_file.h"
#include "design/identity.h"
#include "design/tint.h"
#include "foundation/csv.h"
#include "foundation/text_file.h"
#include "picture/bench_files.h"
#include "picture/bench_page.h"
#include "picture/bench_words.h"
#include "picture/golden.h"
#include "picture/poppler.h"
#include "picture/qr.h"
#include "picture/sample.h"
#include "picture/text.h"
#include "text.h"

using namespace foreslice;
using namespace foreslice::testing;
using namespace foreslice::picture;
using nlohmann::json;

namespace {

const batter::OilsTable& oils() {
    static const auto table =
        batter::OilsTable::load(std::filesystem::path(FORESLICE_SOURCE) / "palettes" / "oils.csv");
    return table;
}

design::Design demo(const std::string& name) {
    return design::load(std::filesystem::path(FORESLICE_SOURCE) / "palettes" / (name + ".foreslice.json"));
}

BenchOptions dated() {
    BenchOptions options;
    options.date = bench_date_from_text("2026-11-26");
    options.batch_number = "A-17";
    return options;
}

BenchSheet sheet_of(const design::Design& design, const BenchOptions& options = dated(),
                    const batter::Stock* stock = nullptr) {
    const auto& library = *testing::library();
    const auto plan = design::plan_batch(design, oils(), library);
    return bench_sheet({design, plan, library, design::warnings(design, library), stock, {}}, options);
}

/// A kept copy of a soap, without what changes when other parts of the program get better at warning.
BenchSheet kept_sheet() {
    const auto design =
        design::load(std::filesystem::path(FORESLICE_TEST_DATA) / "bench" / "slipway.foreslice.json");
    const auto& library = *testing::library();
    const auto plan = design::plan_batch(design, oils(), library);
    BenchSheet sheet = bench_sheet({design, plan, library, {}, nullptr, {}}, dated());
    sheet.code = "FS-00000-00000-000";
    return sheet;
}

/// Runs of blanks as one, so that lines broken by the page still match.
std::string flat(const std::string& text) {
    std::string out;
    for (const char c : text)
        if (!std::isspace(static_cast<unsigned char>(c)))
            out += c;
        else if (!out.empty() && out.back() != ' ')
            out += ' ';
    return out;
}

std::int64_t steps_of(const std::vector<BenchJug>& jugs) {
    std::int64_t sum = 0;
    for (const BenchJug& jug : jugs) sum += jug.plain.weight->steps;
    return sum;
}

/// Every opened element is closed in order; attributes are quoted; no stray < or &.
bool well_formed(const std::string& html, std::string& why) {
    std::vector<std::string> open;
    for (std::size_t at = html.find('<', 15); at != std::string::npos; at = html.find('<', at + 1)) {
        const std::size_t end = html.find('>', at);
        if (end == std::string::npos) return why = "unclosed tag", false;
        const std::string tag = html.substr(at + 1, end - at - 1);
        if (std::count(tag.begin(), tag.end(), '"') % 2 != 0) return why = tag, false;
        const std::string name =
            tag.substr(tag[0] == '/' ? 1 : 0, tag.find_first_of(" /", 1) - (tag[0] == '/' ? 1 : 0));
        if (tag[0] == '/') {
            if (open.empty() || open.back() != tag.substr(1)) return why = tag, false;
            open.pop_back();
        } else if (tag.back() != '/') {
            open.push_back(name);
        }
        at = end;
    }
    if (!open.empty()) why = open.back();
    return open.empty();
}

}  // namespace

TEST_CASE("bench: what is shown adds up, and the lye is never rounded up") {
    for (const char* name : {"slipway", "fog-signal", "ropewalk", "brass-mooring"}) {
        for (const auto units : {batter::UnitSystem::metric, batter::UnitSystem::us}) {
            BenchOptions options = dated();
            options.units = units;
            const BenchSheet sheet = sheet_of(demo(name), options);
            double shown_g = -sheet.plan.split.oil_held_back_g - sheet.plan.split.water_held_back_g;
            for (const BenchTable& table : sheet.tables)
                for (const BenchRow& row : table.rows) {
                    shown_g += row.weight->shown_g();
                    CHECK(std::abs(row.weight->rounding_g()) <= 1.001 * row.weight->scale.step_g());
                    if (row.id == batter::naoh_id) CHECK(row.weight->shown_g() <= row.weight->exact_g + 1e-6);
                }
            const auto scale = sheet.jugs.front().plain.weight->scale;
            CHECK(steps_of(sheet.jugs) == batter::weighed(shown_g, scale).steps);
            CHECK(std::abs(shown_g - sheet.plan.split.pot_g) < 4 * scale.step_g());
        }
    }
}

TEST_CASE("bench: the tolerance of a powder is the colour model's own difference") {
    const design::Design design = demo("slipway");
    const BenchSheet sheet = sheet_of(design);
    const auto& library = *testing::library();
    const BenchJug& dusk = sheet.jugs[4];
    REQUIRE(dusk.plain.id == "dusk");
    REQUIRE(dusk.powders[0].row.id == "ultramarine-pink");
    design::Design more = design;
    more.portions[4].doses[0].g_per_kg_oils += 100 / sheet.plan.split.jugs[4].oils_g;
    const double expected = colour::ciede2000(design::colour_of(design.portions[4], design, library).lab,
                                              design::colour_of(more.portions[4], more, library).lab);
    CHECK(expected > 0.05);
    CHECK(dusk.powders[0].de00_per_tenth_g == doctest::Approx(expected).epsilon(1e-9));
    // Little powder in a small jug matters most; a tenth of a gram of batter hardly at all.
    for (const BenchJug& jug : sheet.jugs) CHECK(jug.de00_per_tenth_g < 0.05);
    CHECK_FALSE(sheet.weigh_best.empty());
}

TEST_CASE("bench: the PDF has all figures as text, on two pages of A4 or Letter") {
    for (const char* name : {"slipway", "bow-wave", "ebb-tide", "fog-signal", "brass-mooring", "net-loft"})
        for (const PaperSize paper : {a4_paper, letter_paper}) {
            const BenchSheet sheet = sheet_of(demo(name));
            const std::string pdf = bench_pdf({sheet}, nullptr, paper);
            const std::string facts = testing::facts_of_pdf(pdf);
            CHECK_MESSAGE(contains(facts, "Pages:           2"), name << "\n" << facts);
            const std::string text = flat(testing::text_of_pdf(pdf));
            CHECK(contains(text, sheet.title));
            CHECK(contains(text, sheet.code));
            CHECK(contains(text, "Thu 26 Nov 2026"));
            CHECK(contains(text, "A-17"));
            for (const BenchTable& table : sheet.tables)
                for (const BenchRow& row : table.rows)
                    CHECK_MESSAGE(contains(text, row.weight->text()), row.name << " in " << text);
            for (const BenchJug& jug : sheet.jugs) {
                CHECK(contains(text, jug.plain.name));
                CHECK(contains(text, jug.plain.weight->text()));
                for (const BenchPowder& powder : jug.powders)
                    CHECK(contains(text, powder.row.weight->text()));
            }
            for (const char* word : {"goggles", "Never water onto lye", "dust mask", "see a doctor",
                                     "not a safety assessment", "Order of work", "No aluminium"})
                CHECK_MESSAGE(contains(text, word), word);
        }
}

TEST_CASE("bench: the PDF embeds its fonts and is the same bytes every time") {
    const BenchSheet sheet = sheet_of(demo("slipway"));
    const std::string pdf = bench_pdf({sheet}, nullptr, a4_paper);
    CHECK(pdf == bench_pdf({sheet}, nullptr, a4_paper));
    CHECK(contains(testing::fonts_of_pdf(pdf), "Inter-SemiBold"));
    CHECK_FALSE(contains(testing::fonts_of_pdf(pdf), " no  "));
}

TEST_CASE("bench: the sheet of a demo soap reads as it did when it was looked at") {
    const std::string text = flat(testing::text_of_pdf(bench_pdf({kept_sheet()}, nullptr, a4_paper)));
    const auto path = std::filesystem::path(FORESLICE_TEST_DATA) / "golden" / "sheet-slipway.txt";
    const std::string kept = flat(read_file(path));
    if (text != kept) {
        const auto now = std::filesystem::temp_directory_path() / "foreslice-sheet-slipway.txt";
        write_file_atomically(now, text);
        FAIL_CHECK("the text differs; the new one is in " << now.string());
    }
}

TEST_CASE("bench: the first page looks as it did when it was looked at") {
    const auto pages = bench_pictures({kept_sheet()}, nullptr, a4_paper, 3);
    REQUIRE(pages.size() == 2);
    testing::check_golden(pages[0], "sheet-slipway", 0.3, 12);
}

TEST_CASE("bench: HTML is well-formed and needs nothing else") {
    design::Design design = demo("slipway");
    design.name = "Slip & <way> \"A\"";
    const std::string html = bench_html({sheet_of(design)}, nullptr);
    std::string why;
    CHECK_MESSAGE(well_formed(html, why), why);
    CHECK(contains(html, "Slip &amp; &lt;way&gt; &quot;A&quot;"));
    CHECK_FALSE(contains(html, "src=\"http"));
    CHECK_FALSE(contains(html, "url("));
    CHECK(contains(html, "data:image/png;base64,"));
    CHECK(contains(html, "Never water onto lye"));
}

TEST_CASE("bench: JSON and the table of weights say what the sheet says") {
    const BenchSheet sheet = sheet_of(demo("slipway"));
    const json out = json::parse(bench_json({sheet}, nullptr));
    CHECK(out["code"] == sheet.code);
    CHECK(out["figures"]["sodium_hydroxide_g"].get<double>() ==
          doctest::Approx(sheet.plan.batch.naoh_g).epsilon(1e-5));
    CHECK(out["figures"]["superfat_range_percent"][0].get<double>() <
          out["figures"]["superfat_percent"].get<double>());
    for (const auto& oil : out["figures"]["oils"]) CHECK_FALSE(oil["source"].get<std::string>().empty());
    CHECK(out["jugs"].size() == sheet.jugs.size());
    CHECK(out["steps"].size() == sheet.steps.size());
    CHECK(out["cautions"].size() >= 7);

    const CsvTable table = csv_from_text(bench_csv({sheet}, nullptr), "sheet.csv");
    double plain = 0, jugs = 0;
    for (const auto& row : table.rows) {
        const double g = std::stod(row.cells[table.column("exact_g")]);
        const std::string& part = row.cells[table.column("part")];
        if (part == "oils" || part == "lye" || part == "extras") plain += g;
        if (part == "jug") jugs += g;
    }
    CHECK(plain == doctest::Approx(sheet.plan.batch.batter_g).epsilon(1e-4));
    CHECK(jugs == doctest::Approx(sheet.plan.split.pot_g).epsilon(1e-4));
}

TEST_CASE("bench: a collection shares pastes and shows what is short") {
    const BenchSheet one = sheet_of(demo("slipway")), two = sheet_of(demo("ropewalk"));
    BenchCollection collection{"Last Ferry", "", {"Slipway", "Ropewalk"}, {}, {}, "EUR", {0.1}};
    collection.pastes =
        batter::masterbatches_of({{"Slipway", &one.plan.split}, {"Ropewalk", &two.plan.split}});
    auto needs = needs_of(one.plan);
    for (const auto& need : needs_of(two.plan)) needs.push_back(need);
    const auto stock =
        batter::Stock::load(std::filesystem::path(FORESLICE_SOURCE) / "palettes" / "harbour-stock.csv");
    collection.cost = cost_of(needs, stock);
    const std::string text = flat(testing::text_of_pdf(bench_pdf({one, two}, &collection, a4_paper)));
    CHECK(contains(text, "titanium dioxide paste"));
    CHECK(contains(text, "Needed and on the shelf"));
    const json out = json::parse(bench_json({one, two}, &collection));
    double white = 0;
    for (const auto& paste : out["collection"]["pastes"])
        if (paste["id"] == "titanium-dioxide") white = paste["powder_g"];
    double needed = 0;
    for (const BenchSheet* sheet : {&one, &two})
        for (const auto& jug : sheet->plan.split.jugs)
            for (const auto& powder : jug.powders)
                if (powder.id == "titanium-dioxide") needed += powder.g;
    CHECK(white == doctest::Approx(1.1 * needed).epsilon(1e-3));
    const BenchSheet priced = sheet_of(demo("slipway"), dated(), &stock);
    REQUIRE(priced.cost.has_value());
    CHECK(priced.cost_per_bar == doctest::Approx(priced.cost->total / priced.bars));
    CHECK(priced.cost->complete);
}

TEST_CASE("bench: dates follow the calendar") {
    // Weekdays of well-known days: 1 January 2000 was a Saturday, 29 February 2000 a Tuesday (ISO 8601
    // examples and almanacs, from memory).
    CHECK(date_words(*bench_date_from_text("2000-01-01")) == "Sat 1 Jan 2000");
    CHECK(date_words(*bench_date_from_text("2000-02-29")) == "Tue 29 Feb 2000");
    CHECK(date_words(later(*bench_date_from_text("2024-02-28"), 48)) == "Fri 1 Mar 2024");
    CHECK(date_words(later(*bench_date_from_text("2026-12-31T18:30"), 18)) == "Fri 1 Jan 2027, 12:30");
    for (const char* wrong : {"", "2026-13-01", "2026-02-30", "26-11-2026", "2026-11-26T25:00",
                              "2026-11-26 09:00", "2026-1-1", "tomorrow", "2026-11-26T09:00Z"})
        CHECK_MESSAGE(!bench_date_from_text(wrong), wrong);
    const BenchSheet undated = sheet_of(demo("slipway"), {});
    CHECK(undated.date.empty());
    CHECK(undated.dates.back().value == "day 28");
    CHECK(sheet_of(demo("slipway")).dates.back().value == "Thu 24 Dec 2026");
}

TEST_CASE("bench: the code names one exact design") {
    const design::Design design = demo("slipway");
    const std::string code = design::identity_code(design);
    CHECK(code.size() == 18);
    CHECK(code == design::identity_code(design::parse(design::to_json(design), "again")));
    design::Design other = design;
    other.portions[2].white.g_per_kg_oils += 0.01;
    CHECK(design::identity_code(other) != code);
    // Finder patterns of ISO/IEC 18004 in three corners: 7 x 7 dark, a light ring, 3 x 3 dark.
    const QrCode qr = qr_code(code);
    CHECK(qr.side >= 21);
    for (const auto& [x0, y0] : {std::pair{0, 0}, {qr.side - 7, 0}, {0, qr.side - 7}})
        for (int y = 0; y < 7; ++y)
            for (int x = 0; x < 7; ++x) {
                const int ring = std::max(std::abs(x - 3), std::abs(y - 3));
                CHECK(qr.at(x0 + x, y0 + y) == (ring != 2));
            }
}

TEST_CASE("bench: every sign on the sheet has its glyph, and long names are held") {
    design::Design design = demo("slipway");
    design.name =
        "An exceedingly long name for a soap that would run off any page if nobody stopped it at the edge";
    for (auto& portion : design.portions)
        portion.name = "a portion with a name that is much longer than its card";
    design.bench.top_allowance_mm = 4;
    const BenchSheet sheet = sheet_of(design);
    CHECK(contains(testing::facts_of_pdf(bench_pdf({sheet}, nullptr, a4_paper)), "Pages:           2"));
    const Font& font = Font::regular();
    for (const auto& caution : sheet.cautions) CHECK_MESSAGE(font.covers(caution), caution);
    for (const auto& step : sheet.steps) {
        CHECK(font.covers(step.when));
        for (const auto& line : step.lines) CHECK_MESSAGE(font.covers(line), line);
    }
    for (const auto& jug : sheet.jugs)
        for (const auto& powder : jug.powders) CHECK_MESSAGE(font.covers(powder.spoon), powder.spoon);
    CHECK(font.covers(sheet.jugs_note));
    CHECK(contains(flat(testing::text_of_pdf(bench_pdf({sheet}, nullptr, a4_paper))), "Keep back"));
}

TEST_CASE("bench: very many portions go onto further pages, none is lost") {
    design::Design design = demo("slipway");
    const design::Portion pattern = design.portions[0];
    design.portions.clear();
    design.pours.clear();
    for (int i = 0; i < 40; ++i) {
        design::Portion portion = pattern;
        portion.id = std::to_string(i);
        portion.name = std::string("portion ").append(portion.id);
        portion.share_percent = 2.5;
        design.portions.push_back(portion);
        design.pours.push_back({portion.id, std::nullopt});
    }
    const std::string text = flat(testing::text_of_pdf(bench_pdf({sheet_of(design)}, nullptr, letter_paper)));
    for (int i = 0; i < 40; ++i) CHECK(contains(text, std::string("portion ").append(std::to_string(i))));
    CHECK(contains(text, "Never water onto lye"));
}
