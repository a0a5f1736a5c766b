// Numbers as a maker types them: with a unit, with a comma or a point, in another unit of the same kind.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace foreslice::studio {

enum class Unit { none, mm, g, g_per_kg, percent, pa, pa_sn, kg_per_m3, mm_per_s, ml_per_s, degree };

/// In which units a document is read and typed.
struct ShownUnits {
    bool inches = false, ounces = false;
    friend bool operator==(const ShownUnits&, const ShownUnits&) = default;
};

/// What stands behind the number: "mm", "g/kg", "%" ...; empty for Unit::none.
std::string_view text_of(Unit unit);

/// Reads "12", "12,5", "12 mm", "1.2 cm", "0.5 in". Units other than the field's own
/// are converted when they measure the same thing (mm, cm, m, in; g/kg, %, ppm; Pa, kPa; mm/s, cm/s, m/s;
/// kg/m3, g/cm3). Empty when the text is not a finite number of that kind.
std::optional<double> parse_quantity(std::string_view text, Unit unit);

/// The same for a document in its own units: a bare number counts in the unit that is shown.
std::optional<double> parse_quantity(std::string_view text, Unit unit, const ShownUnits& units);

/// A value as a document's units show it: millimetres as inches, grams as ounces, everything else unchanged.
struct ShownNumber {
    double value = 0;
    std::string_view unit;
    int decimals = 0;
};
ShownNumber shown_number(double value, Unit unit, int decimals, const ShownUnits& units);
std::string format_quantity(double value, Unit unit, int decimals, const ShownUnits& units);

/// The number with at most `decimals` decimals, no trailing zeros, and its unit.
std::string format_quantity(double value, Unit unit, int decimals);
/// Without the unit.
std::string format_number(double value, int decimals);

}  // namespace foreslice::studio
