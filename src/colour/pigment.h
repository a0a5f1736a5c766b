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
inline constexpr std::array<std::string_view, 10> colourant_kinds{
    "white", "oxide", "ultramarine", "clay", "carbon", "mica", "dye", "lake", "botanical", "other"};

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
    double particle_density_g_per_cm3 = 2.7;  ///< of the solid, not of the heap; for drops of a dispersion
    double particle_diameter_um = 0;          ///< above 0: particles that scatter less when crowded (whites)
    double price_per_100_g = 0;               ///< in the maker's own money; 0: not known
    double sparkle = 0;                       ///< 0..1, lustre of an effect pigment; shows on the top only
    double fade_half_life_days = 0;           ///< of its absorption in a curing bar kept in a room; 0: lasts
    double lost_in_alkali_share = 0;          ///< 0..1, of its absorption, within the first days
    double turns_brown_share = 0;             ///< 0..1, of what is lost, that comes back as a brown
    bool bleeds = false;                      ///< dissolves: its edges wander into the neighbours
    bool not_soap_safe = false;               ///< known to be destroyed by lye or not meant for skin
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

/// Share of the scattering that crowded particles keep: 10^-(10^(0.25 - 3.83 c / lambda)), with c the clear
/// distance between neighbours and lambda the wavelength in the medium. H. C. Hottel, A. F. Sarofim, W. H.
/// Dalzell, I. A. Vasalos: Optical properties of coatings: effect of pigment concentration. AIAA J. 9(10),
/// 1971 (from memory). Beyond the dose at which more would scatter less, the scattering stays where it was.
/// One at the doses of soap, about a half at 200 g of titanium dioxide per kg of oils.
double crowding_factor(const Colourant& colourant, double g_per_kg_oils, int lambda_nm);

/// K and S of base plus doses: additive in the dose (Duncan 1940), but for whites that crowd.
Optics mixed(const Optics& base, const std::vector<Dose>& doses);
/// What a bar lies on, as seen from inside it: a light grey board. Only shows through when the bar scatters
/// little; a 25 mm bar of the plain base over black differs from one over this by less than 0.5 in L*.
inline constexpr double bar_backing_reflectance = 0.6;

/// What this reflectance looks like.
PortionColour colour_of_reflectance(const Spectrum& reflectance);

/// Colour of a bar `thickness_mm` thick of this material over `bar_backing_reflectance`.
PortionColour colour_of(const Optics& optics, const Surface& surface = {}, double thickness_mm = 25);

/// A level US teaspoon per pound of oils, from g per kg of oils.
double teaspoons_per_pound(const Colourant& colourant, double g_per_kg_oils);

}  // namespace foreslice::colour
