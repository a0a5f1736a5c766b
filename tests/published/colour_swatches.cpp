// Colourants recovered from photographed bars, against colourants whose K and S are known: the 19 paints of
// the Artist Paint Spectral Database (R. S. Berns and co-workers, Rochester Institute of Technology), dosed
// into the plain bar of our library. Beside it, what averaging RGB makes of the same bars.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <random>
#include <set>

#include "colour/csv.h"
#include "colour/pigment.h"
#include "colour/pigment_data.h"
#include "colour/swatch_fit.h"

using namespace foreslice::colour;
using namespace foreslice::testing;

namespace {

const std::filesystem::path tests_data = FORESLICE_TEST_DATA;
constexpr double white_g = 10;

const ColourantLibrary& library() {
    static const ColourantLibrary loaded =
        ColourantLibrary::load(std::filesystem::path(FORESLICE_SOURCE) / "palettes/colourants.json");
    return loaded;
}

struct Paint {
    std::string name;
    Colourant truth;
    double dose;  ///< a working dose: its strongest band then absorbs 1 per mm
    SwatchFit fit;
};

LinearSrgb colour(const std::vector<Dose>& doses) {
    return colour_of(mixed(library().base(), doses)).linear;
}

/// An 8-bit patch with a camera's noise of one code.
LinearSrgb photographed(const LinearSrgb& light, std::mt19937& random) {
    std::normal_distribution<double> noise(0, 1.0 / 255);
    const auto channel = [&](double value) {
        return decode_srgb(std::round(255 * std::clamp(encode_srgb(value) + noise(random), 0.0, 1.0)) / 255);
    };
    return {channel(light.r), channel(light.g), channel(light.b)};
}

std::vector<Paint> fitted_paints(
    const std::vector<std::pair<double, double>>& bars) {  // parts of dose, white
    const std::filesystem::path file = tests_data / "colour/pigment_KS_artist_acrylics_380_750.csv";
    std::vector<Paint> all;
    std::mt19937 random(20);
    for (const char* name :
         {"PBk9 bone black", "PB29 ultramarine blue", "PB28 cobalt blue", "PY184 bismuth vanadate yellow",
          "PY74 arylide yellow", "PY83 diarylide yellow", "PO20 cadmium orange", "PO73 pyrrole orange",
          "PR108 cadmium red", "PR254 pyrrole red", "PV19 quinacridone red", "PR122 quinacridone magenta",
          "PV23 dioxazine violet", "PB15:4 green shade phthalocyanine blue GS",
          "PG7 phthalocyanine green BS"}) {
        const RelativeOptics relative = artist_paint(tests_data, name);
        Paint paint{name, {}, 0, {}};
        paint.truth.id = paint.truth.name = name;
        for (std::size_t i = 0; i < band_count;
             ++i) {  // titanium white scatters 0.2 per mm and g/kg in our bar
            paint.truth.unit.absorption_per_mm[i] = 0.2 * relative.k[i];
            paint.truth.unit.scattering_per_mm[i] = 0.2 * relative.s[i];
        }
        const auto& k = paint.truth.unit.absorption_per_mm;
        paint.dose = std::clamp(1.0 / *std::max_element(k.begin(), k.end()), 0.5, 40.0);
        std::vector<TestBar> seen;
        for (const auto& [part, white] : bars) {
            const double dose = part * paint.dose;
            const LinearSrgb light =
                colour({{&paint.truth, dose}, {library().find("titanium-dioxide"), white}});
            seen.push_back({dose, white, photographed(light, random)});
        }
        paint.fit = fit_colourant(library().base(), library().find("titanium-dioxide"), seen);
        all.push_back(std::move(paint));
    }
    return all;
}

Lab lab(const LinearSrgb& rgb) {
    return lab_of(xyz_of(rgb), white_of(Illuminant::d65));
}

struct Score {
    double ours = 0, averaged = 0, count = 0;
    void add(const LinearSrgb& truth, const LinearSrgb& mine, const LinearSrgb& mean) {
        ours += ciede2000(lab(truth), lab(mine));
        averaged += ciede2000(lab(truth), lab(mean));
        count += 1;
    }
};

/// Mean of colours by mass, in linear light: what mixing RGB predicts.
LinearSrgb mean_of(const std::vector<std::pair<LinearSrgb, double>>& parts) {
    LinearSrgb sum;
    double all = 0;
    for (const auto& [rgb, mass] : parts) {
        sum.r += mass * rgb.r;
        sum.g += mass * rgb.g;
        sum.b += mass * rgb.b;
        all += mass;
    }
    return {sum.r / all, sum.g / all, sum.b / all};
}

Score tints(const std::vector<Paint>& paints) {
    const Colourant* white = library().find("titanium-dioxide");
    Score score;
    for (const Paint& paint : paints) {
        Colourant found = paint.truth;
        found.unit = paint.fit.unit;
        const LinearSrgb full = colour({{&paint.truth, paint.dose}}), whitened = colour({{white, white_g}});
        for (const double part : {0.1, 0.3, 0.6, 1.0})
            for (const double w : {3.0, 6.0, 15.0}) {
                const double dose = part * paint.dose;
                score.add(colour({{&paint.truth, dose}, {white, w}}), colour({{&found, dose}, {white, w}}),
                          mean_of({{full, part * paint.dose}, {whitened, w}}));
            }
    }
    return score;
}

Score pairs(const std::vector<Paint>& paints) {
    const Colourant* white = library().find("titanium-dioxide");
    Score score;
    for (std::size_t i = 0; i < paints.size(); ++i)
        for (std::size_t k = i + 1; k < paints.size(); ++k) {
            const Paint &a = paints[i], &b = paints[k];
            Colourant found_a = a.truth, found_b = b.truth;
            found_a.unit = a.fit.unit;
            found_b.unit = b.fit.unit;
            for (const double part : {0.15, 0.3}) {
                const double x = part * a.dose, y = part * b.dose;
                score.add(colour({{&a.truth, x}, {&b.truth, y}, {white, white_g}}),
                          colour({{&found_a, x}, {&found_b, y}, {white, white_g}}),
                          mean_of({{colour({{&a.truth, a.dose}}), x},
                                   {colour({{&b.truth, b.dose}}), y},
                                   {colour({{white, white_g}}), white_g}}));
            }
        }
    return score;
}

}  // namespace

