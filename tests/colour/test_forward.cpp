// Doses in every unit, crowding, the base, time, other lamps and eyes.
#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>

#include "colour/ageing.h"
#include "colour/dose_units.h"
#include "colour/pigment.h"
#include "colour/viewing.h"

using namespace foreslice::colour;

namespace {

const ColourantLibrary& shipped() {
    static const ColourantLibrary library =
        ColourantLibrary::load(std::filesystem::path(FORESLICE_SOURCE) / "palettes/colourants.json");
    return library;
}

const Colourant& colourant(const char* id) {
    const Colourant* found = shipped().find(id);
    REQUIRE(found != nullptr);
    return *found;
}

PortionColour bar(const BarState& state, const std::vector<Dose>& doses = {}) {
    return colour_of(aged_mix(shipped().base(), state, doses));
}

}  // namespace

TEST_CASE("dose units: figures worked by hand") {
    const Colourant& white = colourant("titanium-dioxide");
    const double batter = batter_kg_per_kg_oils(5, 33, 0);
    // 1000 g of oils, 141.19 g of sodium hydroxide, 286.65 g of water: 1427.84 g.
    CHECK(batter == doctest::Approx(1.42784).epsilon(1e-4));
    const Dispersion one_to_three{Carrier::oil, 3, 20};
    const auto grams = [&](double amount, DoseUnit unit) {
        return g_per_kg_oils_from(amount, unit, white, one_to_three, batter);
    };
    CHECK(grams(7, DoseUnit::g_per_kg_oils) == 7);
    CHECK(grams(1, DoseUnit::g_per_kg_batter) == doctest::Approx(1.42784).epsilon(1e-4));
    CHECK(grams(0.5, DoseUnit::percent_of_batter) == doctest::Approx(7.1392).epsilon(1e-4));
    // A level teaspoon of 4 g in a pound, 0.45359237 kg, of oils.
    CHECK(grams(1, DoseUnit::teaspoons_per_pound_oils) == doctest::Approx(8.81849).epsilon(1e-5));
    // 1 g of powder (4.2 g/cm3) in 3 g of oil (0.92): 0.2381 + 3.2609 = 3.4990 mL, 69.98 drops of 1/20 mL.
    CHECK(powder_g_per_drop(white, one_to_three) == doctest::Approx(1 / 69.979).epsilon(1e-4));
    CHECK(grams(70, DoseUnit::drops_per_kg_oils) == doctest::Approx(1.0003).epsilon(1e-3));
    // 1:1 in water holds twice the share, glycerin is heavier than water.
    CHECK(powder_g_per_drop(white, {Carrier::water, 1, 20}) == doctest::Approx(1 / (20 * (1 / 4.2 + 1))));
    CHECK(powder_g_per_drop(white, {Carrier::glycerin, 3, 20}) >
          powder_g_per_drop(white, {Carrier::water, 3, 20}));
    for (const DoseUnit unit : all_dose_units)
        CHECK(amount_in(unit, grams(3, unit), white, one_to_three, batter) == doctest::Approx(3));
}

TEST_CASE(
    "whites: rutile hides most, anatase less, zinc oxide least; all lighten a dark bar, and all crowd") {
    // The order of ((m^2 - 1) / (m^2 + 2))^2 in a medium of n = 1.47: rutile 2.70, anatase 2.55, ZnO 2.02.
    const auto lightness = [](const char* white) {
        return bar({}, {{&colourant("activated-charcoal"), 2}, {&colourant(white), 8}}).lab.l;
    };
    const double none = bar({}, {{&colourant("activated-charcoal"), 2}}).lab.l;
    const double rutile = lightness("titanium-dioxide"), anatase = lightness("titanium-dioxide-anatase"),
                 zinc = lightness("zinc-oxide");
    CHECK(rutile > anatase + 1);
    CHECK(anatase > zinc + 1);
    CHECK(zinc > none + 1);
    for (const char* white : {"titanium-dioxide", "titanium-dioxide-anatase", "zinc-oxide"}) {
        CAPTURE(white);
        CHECK(crowding_factor(colourant(white), 5, 550) > 0.999);
        CHECK(crowding_factor(colourant(white), 400, 550) < 0.9);
    }
}

