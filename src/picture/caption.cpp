#include "picture/caption.h"
#include "foundation/numbers.h"

#include <vector>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

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
    return rounded_number(value, decimals);
}

std::string label_of(std::size_t index) {
    std::string label(1, static_cast<char>('A' + index % 26));
    for (index /= 26; index > 0; index = (index - 1) / 26)
        label.insert(label.begin(), static_cast<char>('A' + (index - 1) % 26));
    return label;
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

namespace {

std::string with_article(const std::string& number) {
    const bool vowel = number.starts_with('8') || number == "11" || number.starts_with("11.");
    return (vowel ? "an " : "a ") + number;
}

std::string tool_words(const design::Stroke& stroke) {
    const flow::Tool& tool = stroke.tool;
    if (tool.kind == flow::Tool::Kind::strip)
        return with_article(short_number(tool.width_mm, 3)) + " mm strip";
    const std::string diameter = short_number(stroke.wire_diameter_mm, 3) + " mm";
    if (tool.kind == flow::Tool::Kind::comb)
        return "a comb of " + plural(static_cast<std::size_t>(tool.wires), "wire", "wires") + " of " +
               diameter;
    return with_article(diameter + " wire");
}

}  // namespace

std::string pour_words(const design::Design& design) {
    const std::array<const char*, 6> manners{"",      "free fall",   "down the wall", "tilted mould",
                                             "hills", "side by side"};
    std::vector<std::string> found;
    const auto add = [&](const std::string& words) {
        if (!words.empty() && std::find(found.begin(), found.end(), words) == found.end())
            found.push_back(words);
    };
    for (const auto& pour : design.pours) add(manners[static_cast<std::size_t>(pour.manner)]);
    for (const auto& pour : design.pours)
        if (pour.with_previous && pour.manner != design::PourManner::side_by_side) add("marbled in the jug");
    for (const auto& pour : design.pours)
        if (pour.sifted_over) add("sifted lines");
    std::string words;
    for (const auto& one : found) words += (words.empty() ? "" : ", ") + one;
    return words;
}

std::string top_words(const design::Design& design) {
    const std::array<const char*, 4> motions{"drawn along", "drawn up to a crest", "pulled into peaks",
                                             "drawn from side to side"};
    std::vector<std::string> found;
    const auto add = [&](const std::string& words) {
        if (std::find(found.begin(), found.end(), words) == found.end()) found.push_back(words);
    };
    if (!design.top.spooned.empty()) add("top spooned on");
    for (const auto& stroke : design.top.strokes)
        add(std::string(found.empty() ? "top " : "") +
            std::string(motions[static_cast<std::size_t>(stroke.motion)]) +
            (stroke.tool == design::TopTool::fork ? " with a fork" : " with a spatula"));
    std::string words;
    for (const auto& one : found) words += (words.empty() ? "" : ", ") + one;
    return words;
}

std::string wire_words(const design::Design& design) {
    if (design.strokes.empty()) return "no wire";
    std::size_t passes = 0, crossings = 0, loops = 0, eights = 0, paths = 0;
    bool one_tool = true;
    const std::string tool = tool_words(design.strokes.front());
    for (const auto& stroke : design.strokes) {
        one_tool = one_tool && tool_words(stroke) == tool;
        if (const auto* straight = std::get_if<design::Passes>(&stroke.path))
            passes += static_cast<std::size_t>(straight->count);
        else if (const auto* zigzag = std::get_if<design::Zigzag>(&stroke.path))
            crossings += static_cast<std::size_t>(zigzag->count);
        else if (const auto* row = std::get_if<design::Loops>(&stroke.path))
            (row->shape == design::LoopShape::loop ? loops : eights) += static_cast<std::size_t>(row->count);
        else
            ++paths;
    }
    std::vector<std::string> parts;
    if (passes > 0) parts.push_back(plural(passes, "pass", "passes"));
    if (crossings > 0) parts.push_back(plural(crossings, "crossing", "crossings"));
    if (loops > 0) parts.push_back(plural(loops, "loop", "loops"));
    if (eights > 0) parts.push_back(plural(eights, "figure-eight", "figure-eights"));
    if (paths > 0) parts.push_back(plural(paths, "free stroke", "free strokes"));
    std::string words;
    for (std::size_t i = 0; i < parts.size(); ++i)
        words += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
    return words + (one_tool ? " of " + tool : " of several tools");
}

}  // namespace foreslice::picture
