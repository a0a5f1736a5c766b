#include "design/internal/field_words.h"

#include <algorithm>
#include <array>
#include <utility>

namespace foreslice::design {
namespace {

// Only where taking the key apart would not give the word of the trade.
constexpr std::array<std::pair<std::string_view, std::string_view>, 28> names{{
    {"fill_mm", "fill height"},
    {"doses", "colourants"},
    {"share_percent", "share"},
    {"part_percent", "part of the portion"},
    {"unevenness_mm", "unevenness"},
    {"with_previous", "together with the pour before"},
    {"foot_mm", "distance from the wall"},
    {"rate_ml_per_s", "rate of the stream"},
    {"tilt_deg", "tilt of the mould"},
    {"firmed_yield_stress_pa", "yield stress when it has firmed"},
    {"tapped_percent", "tapping"},
    {"sifted_over", "sifted line"},
    {"wire_diameter_mm", "wire"},
    {"speed_mm_per_s", "speed of the wire"},
    {"count", "number"},
    {"passes", "passes"},
    {"waypoints_mm", "way of the wire"},
    {"margin_mm", "distance from the walls"},
    {"start", "starting side"},
    {"after_pours", "drawn after so many pours"},
    {"wander_mm", "wander of the hand"},
    {"sag_mm", "sag of the wire"},
    {"bar_thickness_mm", "thickness of a bar"},
    {"trim_mm", "trimmed from each end"},
    {"age_days", "age"},
    {"seed", "seed of everything uneven"},
    {"consistency_pa_sn", "consistency K"},
    {"lye_percent", "lye concentration"},
}};

// Longest first, so that "_mm_per_s" is not taken for "_s".
constexpr std::array<std::pair<std::string_view, std::string_view>, 19> units{{
    {"_teaspoons_per_pound_oils", "tsp/lb"},
    {"_kg_per_m3", "kg/m³"},
    {"_drops_per_kg_oils", "drops/kg"},
    {"_g_per_kg_oils", "g/kg"},
    {"_g_per_kg_batter", "g/kg of batter"},
    {"_mm_per_s", "mm/s"},
    {"_ml_per_s", "ml/s"},
    {"_percent", "%"},
    {"_pa_sn", "Pa·sⁿ"},
    {"_per_ml", "to a ml"},
    {"_celsius", "°C"},
    {"_days", "days"},
    {"_deg", "°"},
    {"_mm", "mm"},
    {"_pa", "Pa"},
    {"_min", "min"},
    {"_ml", "ml"},
    {"_c", "°C"},
    {"_g", "g"},
}};

}  // namespace

FieldWords field_words(std::string_view key) {
    FieldWords words;
    std::string_view rest = key;
    if (key == "g_per_kg_oils") return {"dose", "g/kg"};
    if (key == "g_per_kg_batter") return {"dose", "g/kg of batter"};
    if (key == "percent_of_batter") return {"dose", "% of batter"};
    if (key == "teaspoons_per_pound_oils") return {"dose", "tsp/lb"};
    if (key == "drops_per_kg_oils") return {"dose", "drops/kg"};
    for (const auto& [ending, unit] : units)
        if (rest.size() > ending.size() && rest.substr(rest.size() - ending.size()) == ending) {
            words.unit = unit;
            rest.remove_suffix(ending.size());
            break;
        }
    words.name = std::string(rest);
    std::replace(words.name.begin(), words.name.end(), '_', ' ');
    for (const auto& [known, name] : names)
        if (known == key) words.name = name;
    return words;
}

}  // namespace foreslice::design
