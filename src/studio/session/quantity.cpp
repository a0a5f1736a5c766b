#include "studio/session/quantity.h"
#include "foundation/numbers.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace foreslice::studio {
namespace {

constexpr double mm_per_inch = 25.4;              // exact by definition
constexpr double grams_per_ounce = 28.349523125;  // avoirdupois, exact by definition

struct UnitWord {
    Unit unit;
    std::string_view word;
    double factor;  // times this gives the field's own unit
};

constexpr std::array unit_words{
    UnitWord{Unit::mm, "mm", 1},
    UnitWord{Unit::mm, "cm", 10},
    UnitWord{Unit::mm, "m", 1000},
    UnitWord{Unit::mm, "in", mm_per_inch},
    UnitWord{Unit::mm, "inch", mm_per_inch},
    UnitWord{Unit::mm, "inches", mm_per_inch},
    UnitWord{Unit::mm, "\"", mm_per_inch},
    UnitWord{Unit::g, "g", 1},
    UnitWord{Unit::g, "kg", 1000},
    UnitWord{Unit::g, "oz", grams_per_ounce},
    UnitWord{Unit::g, "lb", 16 * grams_per_ounce},
    UnitWord{Unit::g_per_kg, "g/kg", 1},
    UnitWord{Unit::g_per_kg, "%", 10},
    UnitWord{Unit::g_per_kg, "ppm", 0.001},
    UnitWord{Unit::percent, "%", 1},
    UnitWord{Unit::percent, "percent", 1},
    UnitWord{Unit::pa, "Pa", 1},
    UnitWord{Unit::pa, "kPa", 1000},
    UnitWord{Unit::pa_sn, "Pa s^n", 1},
    UnitWord{Unit::pa_sn, "Pa s", 1},
    UnitWord{Unit::pa_sn, "Pa sⁿ", 1},
    UnitWord{Unit::kg_per_m3, "kg/m³", 1},
    UnitWord{Unit::kg_per_m3, "kg/m3", 1},
    UnitWord{Unit::kg_per_m3, "g/cm3", 1000},
    UnitWord{Unit::kg_per_m3, "g/cm³", 1000},
    UnitWord{Unit::mm_per_s, "mm/s", 1},
    UnitWord{Unit::mm_per_s, "cm/s", 10},
    UnitWord{Unit::mm_per_s, "m/s", 1000},
    UnitWord{Unit::ml_per_s, "mL/s", 1},
    UnitWord{Unit::ml_per_s, "ml/s", 1},
    UnitWord{Unit::ml_per_s, "cm3/s", 1},
    UnitWord{Unit::degree, "°", 1},
    UnitWord{Unit::degree, "deg", 1},
};

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::optional<double> factor_of(std::string_view word, Unit unit) {
    if (word.empty()) return 1.0;
    for (const auto& known : unit_words)
        if (known.unit == unit && known.word == word) return known.factor;
    return std::nullopt;
}

}  // namespace

std::string_view text_of(Unit unit) {
    switch (unit) {
        case Unit::mm:
            return "mm";
        case Unit::g:
            return "g";
        case Unit::g_per_kg:
            return "g/kg";
        case Unit::percent:
            return "%";
        case Unit::pa:
            return "Pa";
        case Unit::pa_sn:
            return "Pa sⁿ";
        case Unit::kg_per_m3:
            return "kg/m³";
        case Unit::mm_per_s:
            return "mm/s";
        case Unit::ml_per_s:
            return "mL/s";
        case Unit::degree:
            return "°";
        case Unit::none:
            break;
    }
    return "";
}

std::optional<double> parse_quantity(std::string_view text, Unit unit) {
    std::string number(trimmed(text));
    if (!number.empty() && number.front() == '+') number.erase(0, 1);
    // A comma is a decimal point; there are no thousands in this trade's figures.
    std::replace(number.begin(), number.end(), ',', '.');
    double value = 0;
    const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), value);
    if (error != std::errc() || !std::isfinite(value)) return std::nullopt;
    const auto used = static_cast<std::size_t>(end - number.data());
    const auto factor = factor_of(trimmed(std::string_view(number).substr(used)), unit);
    if (!factor) return std::nullopt;
    return value * *factor;
}

ShownNumber shown_number(double value, Unit unit, int decimals, const ShownUnits& units) {
    if (unit == Unit::mm && units.inches) return {value / mm_per_inch, "in", std::max(2, decimals + 2)};
    if (unit == Unit::g && units.ounces) return {value / grams_per_ounce, "oz", decimals + 1};
    return {value, text_of(unit), decimals};
}

std::string format_quantity(double value, Unit unit, int decimals, const ShownUnits& units) {
    const ShownNumber shown = shown_number(value, unit, decimals, units);
    std::string out = format_number(shown.value, shown.decimals);
    if (!shown.unit.empty()) out.append(" ").append(shown.unit);
    return out;
}

std::optional<double> parse_quantity(std::string_view text, Unit unit, const ShownUnits& units) {
    const bool bare = parse_quantity(text, Unit::none).has_value();
    if (!bare) return parse_quantity(text, unit);
    return parse_quantity(std::string(text).append(" ").append(shown_number(0, unit, 0, units).unit), unit);
}

std::string format_number(double value, int decimals) {
    return rounded_number(value, decimals);
}

std::string format_quantity(double value, Unit unit, int decimals) {
    std::string out = format_number(value, decimals);
    if (unit != Unit::none) out.append(" ").append(text_of(unit));
    return out;
}

}  // namespace foreslice::studio
