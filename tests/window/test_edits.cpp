#include <doctest/doctest.h>

#include <cmath>

#include "colour/pigment.h"
#include "design/validation.h"
#include "studio/session/edits.h"

using namespace foreslice;
using namespace foreslice::studio;

namespace {

double shares_together(const Design& design) {
    double sum = 0;
    for (const auto& portion : design.portions) sum += portion.share_percent;
    return sum;
}

std::string pours_in_order(const Design& design) {
    std::string out;
    for (const auto& pour : design.pours) out += pour.portion + " ";
    return out;
}

}  // namespace

TEST_CASE("the design to begin with can be made, with colourants that the library has") {
    const auto library = colour::ColourantLibrary::load(FORESLICE_SOURCE "/palettes/colourants.json");
    CHECK_NOTHROW(design::validate(starter_design()));
    CHECK_NOTHROW(design::validate(starter_design(), library));
}

TEST_CASE("shares always add up, whatever one portion is given") {
    for (const double share : {0.0, 0.5, 1.0, 33.3, 50.0, 98.5, 100.0, 1000.0}) {
        const auto design = with_share(starter_design(), 1, share);
        CHECK(std::abs(shares_together(design) - 100) < 1e-9);
        for (const auto& portion : design.portions) CHECK(portion.share_percent >= 0.5);
        CHECK_NOTHROW(design::validate(design));
    }
    const auto design = with_share(starter_design(), 0, 40);
    CHECK(design.portions[0].share_percent == 40);
    // The others keep their proportions: 30 : 10 : 30 of the remaining 60.
    CHECK(design.portions[1].share_percent == doctest::Approx(25.7).epsilon(0.01));
    CHECK(design.portions[2].share_percent == doctest::Approx(8.6).epsilon(0.01));
}

TEST_CASE("portions come and go with their pours") {
    auto design = with_new_portion(starter_design());
    CHECK(design.portions.size() == 5);
    CHECK(design.pours.back().portion == design.portions.back().id);
    CHECK(std::abs(shares_together(design) - 100) < 1e-9);
    CHECK_NOTHROW(design::validate(design));
    design = without_portion(design, 0);
    CHECK(!design::find_portion(design, "ink"));
    CHECK(pours_in_order(design).find("ink") == std::string::npos);
    CHECK(std::abs(shares_together(design) - 100) < 1e-9);
    while (design.portions.size() > 1) design = without_portion(design, 0);
    CHECK(without_portion(design, 0) == design);  // the last one stays
    CHECK(design.portions[0].share_percent == 100);
    CHECK_NOTHROW(design::validate(design));
}

TEST_CASE("pours move by whole places and the others keep their order") {
    const auto design = starter_design();
    CHECK(pours_in_order(design) == "ink haze salt ink lamp haze salt ");
    CHECK(pours_in_order(with_pour_moved(design, 0, 2)) == "haze salt ink ink lamp haze salt ");
    CHECK(pours_in_order(with_pour_moved(design, 4, 1)) == "ink lamp haze salt ink haze salt ");
    CHECK(with_pour_moved(with_pour_moved(design, 4, 1), 1, 4) == design);
    CHECK(with_pour_moved(design, 0, 99) == design);
}

TEST_CASE("a pour can go only while its portion has another one") {
    auto design = starter_design();
    CHECK(!pour_can_go(design, 4));  // lamp is poured once
    CHECK(without_pour(design, 4) == design);
    design.pours[0].part_percent = 30;
    design.pours[3].part_percent = 70;
    design = without_pour(design, 0);
    CHECK(pours_in_order(design) == "haze salt ink lamp haze salt ");
    CHECK(!design.pours[2].part_percent);  // takes all of it now
    CHECK_NOTHROW(design::validate(design));
}

TEST_CASE("a colourant is added once") {
    auto design = with_colourant(starter_design(), 3, "activated-charcoal", 2);
    CHECK(design.portions[3].doses.size() == 1);
    CHECK(with_colourant(design, 3, "activated-charcoal", 5) == design);
    CHECK(with_colourant(design, 3, "titanium-dioxide", 5) == design);  // that is its white
    CHECK(without_dose(design, 3, 0) == starter_design());
}

TEST_CASE("passes written out go the same way") {
    const auto design = starter_design();
    const auto written = with_passes_written_out(design, 0);
    REQUIRE(std::holds_alternative<design::Waypoints>(written.strokes[0].path));
    const auto before = design::path_of(design.strokes[0], design);
    const auto after = design::path_of(written.strokes[0], written);
    REQUIRE(after.size() == before.size());
    for (std::size_t i = 0; i < before.size(); ++i) CHECK(length(after[i] - before[i]) <= 0.08);
    CHECK_NOTHROW(design::validate(written));
}

TEST_CASE("a further stroke goes between the passes of the one before, and never just undoes it") {
    Design design = starter_design();
    const auto first = std::get<design::Passes>(design.strokes[0].path);
    design = with_new_stroke(design);
    REQUIRE(design.strokes.size() == 2);
    CHECK(without_stroke(design, 1) == starter_design());
    const auto second = std::get<design::Passes>(design.strokes[1].path);
    const double spacing_mm = (design.mould.width_mm - 2 * first.margin_mm) / (first.count - 1);
    CHECK(second.count == first.count - 1);
    CHECK(second.margin_mm == doctest::Approx(first.margin_mm + spacing_mm / 2).epsilon(0.01));
    while (design.strokes.size() < 6) {
        CHECK_NOTHROW(design::validate(design));
        design = with_new_stroke(std::move(design));
    }
    CHECK_NOTHROW(design::validate(design));
}
