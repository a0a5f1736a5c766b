#include "picture/caption.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

namespace foreslice::picture {
namespace {

std::string plural(std::size_t count, const char* one, const char* many) {
    return std::to_string(count) + " " + (count == 1 ? one : many);
}

}  // namespace

std::string short_number(double value, int significant) {
    if (value == 0 || !std::isfinite(value)) return value == 0 ? "0" : "–";
    const int before_point = static_cast<int>(std::floor(std::log10(std::abs(value)))) + 1;
    const int decimals = std::clamp(significant - before_point, 0, 9);
    std::array<char, 64> text{};
    std::snprintf(text.data(), text.size(), "%.*f", decimals, value);
    std::string out = text.data();
    if (out.find('.') != std::string::npos) {
        out.erase(out.find_last_not_of('0') + 1);
        if (out.back() == '.') out.pop_back();
    }
    return out == "-0" ? "0" : out;
}

std::string batter_words(const design::Design& design) {
    if (design.batter.trace) return std::string(batter::name_of(*design.batter.trace)) + " trace";
    const auto& r = design.batter.explicit_rheology;
    if (r.newtonian()) return "viscosity " + short_number(r.consistency_pa_sn, 3) + " Pa·s";
    return "K " + short_number(r.consistency_pa_sn, 3) + " Pa·sⁿ, n " + short_number(r.flow_index, 3) +
           ", yield stress " + short_number(r.yield_stress_pa, 3) + " Pa";
}

std::string short_batter_words(const design::Design& design) {
    if (design.batter.trace || design.batter.explicit_rheology.newtonian()) return batter_words(design);
    return "yield stress " + short_number(design.batter.explicit_rheology.yield_stress_pa, 3) + " Pa";
}

std::string wire_words(const design::Design& design) {
    if (design.strokes.empty()) return "no wire";
    std::size_t passes = 0, paths = 0;
    bool one_wire = true;
    for (const auto& stroke : design.strokes) {
        one_wire = one_wire && stroke.wire_diameter_mm == design.strokes.front().wire_diameter_mm;
        if (const auto* straight = std::get_if<design::Passes>(&stroke.path))
            passes += static_cast<std::size_t>(straight->count);
        else
            ++paths;
    }
    std::string words = passes > 0 ? plural(passes, "pass", "passes") : "";
    if (paths > 0) words += (passes > 0 ? " and " : "") + plural(paths, "free stroke", "free strokes");
    if (!one_wire) return words + " of several wires";
    const std::string diameter = short_number(design.strokes.front().wire_diameter_mm, 3);
    const bool vowel = diameter.starts_with('8') || diameter == "11" || diameter.starts_with("11.");
    return words + (vowel ? " of an " : " of a ") + diameter + " mm wire";
}

}  // namespace foreslice::picture
