// What the files of the library's recipe share. Internal to the recipe.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "colour/pigment.h"
#include "colour/pigment_data.h"

namespace foreslice::testing {

struct Part {
    const colour::Optics& unit;
    double mass_share;
};

struct Family {
    const char* kind;
    double gram_per_teaspoon, usual_most;
};

struct Oxides {
    colour::Optics red, yellow, black, brown;
};

struct Parents {
    const Oxides& oxides;
    const colour::Optics &ultramarine_blue, &kaolin;
    colour::Optics chromium_green;
};

extern const std::string artist_paint_source, aim_source;

colour::Optics scaled(const RelativeOptics& relative, double factor);
/// Scaled so that the greatest K is `peak_per_mm`.
colour::Optics scaled_to_peak(const RelativeOptics& relative, double peak_per_mm);
colour::Optics blend(const std::vector<Part>& parts, double extra_scattering_per_mm = 0);
/// Unit optics whose dose turns the plain base to `hex`.
colour::Optics from_aim(const colour::Optics& base, const char* hex, double dose_g_per_kg,
                        double unit_scattering_per_mm);
colour::Colourant make(const char* id, const char* name, const Family& family, const colour::Optics& unit,
                       bool measured, const std::string& source);

/// Anatase, clays, organic pigments, lakes, dyes, plants, browns, more micas.
void add_more(std::vector<colour::Colourant>& all, const std::filesystem::path& data,
              const colour::Optics& base, const Parents& parents);
/// Densities, particle sizes, lustre, and what lye and time do to each.
void describe(std::vector<colour::Colourant>& all);

}  // namespace foreslice::testing
