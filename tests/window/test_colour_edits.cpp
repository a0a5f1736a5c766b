// What the colour panels do to a design, and what a session shows when library or light change.
#include <doctest/doctest.h>

#include "design/tint.h"
#include "design/validation.h"
#include "stand_in_drawer.h"
#include "studio/session/colour_edits.h"
#include "studio/session/edits.h"
#include "studio/session/face_jobs.h"
#include "studio/session/session.h"

using namespace foreslice;
using namespace foreslice::studio;
using namespace foreslice::studio::testing;

namespace {

std::shared_ptr<const colour::ColourantLibrary> shipped() {
    static const auto library = std::make_shared<const colour::ColourantLibrary>(
        colour::ColourantLibrary::load(FORESLICE_SOURCE "/palettes/colourants.json"));
    return library;
}

const colour::Colourant* colourant(const char* id) {
    const auto* found = shipped()->find(id);
    REQUIRE(found != nullptr);
    return found;
}

}  // namespace

TEST_CASE("a recipe takes the place of a portion's doses, its white that of the white") {
    const auto before = starter_design();
    const auto after = with_recipe(
        before, 0,
        {{colourant("cocoa"), 4}, {colourant("iron-oxide-red"), 1.5}, {colourant("zinc-oxide"), 2}});
    const auto& portion = after.portions[0];
    REQUIRE(portion.doses.size() == 2);
    CHECK(portion.doses[0].colourant == "cocoa");
    CHECK(portion.doses[1].g_per_kg_oils == 1.5);
    CHECK(portion.white.colourant == "zinc-oxide");
    CHECK(portion.white.g_per_kg_oils == 2);
    CHECK(with_recipe(before, 0, {{colourant("cocoa"), 4}}).portions[0].white.g_per_kg_oils == 0);
    design::validate(after);
    design::validate(after, *shipped());
    CHECK(after.portions[1] == before.portions[1]);
    CHECK(with_recipe(before, 99, {}) == before);
}

TEST_CASE("a dose keeps the unit it was stated in; drops say what they are of") {
    auto design = with_stated_dose(starter_design(), 0, 0, colour::DoseUnit::teaspoons_per_pound_oils, 1.5);
    REQUIRE(design.portions[0].doses[0].stated.has_value());
    CHECK(design.portions[0].doses[0].stated->amount == 1.5);
    // 3.5 g of ultramarine to the spoon: 1.5 * 3.5 / 0.45359237.
    CHECK(design::g_per_kg_oils_of(design.portions[0].doses[0], design, *shipped()) ==
          doctest::Approx(11.574).epsilon(1e-4));
    design = with_stated_dose(design, 0, std::nullopt, colour::DoseUnit::drops_per_kg_oils, 300);
    CHECK(design.portions[0].white.dispersion == colour::Dispersion{});
    const colour::Dispersion glycerin{colour::Carrier::glycerin, 1, 20};
    const auto heavier = with_dispersion(design, 0, glycerin);
    CHECK(heavier.portions[0].white.dispersion == glycerin);
    CHECK_FALSE(heavier.portions[0].doses[0].dispersion.has_value());  // that one is not in drops
    CHECK(dispersion_of(heavier.portions[0]) == glycerin);
    CHECK(heavier.portions[0].white.stated->amount == 300);
    design = with_dose_and_white(heavier, 0, 0, 4, 6);
    CHECK_FALSE(design.portions[0].doses[0].stated.has_value());
    CHECK(design.portions[0].doses[0].g_per_kg_oils == 4);
    CHECK(design.portions[0].white.g_per_kg_oils == 6);
    CHECK(with_stated_dose(design, 0, 99, colour::DoseUnit::percent_of_batter, 1) == design);
}

TEST_CASE("another library and another light are in use at once, and are no changes to the document") {
    DrawerLog log;
    Session::Setup setup;
    setup.colour_library = shipped();
    setup.state_folder = std::filesystem::temp_directory_path() / "foreslice-colour-session";
    setup.make_drawer = [&log](bool sketch) { return std::make_unique<StandInDrawer>(log, sketch); };
    Session session(setup);
    session.show(1, 5);
    const auto shows = [&](const colour::ColourantLibrary* library, const Seeing& seeing) {
        const auto face = session.face();
        return face && !face->sketch && face->order.colour_library.get() == library &&
               face->order.seeing == seeing;
    };
    REQUIRE(becomes_true([&] { return shows(shipped().get(), {}); }));
    const auto plain = session.colours()[3].lab;
    colour::Optics darker = shipped()->base();
    for (double& k : darker.absorption_per_mm) k *= 6;
    const auto mine = std::make_shared<const colour::ColourantLibrary>(darker, "x", shipped()->colourants());
    session.use_library(mine);
    CHECK(session.colours()[3].lab.l < plain.l - 1);
    CHECK(&session.colour_library() == mine.get());
    CHECK_FALSE(session.changed_since_saved());
    REQUIRE(becomes_true([&] { return shows(mine.get(), {}); }));
    const Seeing shop{colour::Illuminant::fl11, colour::Vision::deuteranopia};
    session.see(shop);
    REQUIRE(becomes_true([&] { return shows(mine.get(), shop); }));
    CHECK(log.sketches == 1);  // neither touches the flow: what is fine stays fine
    const auto seen = seen_so(session.colours()[0], shop), day = session.colours()[0].linear;
    CHECK(std::abs(seen.r - day.r) + std::abs(seen.g - day.g) + std::abs(seen.b - day.b) > 0.005);
    CHECK(seen_so(session.colours()[0], {}).g == day.g);
}

TEST_CASE("measures are taken of fine faces while they are wanted, and anew after an edit") {
    DrawerLog log;
    FaceJobs jobs(std::make_unique<StandInDrawer>(log, true), std::make_unique<StandInDrawer>(log, false),
                  [] {});
    const auto order = [&](double white) {
        return jobs.order({with_white(starter_design(), 0, white), 1, 5});
    };
    const auto fine = [&](std::uint64_t number) {
        return becomes_true([&] {
            const auto face = jobs.shown();
            return face && face->number == number && !face->sketch;
        });
    };
    REQUIRE(fine(order(1)));
    CHECK(jobs.measures() == nullptr);
    CHECK(log.measured == 0);
    jobs.want_measures(true);
    REQUIRE(becomes_true([&] { return jobs.measures() != nullptr; }));
    CHECK(jobs.measures()->measures.muddy_percent == 5);  // what the stand-in says
    const auto next = order(2);
    REQUIRE(becomes_true([&] { return jobs.measures()->number == next; }));
    CHECK(jobs.measures()->order.design.portions[0].white.g_per_kg_oils == 2);
    jobs.want_measures(false);
    const int measured = log.measured;
    REQUIRE(fine(order(3)));
    CHECK(log.measured == measured);
    CHECK(jobs.measures()->number == next);
}
