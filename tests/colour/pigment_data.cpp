#include "colour/pigment_data.h"

#include <algorithm>

#include "colour/csv.h"

namespace foreslice::testing {

using namespace colour;

RelativeOptics artist_paint(const std::filesystem::path& data, const std::string& paint) {
    const Csv csv(data / "colour/pigment_KS_artist_acrylics_380_750.csv");
    RelativeOptics out;
    for (std::size_t i = 0; i < band_count; ++i) {  // the file starts at 380 nm too
        out.k[i] = csv.number(i, paint + " K");
        out.s[i] = csv.number(i, paint + " S");
    }
    return out;
}

namespace {

Spectrum reflectance_row(const Csv& csv, std::size_t row) {
    Spectrum out{};
    for (std::size_t i = 0; i < band_count; ++i) {
        const int nm = std::clamp(lambda_nm(i), 420, 720);
        out[i] = csv.number(row, reflectance_column(nm));
    }
    return out;
}

double q_of(double measured) {
    return k_over_s_of(std::clamp(saunderson_inverse(measured, two_swatch_surface), 1e-4, 1.0));
}

}  // namespace

std::vector<TwoSwatches> masstone_and_tint(const std::filesystem::path& data, Spectrum& white) {
    const Csv csv(data / "colour/pigment_masstone_and_tint_400_720.csv");
    std::vector<TwoSwatches> paints;
    for (std::size_t row = 0; row < csv.rows(); ++row) {
        const std::string& pigment = csv.text(row, "pigment");
        if (csv.text(row, "kind") != "masstone") {
            const auto paint = std::find_if(paints.begin(), paints.end(),
                                            [&](const TwoSwatches& p) { return p.pigment == pigment; });
            paint->tint = reflectance_row(csv, row);
            paint->tint_share = csv.number(row, "w_pigment");
        } else if (pigment == "white") {
            white = reflectance_row(csv, row);
        } else {
            paints.push_back({pigment, reflectance_row(csv, row), {}, 0});
        }
    }
    return paints;
}

RelativeOptics two_swatch_optics(const TwoSwatches& swatches, const Spectrum& white) {
    RelativeOptics out;
    const double c = swatches.tint_share, w = 1 - c;
    for (std::size_t i = 0; i < band_count; ++i) {
        const double m = q_of(swatches.masstone[i]), t = q_of(swatches.tint[i]);
        out.s[i] = std::max(0.0, w * (q_of(white[i]) - t) / (c * (t - m)));
        out.k[i] = m * out.s[i];
    }
    return out;
}

}  // namespace foreslice::testing
