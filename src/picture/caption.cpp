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

std::string stroke_words(const design::Stroke& stroke) {
    const std::string wire = " mm wire";
    const std::string diameter = short_number(stroke.wire_diameter_mm, 3);
    if (const auto* passes = std::get_if<design::Passes>(&stroke.path))
        return plural(static_cast<std::size_t>(passes->count), "pass", "passes") + " of a " + diameter + wire;
    const auto points = std::get<design::Waypoints>(stroke.path).points_mm.size();
    return "a " + diameter + wire + " drawn through " + plural(points, "point", "points");
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

std::string wire_words(const design::Design& design) {
    if (design.strokes.empty()) return "no wire";
    std::string words = stroke_words(design.strokes.front());
    if (design.strokes.size() == 2) words += ", then " + stroke_words(design.strokes[1]);
    if (design.strokes.size() > 2)
        words += ", then " + plural(design.strokes.size() - 1, "more stroke", "more strokes");
    return words;
}

}  // namespace foreslice::picture
