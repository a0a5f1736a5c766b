// Masses and volumes in the units of a bench. Stored in grams and millilitres; a value a person typed comes
// back as it was typed.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace foreslice::batter {

enum class MassUnit { g, kg, oz, lb };
enum class VolumeUnit { ml, l, us_teaspoon, us_tablespoon, us_fluid_ounce, us_cup };

/// Exact by definition: the avoirdupois pound is 453.59237 g (international yard and pound agreement, 1959),
/// the ounce its sixteenth part.
double g_per(MassUnit unit);
/// Exact by definition: the US gallon is 231 cubic inches, a fluid ounce its 128th part, a cup 8 fluid
/// ounces, a tablespoon half and a teaspoon a sixth of one.
double ml_per(VolumeUnit unit);
std::string_view name_of(MassUnit unit);    ///< "g", "kg", "oz", "lb"
std::string_view name_of(VolumeUnit unit);  ///< "ml", "l", "tsp", "tbsp", "fl oz", "cup"

double to_g(double amount, MassUnit unit);
double to_ml(double amount, VolumeUnit unit);
/// The way back. Rounded to 14 significant digits, so that from_g(to_g(x, u), u) is x to the last bit for
/// every x that a person writes with up to 12 digits.
double from_g(double g, MassUnit unit);
double from_ml(double ml, VolumeUnit unit);

/// "2.5 kg", "16 oz", "250" (grams): the mass in g; empty for anything else, for negative amounts and for
/// more than 1e9 g.
std::optional<double> g_from_text(std::string_view text);
/// The same with the unit kept.
struct StatedMass {
    double amount = 0;
    MassUnit unit = MassUnit::g;
    friend bool operator==(const StatedMass&, const StatedMass&) = default;
};
std::optional<StatedMass> mass_from_text(std::string_view text);

/// Which units a sheet speaks. Powders are weighed in grams in both: an ounce scale is too coarse for them.
enum class UnitSystem { metric, us };

}  // namespace foreslice::batter
