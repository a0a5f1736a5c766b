#include "colour/library_recipe.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "colour/pigment_data.h"
#include "colour/recipe_parts.h"
#include "colour/upsampling.h"

namespace foreslice::testing {

using namespace colour;

namespace {

// ---- the base ------------------------------------------------------------------------------------------
// Scattering of plain cold-process soap, 1/mm. No measurement was found; this value lets 25 mm pass about 6 %
// of the light without absorption, the faint glow that a bar shows in front of a lamp.
constexpr double base_scattering_per_mm = 0.6;
constexpr const char* base_aim = "#f8edd4";  // a cream bar, chosen by eye

// One gram of titanium dioxide per kg of oils, 1/mm. About what rutile gives in paint (100-150 per mm at 15 %
// by volume) scaled down to its share in soap (1 g per kg oils is 0.017 % by volume).
constexpr double white_scattering_per_mm = 0.2;

Spectrum aim_reflectance(const char* hex) {
    return reflectance_from(decoded(encoded_from_hex(hex).value()));
}

/// The K that gives a bar of scattering S this reflectance; by bisection, as R falls steadily with K.
double absorption_for(double reflectance, double scattering_per_mm) {
    const Surface surface;
    double low = 0, high = 1000;
    for (int step = 0; step < 200; ++step) {
        const double k = (low + high) / 2;
        const double r =
            saunderson(reflectance_finite(k, scattering_per_mm, 25, bar_backing_reflectance), surface);
        (r > reflectance ? low : high) = k;
    }
    return (low + high) / 2;
}

/// K as if the aim were seen on an endlessly thick bar, so that it is positive in every band; a real bar of
/// 25 mm lets a little light through and comes out a trace darker than the aim.
Optics make_base() {
    Optics base;
    const Spectrum aim = aim_reflectance(base_aim);
    for (std::size_t i = 0; i < band_count; ++i) {
        base.scattering_per_mm[i] = base_scattering_per_mm;
        base.absorption_per_mm[i] =
            base_scattering_per_mm * k_over_s_of(saunderson_inverse(aim[i], Surface{}));
    }
    return base;
}

// ---- building unit optics ------------------------------------------------------------------------------
}  // namespace

Optics scaled(const RelativeOptics& relative, double factor) {
    Optics unit;
    for (std::size_t i = 0; i < band_count; ++i) {
        unit.absorption_per_mm[i] = factor * relative.k[i];
        unit.scattering_per_mm[i] = factor * relative.s[i];
    }
    return unit;
}

/// Scaled so that the greatest K is `peak_per_mm`.
Optics scaled_to_peak(const RelativeOptics& relative, double peak_per_mm) {
    return scaled(relative, peak_per_mm / *std::max_element(relative.k.begin(), relative.k.end()));
}

Optics blend(const std::vector<Part>& parts, double extra_scattering_per_mm) {
    Optics sum;
    for (std::size_t i = 0; i < band_count; ++i) {
        sum.scattering_per_mm[i] = extra_scattering_per_mm;
        for (const Part& part : parts) {
            sum.absorption_per_mm[i] += part.mass_share * part.unit.absorption_per_mm[i];
            sum.scattering_per_mm[i] += part.mass_share * part.unit.scattering_per_mm[i];
        }
    }
    return sum;
}

/// Unit optics whose dose turns the plain base to `hex`: K from the LHTSS reflectance of the aim, one scalar
/// S.
Optics from_aim(const Optics& base, const char* hex, double dose_g_per_kg, double unit_scattering_per_mm) {
    const Spectrum aim = aim_reflectance(hex);
    Optics unit;
    for (std::size_t i = 0; i < band_count; ++i) {
        const double s = base.scattering_per_mm[i] + dose_g_per_kg * unit_scattering_per_mm;
        const double k = absorption_for(aim[i], s) - base.absorption_per_mm[i];
        unit.absorption_per_mm[i] = std::max(0.0, k) / dose_g_per_kg;
        unit.scattering_per_mm[i] = unit_scattering_per_mm;
    }
    return unit;
}

namespace {

/// Chromium(III) in oxide: two ligand-field bands near 600 and 460 nm and a floor, in wave numbers.
Optics chromium_oxide(double peak_per_mm) {
    RelativeOptics shape;
    const auto band = [](double per_cm, double centre, double red_width, double blue_width) {
        const double d = (per_cm - centre) / (per_cm < centre ? red_width : blue_width);
        return std::exp(-d * d / 2);
    };
    for (std::size_t i = 0; i < band_count; ++i) {
        const double per_cm = 1e7 / lambda_nm(i);
        shape.k[i] = 0.95 * band(per_cm, 21700, 1400, 1600) + 0.65 * band(per_cm, 16600, 1250, 950) + 0.03;
        shape.s[i] = 0.42;
    }
    return scaled_to_peak(shape, peak_per_mm);
}

Optics zinc_oxide() {
    Optics unit;
    unit.scattering_per_mm.fill(0.19 * white_scattering_per_mm);
    unit.absorption_per_mm[0] = 0.02;  // the tail of its band edge near 375 nm
    return unit;
}

Optics pearl_mica() {
    Optics unit;
    unit.scattering_per_mm.fill(0.03);
    unit.absorption_per_mm.fill(4e-5);
    return unit;
}

// ---- the words that go with them ------------------------------------------------------------------------
const std::string own_swatch =
    " The strength per gram is a choice made so that the usual light, medium and strong doses look it; "
    "replace "
    "it by your own swatch.";
const std::string two_swatch_source =
    "K and S by the two-swatch closed form from a measured masstone and one weighed white tint (open data "
    "set "
    "under the MIT licence, acrylic paint, 400-720 nm; below 420 and above 720 nm held constant).";
}  // namespace

const std::string artist_paint_source =
    "K and S shape from the Artist Paint Spectral Database (R. S. Berns and co-workers, Rochester Institute "
    "of "
    "Technology; a copy under the MIT licence), relative to titanium white.";
const std::string aim_source =
    "Estimate: no open spectrum found. K from an sRGB aim by eye through a least-slope reflectance (Burns "
    "2017), "
    "one S for all wavelengths.";
namespace {

const std::string base_source =
    "Estimate: no published spectrum of plain soap was found. K from a cream aim (#f8edd4) through a "
    "least-slope "
    "reflectance (Burns 2017); S, 0.6 per mm at every wavelength, chosen so that a 25 mm bar is nearly "
    "opaque. "
    "Replace both by your own bar.";

// Level-teaspoon masses and upper doses: common practice, no source.
constexpr Family white_powder{"white", 4, 18}, oxide{"oxide", 4, 8}, ultramarine{"ultramarine", 3.5, 12},
    chromium{"oxide", 5, 8}, carbon{"carbon", 1.75, 10}, clay{"clay", 1.7, 30}, mica{"mica", 2.5, 20};

}  // namespace

Colourant make(const char* id, const char* name, const Family& family, const Optics& unit, bool measured,
               const std::string& source) {
    return {
        id,      name, family.kind, unit, family.gram_per_teaspoon, family.usual_most, source + own_swatch,
        measured};
}

namespace {

Oxides make_oxides(const std::filesystem::path& data, const Optics& base) {
    Spectrum white{};
    const std::vector<TwoSwatches> paints = masstone_and_tint(data, white);
    const auto relative = [&](const char* name) {
        const auto paint = std::find_if(paints.begin(), paints.end(),
                                        [&](const TwoSwatches& p) { return p.pigment == name; });
        return two_swatch_optics(*paint, white);
    };
    Oxides o{scaled_to_peak(relative("red oxide"), 0.32),
             scaled_to_peak(relative("yellow oxide"), 0.30),
             from_aim(base, "#727174", 2, 0.05),
             {}};
    o.brown = blend({{o.red, 0.40}, {o.yellow, 0.42}, {o.black, 0.18}});
    return o;
}

void add_oxides(std::vector<Colourant>& all, const Oxides& o) {
    all.push_back(make("iron-oxide-red", "iron oxide red", oxide, o.red, true, two_swatch_source));
    all.push_back(make("iron-oxide-yellow", "iron oxide yellow", oxide, o.yellow, true, two_swatch_source));
    all.push_back(make("iron-oxide-black", "iron oxide black", oxide, o.black, false, aim_source));
    all.push_back(
        make("iron-oxide-brown", "iron oxide brown", oxide, o.brown, false,
             "Computed as the usual blend: 40 % red, 42 % yellow and 18 % black oxide of this library "
             "by mass."));
    all.push_back(make("chromium-oxide-green", "chromium oxide green", chromium, chromium_oxide(0.22), false,
                       "Estimate: K as the two ligand-field bands of chromium(III) near 600 and 460 nm (from "
                       "memory), their heights and widths set by hand; S in the usual ratio of a strongly "
                       "scattering oxide."));
}

void add_ultramarines(std::vector<Colourant>& all, const Optics& base, const Optics& blue) {
    all.push_back(make("ultramarine-blue", "ultramarine blue", ultramarine, blue, true, artist_paint_source));
    all.push_back(make("ultramarine-violet", "ultramarine violet", ultramarine,
                       from_aim(base, "#7d659e", 8, 0.002), false, aim_source));
    all.push_back(make("ultramarine-pink", "ultramarine pink", ultramarine,
                       from_aim(base, "#c987a6", 8, 0.002), false, aim_source));
}

void add_micas(std::vector<Colourant>& all, const Oxides& o, const Optics& blue) {
    const std::string inside =
        " Inside an opaque bar a mica shows its body colour only; the lustre is for the top.";
    const Optics pearl = pearl_mica();
    all.push_back(make("mica-pearl", "pearl mica", mica, pearl, false,
                       "Estimate: a weak white, scattering of thin plates guessed." + inside));
    all.push_back(make("mica-gold", "gold mica", mica,
                       blend({{pearl, 0.835}, {o.yellow, 0.16}, {o.red, 0.005}}), false,
                       "Estimate: pearl mica coated with yellow and a little red iron oxide." + inside));
    all.push_back(make("mica-copper", "copper mica", mica,
                       blend({{pearl, 0.73}, {o.red, 0.10}, {o.yellow, 0.17}}), false,
                       "Estimate: pearl mica coated with yellow and red iron oxide." + inside));
    all.push_back(make("mica-blue", "blue mica", mica, blend({{pearl, 0.72}, {blue, 0.28}}), false,
                       "Estimate: pearl mica tinted with ultramarine, which alkali does not harm." + inside));
}

}  // namespace

ColourantLibrary starter_library(const std::filesystem::path& data) {
    const Optics base = make_base();
    const Oxides oxides = make_oxides(data, base);
    const Optics blue = scaled_to_peak(artist_paint(data, "PB29 ultramarine blue"), 0.12);
    const Optics kaolin = from_aim(base, "#e7dfcb", 20, 0.004);

    std::vector<Colourant> all;
    all.push_back(make("titanium-dioxide", "titanium dioxide", white_powder,
                       scaled(artist_paint(data, "PW6 titanium white"), white_scattering_per_mm), true,
                       artist_paint_source));
    all.push_back(
        make("zinc-oxide", "zinc oxide", white_powder, zinc_oxide(), false,
             "Estimate: S about a fifth of titanium dioxide's by mass (refractive index 2.02 against "
             "2.7, heavier powder), no absorption in the visible."));
    add_oxides(all, oxides);
    add_ultramarines(all, base, blue);
    all.push_back(make("activated-charcoal", "activated charcoal", carbon,
                       scaled_to_peak(artist_paint(data, "PBk9 bone black"), 0.40), false,
                       "Stand-in: bone black, a charcoal too. " + artist_paint_source));
    all.push_back(make("kaolin", "kaolin (white clay)", clay, kaolin, false, aim_source));
    all.push_back(make(
        "rose-clay", "rose clay", clay, blend({{kaolin, 0.94}, {oxides.red, 0.04}, {oxides.yellow, 0.02}}),
        false, "Computed as kaolin with 4 % red and 2 % yellow iron oxide, which are what colours it."));
    add_micas(all, oxides, blue);
    add_more(all, data, base, {oxides, blue, kaolin, chromium_oxide(0.22)});
    describe(all);
    return ColourantLibrary(base, base_source, std::move(all));
}

}  // namespace foreslice::testing