TEST_CASE("crowding: nothing at the doses of soap, scattering that saturates far above them") {
    const Colourant& white = colourant("titanium-dioxide");
    const auto scattering = [&](double dose) {
        return mixed({}, {{&white, dose}}).scattering_per_mm[17] / white.unit.scattering_per_mm[17];
    };
    CHECK(scattering(10) == doctest::Approx(10).epsilon(1e-5));
    CHECK(scattering(20) == doctest::Approx(20).epsilon(1e-3));
    CHECK(scattering(100) < 96);
    CHECK(scattering(200) < 0.7 * 200);
    double last = 0, last_gain = 2;
    for (double dose = 10; dose <= 150; dose += 10) {
        const double gain = (scattering(dose) - last) / 10;
        CHECK(gain <= last_gain + 1e-9);
        last = scattering(dose);
        last_gain = gain;
    }
    // The law itself: neighbours a whole wavelength apart lose nothing to speak of, touching ones nearly all.
    CHECK(crowding_factor(white, 0.001, 550) == 1);
    CHECK(scattering(1000) == doctest::Approx(scattering(200)).epsilon(1e-6));
    CHECK(crowding_factor(colourant("ultramarine-blue"), 1000, 550) == 1);
}

TEST_CASE("the base: the default state is the library's base to the last bit") {
    const Optics plain = plain_bar(shipped().base(), {});
    CHECK(plain.absorption_per_mm == shipped().base().absorption_per_mm);
    CHECK(plain.scattering_per_mm == shipped().base().scattering_per_mm);
    const std::vector<Dose> doses{{&colourant("ultramarine-blue"), 6}, {&colourant("titanium-dioxide"), 4}};
    CHECK(bar({}, doses).lab.l == colour_of(mixed(shipped().base(), doses)).lab.l);
}

TEST_CASE("the base: oils give the tints that makers report") {
    const auto of = [&](const char* oil) {
        BarState state;
        state.oils = {{oil, 100}};
        return bar(state).lab;
    };
    const Lab coconut = of("coconut"), virgin = of("olive-virgin"), red = of("palm-red"), hemp = of("hemp");
    CHECK(coconut.l > virgin.l);
    CHECK(virgin.b > coconut.b + 8);
    CHECK(virgin.a < 0);  // yellow-green
    CHECK(red.a > 15);    // orange
    CHECK(hemp.a < -2);   // green
    CHECK(hemp.l < virgin.l);
    BarState mixed_oils;
    mixed_oils.oils = {{"coconut", 50}, {"olive-virgin", 50}};
    const Lab half = bar(mixed_oils).lab;
    CHECK(half.b > coconut.b);
    CHECK(half.b < virgin.b);
    for (const OilTint& oil : oil_tints()) {  // a bar of each comes out near the colour the table states
        if (oil.of_percent < 100) continue;
        CAPTURE(oil.id);
        const Lab aim = lab_of(xyz_of(decoded(encoded_from_hex(oil.hex).value())), white_of(Illuminant::d65));
        CHECK(ciede2000(of(std::string(oil.id).c_str()), aim) <
              2.5);  // a bar of 25 mm lets a little light through
    }
}

TEST_CASE("the base: gelled is deeper and lets more light through, superfat and water a little") {
    BarState gelled;
    gelled.gelled = true;
    const double loss = bar({}).lab.l - bar(gelled).lab.l;
    CHECK(loss > 2);  // makers' side-by-side bars: about 3 to 6
    CHECK(loss < 7);
    const auto through = [&](const BarState& state) {
        const Optics o = plain_bar(shipped().base(), state);
        return transmittance_finite(o.absorption_per_mm[17], o.scattering_per_mm[17], 25);
    };
    CHECK(through(gelled) > 2 * through({}));
    const std::vector<Dose> blue{{&colourant("ultramarine-blue"), 5}};
    const auto chroma = [](const PortionColour& c) { return std::hypot(c.lab.a, c.lab.b); };
    CHECK(chroma(bar(gelled, blue)) > chroma(bar({}, blue)));
    BarState rich;
    rich.superfat_percent = 15;
    CHECK(bar(rich).lab.l < bar({}).lab.l);
    CHECK(bar({}).lab.l - bar(rich).lab.l < 1.5);
}

