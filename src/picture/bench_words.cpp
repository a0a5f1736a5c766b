#include "picture/bench_words.h"

#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>

#include "foundation/numbers.h"
#include "picture/caption.h"

namespace foreslice::picture {

using batter::MassUnit;
using batter::UnitSystem;
using batter::VolumeUnit;

std::string shown(double value, int decimals) {
    return rounded_number(value, decimals);
}

std::string words_of(const batter::Weighing& weight) {
    return weight.text() + " " + std::string(name_of(weight.scale.unit));
}

std::string mass_words(double g, UnitSystem units) {
    if (units == UnitSystem::metric) return g < 10 ? shown(g, 1) + " g" : shown(g, 0) + " g";
    if (g < 900) return shown(from_g(g, MassUnit::oz), 1) + " oz";
    return shown(from_g(g, MassUnit::lb), 2) + " lb";
}

std::string volume_words(double ml, UnitSystem units) {
    if (units == UnitSystem::metric) return ml < 10 ? shown(ml, 1) + " ml" : shown(ml, 0) + " ml";
    return shown(from_ml(ml, VolumeUnit::us_fluid_ounce), 1) + " fl oz";
}

std::string length_words(double mm, UnitSystem units) {
    return units == UnitSystem::metric ? shown(mm, 1) + " mm" : shown(mm / 25.4, 2) + " in";
}

std::string temperature_words(double celsius, UnitSystem units) {
    return units == UnitSystem::metric ? shown(celsius, 0) + " °C" : shown(celsius * 1.8 + 32, 0) + " °F";
}

Scales scales_of(UnitSystem units, const BenchOptions& options) {
    const bool metric = units == UnitSystem::metric;
    const batter::Scale coarse{metric ? 1 : 0.05, metric ? MassUnit::g : MassUnit::oz};
    const batter::Scale fine{metric ? 0.1 : 0.01, metric ? MassUnit::g : MassUnit::oz};
    return {options.scale.value_or(coarse), options.fine_scale.value_or(fine), options.powder_scale};
}

const std::vector<std::string>& lye_cautions() {
    static const std::vector<std::string> cautions{
        "Sealed goggles, gloves, long sleeves, closed shoes. Open a window; keep your face away from the "
        "jug.",
        "Lye into cold water, a little at a time. Never water onto lye.",
        "No aluminium, zinc or tin. Heat-safe plastic or stainless steel. Write LYE on the jug.",
        "Children and animals out of the room.",
        "Splash: take wet clothes off, rinse with running water for a long time, and see a doctor. No "
        "vinegar.",
        "Powders: wear a dust mask, weigh slowly, wet them at once.",
        "Fragrance: stay within the limit in the supplier's documents.",
        "Colour additives, notification and labels: local rules and licensed advice decide."};
    return cautions;
}

const char* const not_an_assessment =
    "These figures are arithmetic from the ranges and amounts shown. They are not a safety assessment, not a "
    "promise that a recipe suits your skin, and no substitute for your suppliers' documents.";

BenchRow row_of(std::string id, std::string name, std::string note, const batter::Weighing& weight) {
    BenchRow row{std::move(id), std::move(name), std::move(note), weight, 0, false, ""};
    const double step_g = weight.scale.step_g();
    if (std::abs(weight.rounding_g()) > step_g / 50) {
        const double exact = from_g(weight.exact_g, weight.scale.unit);
        row.exact = "exact " + shown(exact, batter::decimals_of(weight.scale.step) + 1);
    }
    return row;
}

namespace {

constexpr std::array<const char*, 12> month_names{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                  "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
constexpr std::array<const char*, 7> day_names{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};

std::chrono::year_month_day calendar(const BenchDate& date) {
    return {std::chrono::year(date.year), std::chrono::month(static_cast<unsigned>(date.month)),
            std::chrono::day(static_cast<unsigned>(date.day))};
}

/// Digits at fixed places.
std::optional<int> number_at(const std::string& text, std::size_t at, std::size_t count) {
    int value = 0;
    for (std::size_t i = at; i < at + count; ++i) {
        if (i >= text.size() || text[i] < '0' || text[i] > '9') return std::nullopt;
        value = 10 * value + (text[i] - '0');
    }
    return value;
}

}  // namespace

std::optional<BenchDate> bench_date_from_text(const std::string& text) {
    const auto year = number_at(text, 0, 4), month = number_at(text, 5, 2), day = number_at(text, 8, 2);
    if (!year || !month || !day || text[4] != '-' || text[7] != '-') return std::nullopt;
    BenchDate date{*year, *month, *day, {}};
    if (!calendar(date).ok() || *year < 1900) return std::nullopt;
    if (text.size() == 10) return date;
    const auto hour = number_at(text, 11, 2), minute = number_at(text, 14, 2);
    if (!hour || !minute || text[10] != 'T' || text[13] != ':' || text.size() != 16) return std::nullopt;
    if (*hour > 23 || *minute > 59) return std::nullopt;
    date.minute_of_day = 60 * *hour + *minute;
    return date;
}

std::string date_words(const BenchDate& date) {
    const std::chrono::weekday weekday{std::chrono::sys_days(calendar(date))};
    std::string words = std::string(day_names[weekday.c_encoding()]) + " " + std::to_string(date.day) + " " +
                        month_names[static_cast<std::size_t>(date.month - 1)] + " " +
                        std::to_string(date.year);
    if (date.minute_of_day) {
        std::array<char, 16> time{};
        std::snprintf(time.data(), time.size(), ", %02d:%02d", *date.minute_of_day / 60 % 24,
                      *date.minute_of_day % 60);
        words += time.data();
    }
    return words;
}

BenchDate later(const BenchDate& date, double hours) {
    const int minutes = date.minute_of_day.value_or(0) + static_cast<int>(std::lround(60 * hours));
    const int days = minutes / 1440;
    const std::chrono::year_month_day then{std::chrono::sys_days(calendar(date)) + std::chrono::days(days)};
    BenchDate out{int{then.year()},
                  static_cast<int>(unsigned{then.month()}),
                  static_cast<int>(unsigned{then.day()}),
                  {}};
    if (date.minute_of_day) out.minute_of_day = minutes % 1440;
    return out;
}

}  // namespace foreslice::picture
