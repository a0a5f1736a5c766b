#include "colour/viewing.h"

#include <algorithm>

#include "colour/matrix3.h"

namespace foreslice::colour {
namespace {

/// XYZ as the adapted eye sees it, relative to D65 of the 2-degree observer.
Xyz adapted_to_d65(const Spectrum& reflectance, Illuminant illuminant, Observer observer) {
    return adapted(xyz_of(reflectance, illuminant, observer), white_of(illuminant, observer),
                   white_of(Illuminant::d65));
}

// Machado, Oliveira & Fernandes 2009: severity 1.0, for linear sRGB (figures as in the authors' table, read
// in two copies).
constexpr Matrix3 protan{
    {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}};
constexpr Matrix3 deutan{
    {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}};
constexpr Matrix3 tritan{
    {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}};

}  // namespace

LinearSrgb seen_under(const Spectrum& reflectance, Illuminant illuminant, Observer observer) {
    return gamut_mapped(
        linear_srgb_of(xyz_of(reflectance, illuminant, observer), white_of(illuminant, observer)));
}

double colour_shift(const Spectrum& reflectance, Illuminant reference, Illuminant test, Observer observer) {
    const Xyz white = white_of(Illuminant::d65);
    return ciede2000(lab_of(adapted_to_d65(reflectance, reference, observer), white),
                     lab_of(adapted_to_d65(reflectance, test, observer), white));
}

double contrast_under(const Spectrum& one, const Spectrum& other, Illuminant illuminant, Observer observer) {
    const Xyz white = white_of(Illuminant::d65);
    return ciede2000(lab_of(adapted_to_d65(one, illuminant, observer), white),
                     lab_of(adapted_to_d65(other, illuminant, observer), white));
}

double metamerism_index(const Spectrum& sample, const Spectrum& standard, Illuminant reference,
                        Illuminant test, Observer observer) {
    const Xyz sample_here = xyz_of(sample, reference, observer);
    const Xyz standard_here = xyz_of(standard, reference, observer);
    const Xyz raw = xyz_of(sample, test, observer);
    const auto scaled = [](double value, double wanted, double found) {
        return found > 0 ? value * wanted / found : value;
    };
    const Xyz corrected{scaled(raw.x, standard_here.x, sample_here.x),
                        scaled(raw.y, standard_here.y, sample_here.y),
                        scaled(raw.z, standard_here.z, sample_here.z)};
    const Xyz white = white_of(test, observer);
    return ciede2000(lab_of(corrected, white), lab_of(xyz_of(standard, test, observer), white));
}

std::string_view name_of(Vision vision) {
    switch (vision) {
        case Vision::protanopia:
            return "protanopia";
        case Vision::deuteranopia:
            return "deuteranopia";
        case Vision::tritanopia:
            return "tritanopia";
        case Vision::usual:
            break;
    }
    return "usual";
}

LinearSrgb seen_with(Vision vision, const LinearSrgb& rgb) {
    if (vision == Vision::usual) return rgb;
    const Matrix3& m = vision == Vision::protanopia     ? protan
                       : vision == Vision::deuteranopia ? deutan
                                                        : tritan;
    const Vector3 seen = m * Vector3{rgb.r, rgb.g, rgb.b};
    return {std::clamp(seen[0], 0.0, 1.0), std::clamp(seen[1], 0.0, 1.0), std::clamp(seen[2], 0.0, 1.0)};
}

}  // namespace foreslice::colour