TEST_CASE("time: batter lightens as it dries, more when there was more water") {
    const auto lightness = [](double days, double lye) {
        BarState state;
        state.age_days = days;
        state.lye_percent = lye;
        return bar(state, {{&colourant("iron-oxide-red"), 1}}).lab.l;
    };
    double last = 0;
    for (const double days : {0.0, 1.0, 7.0, 28.0, 180.0}) {
        CHECK(lightness(days, 33) > last);
        last = lightness(days, 33);
    }
    CHECK(lightness(28, 28) == doctest::Approx(lightness(28, 33)).epsilon(1e-9));
    CHECK(lightness(0, 28) < lightness(0, 38));
}

TEST_CASE("time: vanillin browns by its amount and over weeks; white delays the eye") {
    const auto at = [](double vanillin, double days, double white) {
        BarState state;
        state.vanillin_g_per_kg_oils = vanillin;
        state.age_days = days;
        return bar(state, {{&colourant("titanium-dioxide"), white}}).lab;
    };
    CHECK(at(3, 42, 0).l < 50);                      // a tenth of 30 g/kg: dark brown
    CHECK(at(0, 42, 0).l - at(0.15, 42, 0).l < 20);  // half a per cent: slight
    CHECK(at(0, 42, 0).l - at(0.15, 42, 0).l > 2);
    CHECK(at(3, 1, 0).l > at(3, 7, 0).l);
    CHECK(at(3, 7, 0).l > at(3, 42, 0).l);
    CHECK(at(1, 42, 0).a > 2);  // brown: red and yellow
    CHECK(at(1, 42, 0).b > 12);
    CHECK(at(1, 42, 10).l > at(1, 42, 0).l + 10);
    CHECK(at(3, 0, 0).l == doctest::Approx(at(0, 0, 0).l));
}

TEST_CASE("time: plants and weak dyes fade, greens go brown, minerals stay") {
    const auto shift = [](const char* id, double days) {
        BarState now, then;
        now.age_days = 0.0;
        then.age_days = days;
        const Dose dose{&colourant(id), colourant(id).usual_most_g_per_kg_oils / 2};
        const auto unit_now = aged_unit(*dose.colourant, now.age_days),
                   unit_then = aged_unit(*dose.colourant, days);
        return unit_then.absorption_per_mm[5] / unit_now.absorption_per_mm[5];  // 430 nm
    };
    CHECK(shift("iron-oxide-yellow", 1000) == 1);
    CHECK(shift("ultramarine-blue", 1000) == 1);
    CHECK(shift("turmeric", 90) < 0.65);
    CHECK(shift("turmeric", 180) < shift("turmeric", 90));
    BarState old;
    old.age_days = 180;
    const Dose nettle{&colourant("nettle"), 10}, dye{&colourant("dye-blue"), 0.5};
    BarState fresh;
    fresh.age_days = 0;
    CHECK(bar(old, {nettle}).lab.a > bar(fresh, {nettle}).lab.a + 3);  // from green towards brown
    CHECK(bar(old, {dye}).lab.b > bar(fresh, {dye}).lab.b + 5);        // the blue is gone
}

TEST_CASE("time: the band holds the likely colour and is wider where less is known") {
    BarState plain, scented;
    plain.age_days = scented.age_days = 42;
    scented.vanillin_g_per_kg_oils = 1;
    const ColourBand narrow = colour_band(shipped().base(), plain, {});
    const ColourBand wide = colour_band(shipped().base(), scented, {});
    for (const ColourBand& band : {narrow, wide}) {
        CHECK(band.lightest.lab.l >= band.middle.lab.l);
        CHECK(band.middle.lab.l >= band.darkest.lab.l);
    }
    CHECK(wide.spread_de00 > narrow.spread_de00 + 5);
    const ColourBand known = colour_band(shipped().base(), {}, {{&colourant("iron-oxide-red"), 2}});
    CHECK(known.spread_de00 == 0);  // the state the library describes, and a powder that keeps
}

