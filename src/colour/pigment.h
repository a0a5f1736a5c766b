// From doses to the colour of a portion: two-constant Kubelka-Munk with Saunderson's surface correction.
#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "colour/colorimetry.h"
#include "colour/spectrum.h"

namespace foreslice::colour {

/// K and S of a material, 1/mm.
struct Optics {
    Spectrum absorption_per_mm{};
    Spectrum scattering_per_mm{};
};

/// What a colourant may be; warnings and lists go by it.
inline constexpr std::array<std::string_view, 7> colourant_kinds{"white",  "oxide", "ultramarine", "clay",
                                                                 "carbon", "mica",  "other"};

/// One thing that tints. Unit optics are what 1 g per kg of oils adds to the base.
struct Colourant {
    std::string id;                        ///< "iron-oxide-red"; stable key in design files
    std::string name;                      ///< "iron oxide red"
    std::string kind;                      ///< one of colourant_kinds
    Optics unit;                           ///< (1/mm) per (g per kg oils)
    double gram_per_teaspoon = 4.0;        ///< level US teaspoon (4.93 mL); common practice, weigh your own
    double usual_most_g_per_kg_oils = 20;  ///< above this a warning is due; common practice
    std::string provenance;  ///< where the spectra and the strength come from, and how sure they are
    bool measured = false;   ///< false: fitted or estimated
};

class ColourantLibrary {
  public:
    ColourantLibrary() = default;
    /// From parts that are already sound (ids unique, every figure finite and >= 0).
    ColourantLibrary(Optics base, std::string base_provenance, std::vector<Colourant> colourants);

    /// Reads palettes/colourants.json (or a maker's own). Throws InputError naming file, JSON path and cause.
    static ColourantLibrary load(const std::filesystem::path& path);
    /// From the text of such a file; `name` stands in for the file in error sentences.
    static ColourantLibrary parse(std::string_view json, const std::string& name);

    /// The text of a library file, which `parse` reads back; spectra with five significant digits.
    std::string to_json() const;

    const Optics& base() const { return base_; }
    const std::string& base_provenance() const { return base_provenance_; }
    const std::vector<Colourant>& colourants() const { return colourants_; }
    const Colourant* find(std::string_view id) const;  ///< nullptr when absent
    std::uint64_t key() const { return key_; }         ///< content key of the whole library

  private:
    Optics base_;
    std::string base_provenance_;
    std::vector<Colourant> colourants_;
    std::uint64_t key_ = 0;
};

struct Dose {
    const Colourant* colourant = nullptr;
    double g_per_kg_oils = 0;  ///< >= 0, per kg of the oils in this portion
};

/// The surface: Saunderson k1 (specular share entering the reading) and k2 (internal diffuse reflection).
struct Surface {
    double k1 = 0.037;  ///< normal-incidence Fresnel reflection at n = 1.475
    double k2 = 0.58;   ///< diffuse internal reflection at n = 1.47 (Walsh/Duntley closed form)
    bool specular_included = false;
};

struct PortionColour {
    Spectrum reflectance{};
    Xyz xyz;            ///< D65
    Lab lab;            ///< D65
    LinearSrgb linear;  ///< after gamut mapping; what pixels are mixed from
    EncodedSrgb srgb;
    bool in_gamut = true;  ///< before mapping
};

/// Kubelka-Munk reflectance of an infinitely thick layer at q = K/S >= 0.
double reflectance_infinite(double k_over_s);
/// Its inverse, R in (0, 1].
double k_over_s_of(double reflectance);
/// Layer of thickness x over a backing of reflectance rg; every K, S >= 0 (limits handled).
double reflectance_finite(double absorption_per_mm, double scattering_per_mm, double thickness_mm,
                          double backing);
double transmittance_finite(double absorption_per_mm, double scattering_per_mm, double thickness_mm);
double saunderson(double internal_reflectance, const Surface& surface);
double saunderson_inverse(double measured_reflectance, const Surface& surface);

/// K and S of base plus doses: additive in the dose (Duncan 1940).
Optics mixed(const Optics& base, const std::vector<Dose>& doses);
/// What a bar lies on, as seen from inside it: a light grey board. Only shows through when the bar scatters
/// little; a 25 mm bar of the plain base over black differs from one over this by less than 0.5 in L*.
inline constexpr double bar_backing_reflectance = 0.6;

/// Colour of a bar `thickness_mm` thick of this material over `bar_backing_reflectance`.
PortionColour colour_of(const Optics& optics, const Surface& surface = {}, double thickness_mm = 25);

/// A level US teaspoon per pound of oils, from g per kg of oils.
double teaspoons_per_pound(const Colourant& colourant, double g_per_kg_oils);

}  // namespace foreslice::colour