TEST_CASE("swatches: two bars a colourant, 8 bits and noise: tints within dE00 2, two colourants within 3") {
    const std::vector<Paint> paints = fitted_paints({{1, 0}, {1, white_g}});
    double explained = 0;
    for (const Paint& paint : paints) {
        CAPTURE(paint.name);
        CHECK(paint.fit.scattering_known);
        CHECK(paint.fit.de00.size() == 2);
        for (std::size_t i = 0; i < band_count; ++i) {
            CHECK(paint.fit.unit.absorption_per_mm[i] >= 0);
            CHECK(paint.fit.unit.scattering_per_mm[i] > 0);
        }
        explained += paint.fit.mean_de00 / static_cast<double>(paints.size());
    }
    const Score tint = tints(paints), pair = pairs(paints);
    MESSAGE("bars explained to dE00 " << explained << "; tints " << tint.ours / tint.count
                                      << " (averaging RGB " << tint.averaged / tint.count
                                      << "), two colourants with white " << pair.ours / pair.count
                                      << " (averaging RGB " << pair.averaged / pair.count << ")");
    CHECK(explained < 1);
    CHECK(tint.ours / tint.count < 2);
    CHECK(pair.ours / pair.count < 3);
    CHECK(tint.averaged > 3 * tint.ours);
    CHECK(pair.averaged > 3 * pair.ours);
}

TEST_CASE("swatches: more bars make it better") {
    const std::vector<Paint> two = fitted_paints({{1, 0}, {1, white_g}});
    const std::vector<Paint> five = fitted_paints({{1, 0}, {1, white_g}, {0.3, 0}, {0.3, white_g}, {0.1, 5}});
    const double before = tints(two).ours / tints(two).count, after = tints(five).ours / tints(five).count;
    const double pairs_before = pairs(two).ours / pairs(two).count,
                 pairs_after = pairs(five).ours / pairs(five).count;
    MESSAGE("tints: two bars " << before << ", five bars " << after << "; two colourants " << pairs_before
                               << ", " << pairs_after);
    CHECK(after < before);
    CHECK(pairs_after < pairs_before);
}

TEST_CASE("swatches: one bar gives a usable colourant and says what it does not know") {
    const std::vector<Paint> one = fitted_paints({{1, white_g}});
    for (const Paint& paint : one) CHECK_FALSE(paint.fit.scattering_known);
    CHECK(tints(one).ours / tints(one).count < 5);
}