TEST_CASE("ash: a veil lightens dark tops and hardly shows on white; gel and strong lye keep it away") {
    BarState weak, strong, gelled;
    weak.lye_percent = 28;
    strong.lye_percent = 38;
    gelled.lye_percent = 28;
    gelled.gelled = true;
    CHECK(ash_veil(weak) > ash_veil(gelled));
    CHECK(ash_veil(strong) == 0);
    CHECK(ash_veil(weak, Likely::lightest) > ash_veil(weak));
    const auto lightened = [&](const std::vector<Dose>& doses) {
        const PortionColour bare = bar({}, doses);
        return colour_of_reflectance(under_veil(bare.reflectance, ash_veil(weak))).lab.l - bare.lab.l;
    };
    CHECK(lightened({{&colourant("activated-charcoal"), 5}}) > 8);
    CHECK(lightened({{&colourant("titanium-dioxide"), 8}}) < 1);
}

TEST_CASE("other lamps: a grey stays, spectra that match in daylight part under lamps") {
    Spectrum grey{};
    grey.fill(0.4);
    for (const Illuminant lamp : all_illuminants)
        for (const Observer eye : {Observer::cie1931_2deg, Observer::cie1964_10deg}) {
            CHECK(colour_shift(grey, Illuminant::d65, lamp, eye) < 1e-9);
            CHECK(metamerism_index(grey, grey, Illuminant::d65, lamp, eye) < 1e-9);
        }
    const Spectrum violet = bar({}, {{&colourant("ultramarine-blue"), 5}}).reflectance;
    CHECK(colour_shift(violet, Illuminant::d65, Illuminant::a) > 1);
    // Two ways to one green-grey in daylight: in the shop they are two colours, and the index says how far.
    Spectrum banded = grey;
    const auto at = [](const Spectrum& r, Illuminant lamp) {
        return lab_of(xyz_of(r, lamp), white_of(lamp));
    };
    for (std::size_t i = 0; i < band_count; ++i) banded[i] += 0.2 * std::sin(0.9 * static_cast<double>(i));
    const double index = metamerism_index(banded, grey, Illuminant::d65, Illuminant::fl11);
    CHECK(index > 3);
    CHECK(metamerism_index(banded, grey, Illuminant::d65, Illuminant::d65) < 1e-9);
    // Once scaled to agree in daylight, what is left in the shop is the plain difference of the scaled pair.
    const Xyz seen = xyz_of(banded, Illuminant::fl11), day = xyz_of(banded, Illuminant::d65),
              aim = xyz_of(grey, Illuminant::d65);
    const Xyz scaled{seen.x * aim.x / day.x, seen.y * aim.y / day.y, seen.z * aim.z / day.z};
    CHECK(index ==
          doctest::Approx(ciede2000(lab_of(scaled, white_of(Illuminant::fl11)), at(grey, Illuminant::fl11))));
    CHECK(contrast_under(banded, grey, Illuminant::d65) ==
          doctest::Approx(ciede2000(at(banded, Illuminant::d65), at(grey, Illuminant::d65))));
    Spectrum darker = violet;
    for (double& r : darker) r *= 0.8;
    CHECK(metamerism_index(darker, violet, Illuminant::d65, Illuminant::fl11) < 0.2);
}

TEST_CASE("other eyes: red-weak and green-weak lose red against green, blue-weak loses blue against green") {
    const LinearSrgb red{0.35, 0.08, 0.05}, green{0.10, 0.20, 0.05};
    const auto lab = [](Vision vision, const LinearSrgb& rgb) {
        return lab_of(xyz_of(seen_with(vision, rgb)), white_of(Illuminant::d65));
    };
    const auto apart = [&](Vision vision) {
        const Lab a = lab(vision, red), b = lab(vision, green);
        return std::hypot(a.a - b.a, a.b - b.b);
    };
    CHECK(apart(Vision::deuteranopia) < 0.4 * apart(Vision::usual));
    CHECK(apart(Vision::protanopia) < 0.4 * apart(Vision::usual));
    for (const Vision vision : all_visions) {  // greys stay grey
        const LinearSrgb g = seen_with(vision, {0.3, 0.3, 0.3});
        CHECK(std::abs(g.r - 0.3) < 1e-5);
        CHECK(std::abs(g.g - 0.3) < 1e-5);
        CHECK(std::abs(g.b - 0.3) < 1e-5);
    }
}
