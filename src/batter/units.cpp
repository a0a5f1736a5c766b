#include "batter/units.h"

#include <array>
#include <charconv>
#include <cmath>

namespace foreslice::batter {
namespace {

constexpr double fluid_ounce_ml = 29.5735295625;
constexpr double most_g = 1e9;

double with_14_digits(double value) {
    if (!std::isfinite(value)) return value;
    std::array<char, 64> text{};
    const auto written =
        std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::scientific, 13);
    double out = value;
    std::from_chars(text.data(), written.ptr, out);
    return out;
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    return text;
}

}  // namespace

double g_per(MassUnit unit) {
    switch (unit) {
        case MassUnit::kg:
            return 1000;
        case MassUnit::oz:
            return 28.349523125;
        case MassUnit::lb:
            return 453.59237;
        case MassUnit::g:
            break;
    }
    return 1;
}

double ml_per(VolumeUnit unit) {
    switch (unit) {
        case VolumeUnit::l:
            return 1000;
        case VolumeUnit::us_teaspoon:
            return fluid_ounce_ml / 6;
        case VolumeUnit::us_tablespoon:
            return fluid_ounce_ml / 2;
        case VolumeUnit::us_fluid_ounce:
            return fluid_ounce_ml;
        case VolumeUnit::us_cup:
            return fluid_ounce_ml * 8;
        case VolumeUnit::ml:
            break;
    }
    return 1;
}

std::string_view name_of(MassUnit unit) {
    constexpr std::array<std::string_view, 4> names{"g", "kg", "oz", "lb"};
    return names[static_cast<std::size_t>(unit)];
}

std::string_view name_of(VolumeUnit unit) {
    constexpr std::array<std::string_view, 6> names{"ml", "l", "tsp", "tbsp", "fl oz", "cup"};
    return names[static_cast<std::size_t>(unit)];
}

double to_g(double amount, MassUnit unit) {
    return amount * g_per(unit);
}

double to_ml(double amount, VolumeUnit unit) {
    return amount * ml_per(unit);
}

double from_g(double g, MassUnit unit) {
    return with_14_digits(g / g_per(unit));
}

double from_ml(double ml, VolumeUnit unit) {
    return with_14_digits(ml / ml_per(unit));
}

std::optional<StatedMass> mass_from_text(std::string_view text) {
    text = trimmed(text);
    StatedMass mass;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), mass.amount);
    if (read.ec != std::errc{} || !std::isfinite(mass.amount) || mass.amount < 0) return std::nullopt;
    const auto rest = trimmed(text.substr(static_cast<std::size_t>(read.ptr - text.data())));
    bool known = rest.empty();
    for (const MassUnit unit : {MassUnit::g, MassUnit::kg, MassUnit::oz, MassUnit::lb})
        if (rest == name_of(unit)) {
            mass.unit = unit;
            known = true;
        }
    if (!known || to_g(mass.amount, mass.unit) > most_g) return std::nullopt;
    return mass;
}

std::optional<double> g_from_text(std::string_view text) {
    const auto mass = mass_from_text(text);
    if (!mass) return std::nullopt;
    return to_g(mass->amount, mass->unit);
}

}  // namespace foreslice::batter
