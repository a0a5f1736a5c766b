// Colourants recovered from photographed bars, against colourants whose K and S are known: 15 single-pigment
// paints of the Artist Paint Spectral Database (R. S. Berns and co-workers, Rochester Institute of
// Technology), dosed into the plain bar of our library. The shape of the paint that is sought is always
// withheld from the fit. Beside it, what averaging RGB makes of the same bars.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <iomanip>
#include <random>
#include <sstream>
#include <string>

#include "colour/csv.h"
#include "colour/pigment.h"
#include "colour/pigment_data.h"
#include "colour/shape_data.h"
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

/// Known pigments that a fit may lean on: all but the one that is sought, or only those of the other set.
enum class Kin { all_but_itself, other_set_only, none };

std::vector<PigmentShape> kin_of(const std::string& paint, Kin kin) {
    std::vector<PigmentShape> shapes;
    for (const PigmentShape& shape : pigment_shapes()) {
        const bool same_set = shape.name.starts_with("artist paint");
        if (kin == Kin::none || shape.name == "artist paint " + paint) continue;
        if (kin == Kin::all_but_itself || !same_set) shapes.push_back(shape);
    }
    return shapes;
}

Paint true_paint(const std::string& name) {
    const RelativeOptics relative = artist_paint(tests_data, name);
    Paint paint{name, {}, 0, {}};
    paint.truth.id = paint.truth.name = name;
    for (std::size_t i = 0; i < band_count; ++i) {  // titanium white scatters 0.2 per mm and g/kg in our bar
        paint.truth.unit.absorption_per_mm[i] = 0.2 * relative.k[i];
        paint.truth.unit.scattering_per_mm[i] = 0.2 * relative.s[i];
    }
    const auto& k = paint.truth.unit.absorption_per_mm;
    paint.dose = std::clamp(1.0 / *std::max_element(k.begin(), k.end()), 0.5, 40.0);
    return paint;
}

std::vector<Paint> fitted_paints(const std::vector<std::pair<double, double>>& bars,  // parts of dose, white
                                 Kin kin = Kin::all_but_itself) {
    std::vector<Paint> all;
    std::mt19937 random(20);
    for (const std::string& name : artist_pigments()) {
        Paint paint = true_paint(name);
        std::vector<TestBar> seen;
        for (const auto& [part, white] : bars) {
            const double dose = part * paint.dose;
            const LinearSrgb light =
                colour({{&paint.truth, dose}, {library().find("titanium-dioxide"), white}});
            seen.push_back({dose, white, photographed(light, random)});
        }
        paint.fit =
            fit_colourant(library().base(), library().find("titanium-dioxide"), seen, kin_of(name, kin));
        all.push_back(std::move(paint));
    }
    return all;
}

Lab lab(const LinearSrgb& rgb) {
    return lab_of(xyz_of(rgb), white_of(Illuminant::d65));
}

struct Score {
    double ours = 0, averaged = 0, count = 0;
    double mine() const { return ours / count; }
    double rgb() const { return averaged / count; }
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

/// Every pair at the same part of its working dose, with this much white.
Score pairs(const std::vector<Paint>& paints, double part, double white_grams) {
    const Colourant* white = library().find("titanium-dioxide");
    Score score;
    for (std::size_t i = 0; i < paints.size(); ++i)
        for (std::size_t k = i + 1; k < paints.size(); ++k) {
            const Paint &a = paints[i], &b = paints[k];
            Colourant found_a = a.truth, found_b = b.truth;
            found_a.unit = a.fit.unit;
            found_b.unit = b.fit.unit;
            const double x = part * a.dose, y = part * b.dose;
            score.add(colour({{&a.truth, x}, {&b.truth, y}, {white, white_grams}}),
                      colour({{&found_a, x}, {&found_b, y}, {white, white_grams}}),
                      mean_of({{colour({{&a.truth, a.dose}}), x},
                               {colour({{&b.truth, b.dose}}), y},
                               {colour({{white, white_g}}), white_grams}}));
        }
    return score;
}

/// From pastel to as strong as the test bar itself, in much and in little white.
constexpr std::array dose_parts{0.15, 0.3, 0.6, 1.0};
constexpr std::array whites_g{10.0, 3.0};

struct PairScores {
    double mean = 0, worst = 0, averaged = 0;
    std::string words;
};

PairScores pair_scores(const std::vector<Paint>& paints) {
    PairScores out;
    std::ostringstream words;
    words << std::fixed << std::setprecision(2);
    for (const double white : whites_g)
        for (const double part : dose_parts) {
            const Score score = pairs(paints, part, white);
            words << "\n  " << part << " of the working dose each, white " << white
                  << " g/kg: " << score.mine() << " (averaging RGB " << score.rgb() << ")";
            constexpr auto cells = static_cast<double>(dose_parts.size() * whites_g.size());
            out.mean += score.mine() / cells;
            out.averaged += score.rgb() / cells;
            out.worst = std::max(out.worst, score.mine());
        }
    out.words = words.str();
    return out;
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
            CHECK(paint.fit.unit.absorption_per_mm[i] > 0);
            CHECK(paint.fit.unit.scattering_per_mm[i] > 0);
        }
        explained += paint.fit.mean_de00 / static_cast<double>(paints.size());
    }
    const Score tint = tints(paints);
    const PairScores pair = pair_scores(paints);
    MESSAGE("bars explained to dE00 " << explained << "; tints " << tint.mine() << " (averaging RGB "
                                      << tint.rgb()
                                      << "); two colourants with white, mean dE00:" << pair.words);
    CHECK(explained < 1);
    CHECK(tint.mine() < 2);
    CHECK(pair.worst < 3);  // at every dose, not only on average
    CHECK(tint.rgb() > 3 * tint.mine());
    CHECK(pair.averaged > 3 * pair.mean);
}

TEST_CASE("swatches: leaning on pigments that another laboratory measured does as well") {
    const std::vector<Paint> paints = fitted_paints({{1, 0}, {1, white_g}}, Kin::other_set_only);
    const std::vector<Paint> without = fitted_paints({{1, 0}, {1, white_g}}, Kin::none);
    const PairScores pair = pair_scores(paints), plain = pair_scores(without);
    MESSAGE("two colourants with white: kin of the other set " << pair.mean << ", no kin " << plain.mean
                                                               << pair.words);
    CHECK(tints(paints).mine() < 2);
    CHECK(pair.mean < 3);
    CHECK(pair.mean < plain.mean);
}

TEST_CASE("swatches: more bars make it better") {
    const std::vector<Paint> two = fitted_paints({{1, 0}, {1, white_g}});
    const std::vector<Paint> five = fitted_paints({{1, 0}, {1, white_g}, {0.3, 0}, {0.3, white_g}, {0.1, 5}});
    const double before = tints(two).mine(), after = tints(five).mine();
    const double pairs_before = pair_scores(two).mean, pairs_after = pair_scores(five).mean;
    MESSAGE("tints: two bars " << before << ", five bars " << after << "; two colourants " << pairs_before
                               << ", " << pairs_after);
    CHECK(after < before);
    CHECK(pairs_after < pairs_before);
}

TEST_CASE("swatches: one bar gives a usable colourant and says what it does not know") {
    const std::vector<Paint> one = fitted_paints({{1, white_g}});
    for (const Paint& paint : one) CHECK_FALSE(paint.fit.scattering_known);
    CHECK(tints(one).mine() < 5);
}
