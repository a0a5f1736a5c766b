#include "design/field_paths.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstdlib>
#include <numeric>
#include <optional>
#include <sstream>

#include "batter/rheology.h"
#include "design/design_file.h"
#include "design/internal/field_words.h"
#include "design/internal/tree.h"
#include "design/internal/tree_lists.h"
#include "foundation/error.h"

namespace foreslice::design {
namespace {

// One step of a path: a key, or a member of a list, which people may call by its name or its number.
struct Step {
    std::string name;
    std::optional<std::size_t> index{};
};
using Path = std::vector<Step>;

std::vector<std::string> parts_of(std::string_view field) {
    std::vector<std::string> parts(1);
    for (const char c : field) {
        if (c == '.' || c == '/')
            parts.emplace_back();
        else
            parts.back() += c;
    }
    std::erase(parts, "");
    return parts;
}

std::string text_of(const Path& path) {
    std::string text;
    for (const Step& step : path) text += (text.empty() ? "" : ".") + step.name;
    return text;
}

// Fields that a file leaves out while they have their usual value, by the object that holds them. What is not
// listed can still be set by its full path.
const std::vector<std::pair<std::string, std::vector<std::string>>>& optional_fields() {
    static const std::vector<std::pair<std::string, std::vector<std::string>>> fields{
        {"", {"age_days"}},
        {"hand", {"wander_mm", "sag_mm"}},
        {"base",
         {"superfat_percent", "lye_percent", "gelled", "fragrance_g_per_kg_oils", "vanillin_percent"}},
        {"batter", {"consistency_pa_sn", "flow_index", "yield_stress_pa"}},
        {"passes", {"spacing_mm", "slant_deg"}},
        {"pours", {"part_percent", "tapped_percent", "firmed_yield_stress_pa"}},
        {"strokes", {"after_pours"}}};
    return fields;
}

void add_optional(const std::string& holder, const Json* object, const Path& path, std::vector<Path>& found) {
    for (const auto& [name, keys] : optional_fields())
        if (name == holder)
            for (const auto& key : keys)
                if (object == nullptr || !object->contains(key)) {
                    found.push_back(path);
                    found.back().push_back({key});
                }
}

// Every field below `value` that holds one plain value.
void collect(const Json& value, const std::string& key, const Path& path, std::vector<Path>& found) {
    if (value.is_object()) {
        for (const auto& [name, child] : value.items()) {
            Path below = path;
            below.push_back({name});
            collect(child, name, below, found);
        }
        add_optional(path.empty() ? "" : key, &value, path, found);
    } else if (lists_members(value)) {
        const auto names = member_names(key, value);
        for (std::size_t i = 0; i < value.size(); ++i) {
            Path below = path;
            below.push_back({names[i], i});
            collect(value[i], key, below, found);
        }
    } else if (!value.is_array()) {
        found.push_back(path);
    }
}

std::vector<Path> all_fields(const Json& tree) {
    std::vector<Path> found;
    collect(tree, "", {}, found);
    for (const char* holder : {"hand", "base"})
        if (!tree.contains(holder)) add_optional(holder, nullptr, {{holder}}, found);
    std::erase_if(found, [](const Path& path) {
        return path.size() == 1 && (path[0].name == "format" || path[0].name == "version");
    });
    return found;
}

bool same_step(const Step& step, const std::string& part) {
    return step.name == part || (step.index && std::to_string(*step.index) == part);
}

// Whether the parts say the field's own name and, in their order, some of what it stands in.
bool means(const std::vector<std::string>& parts, const Path& path) {
    if (parts.empty() || path.empty() || !same_step(path.back(), parts.back())) return false;
    std::size_t left = parts.size();
    for (auto step = path.rbegin(); step != path.rend() && left > 0; ++step)
        if (same_step(*step, parts[left - 1])) --left;
    return left == 0;
}

bool says_all_of(const std::vector<std::string>& parts, const Path& path) {
    return parts.size() == path.size() && means(parts, path);
}

std::vector<Path> meant(const std::vector<std::string>& parts, const std::vector<Path>& fields) {
    std::vector<Path> found;
    for (const Path& path : fields) {
        if (says_all_of(parts, path)) return {path};
        if (means(parts, path)) found.push_back(path);
    }
    if (found.empty() && !parts.empty() && parts.back() != "count") {
        auto with_count = parts;  // "passes" means how many
        with_count.emplace_back("count");
        return meant(with_count, fields);
    }
    return found;
}

// Single edits from what was wanted to a field's path, or to what of the path stands behind one of its dots,
// whichever are fewer. Told from the back, so that one table holds all ends of the path.
std::size_t edits_between(std::string_view wanted, std::string_view path) {
    std::vector<std::size_t> row(path.size() + 1);  // [n]: to the last n letters of the path
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 1; i <= wanted.size(); ++i) {
        std::size_t corner = row[0];
        row[0] = i;
        for (std::size_t n = 1; n <= path.size(); ++n) {
            const bool same = wanted[wanted.size() - i] == path[path.size() - n];
            const std::size_t swap = corner + (same ? 0 : 1);
            corner = row[n];
            row[n] = std::min(swap, std::min(row[n], row[n - 1]) + 1);
        }
    }
    std::size_t fewest = row.back();
    for (std::size_t n = 0; n < path.size(); ++n)
        if (path[path.size() - n - 1] == '.') fewest = std::min(fewest, row[n]);
    return fewest;
}

[[noreturn]] void refuse_unknown(std::string_view field, const std::vector<Path>& fields) {
    const std::string wanted(field.substr(0, 100));
    std::vector<std::pair<std::size_t, std::string>> near;
    for (const Path& path : fields) {
        const std::string whole = text_of(path);
        near.emplace_back(edits_between(wanted, whole), whole);
    }
    std::stable_sort(near.begin(), near.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::string names;
    for (std::size_t i = 0; i < std::min<std::size_t>(3, near.size()); ++i)
        names += (i == 0 ? "" : ", ") + near[i].second;
    throw InputError("", wanted, "there is no such field in this design", "nearest: " + names);
}

// The places that the file gives a path in full, whether it holds them now or not.
Path literal_path(const std::vector<std::string>& parts, const Json& tree) {
    Path path;
    const Json* at = &tree;
    std::string key;
    for (const auto& part : parts) {
        Step step{part};
        if (at != nullptr && lists_members(*at)) {
            const auto names = member_names(key, *at);
            for (std::size_t i = 0; i < names.size(); ++i)
                if (names[i] == part || std::to_string(i) == part) step = {names[i], i};
            at = step.index ? &(*at)[*step.index] : nullptr;
        } else {
            const bool there = at != nullptr && at->is_object() && at->contains(part);
            at = there ? &(*at)[part] : nullptr;
            key = part;
        }
        path.push_back(std::move(step));
    }
    return path;
}

Json value_from(const std::string& text) {
    if (text == "true" || text == "false") return text == "true";
    char* end = nullptr;
    const double number = std::strtod(text.c_str(), &end);
    if (!text.empty() && *end == '\0' && std::isfinite(number)) return json_number(number);
    return text;
}

// False when the path leads through something that is no object or list member.
bool put(Json& tree, const Path& path, const Json& value) {
    Json* at = &tree;
    for (const Step& step : path) {
        if (step.index) {
            if (!at->is_array() || *step.index >= at->size()) return false;
            at = &(*at)[*step.index];
        } else {
            if (at->is_null()) *at = Json::object();
            if (!at->is_object()) return false;
            at = &(*at)[step.name];
        }
    }
    if (at->is_structured()) return false;
    *at = value;
    return true;
}

// A batter is said by its trace or by figures, never by both.
void keep_one_rheology(Json& tree, const std::string& set, const Design& design) {
    constexpr std::array figures{"consistency_pa_sn", "flow_index", "yield_stress_pa"};
    Json& batter = tree["batter"];
    if (set == "trace") {
        for (const char* figure : figures) batter.erase(figure);
        return;
    }
    if (std::find(figures.begin(), figures.end(), set) == figures.end()) return;
    const auto rheology = design.batter.rheology();
    const std::array values{rheology.consistency_pa_sn, rheology.flow_index, rheology.yield_stress_pa};
    for (std::size_t i = 0; i < figures.size(); ++i)
        if (figures[i] != set) batter[figures[i]] = json_number(values[i]);
    batter.erase("trace");
}

void let_others_give_way(Json& tree, std::size_t changed, const Design& design) {
    double others = 0;
    for (std::size_t i = 0; i < design.portions.size(); ++i)
        if (i != changed) others += design.portions[i].share_percent;
    const Json& share = tree["portions"][changed]["share_percent"];
    if (!share.is_number() || others <= 0) return;  // the reader says what is wrong
    const double scale = (100 - share.get<double>()) / others;
    for (std::size_t i = 0; i < design.portions.size(); ++i)
        if (i != changed && scale >= 0)
            tree["portions"][i]["share_percent"] = json_number(scale * design.portions[i].share_percent);
}

Path resolved(const std::vector<std::string>& parts, std::string_view field, const Json& tree) {
    const auto fields = all_fields(tree);
    const auto found = meant(parts, fields);
    if (parts.empty()) refuse_unknown(field, fields);
    if (found.size() == 1) return found.front();
    if (found.empty()) return literal_path(parts, tree);
    std::string names;
    for (std::size_t i = 0; i < std::min<std::size_t>(4, found.size()); ++i)
        names += (i == 0 ? "" : ", ") + text_of(found[i]);
    throw InputError("", std::string(field.substr(0, 100)), "several fields could be meant",
                     "one of " + names + (found.size() > 4 ? ", ..." : ""));
}

std::string trimmed(std::string text) {
    while (!text.empty() && std::isspace(static_cast<unsigned char>(text.back()))) text.pop_back();
    while (!text.empty() && std::isspace(static_cast<unsigned char>(text.front()))) text.erase(0, 1);
    return text;
}

}  // namespace

Design with_field(const Design& design, std::string_view field, const std::string& value) {
    Json tree = tree_of(design);
    const Path path = resolved(parts_of(field), field, tree);
    if (!put(tree, path, value_from(value))) refuse_unknown(field, all_fields(tree_of(design)));
    if (path.front().name == "batter") keep_one_rheology(tree, path.back().name, design);
    if (path.front().name == "portions" && path.back().name == "share_percent" && path.size() == 3)
        let_others_give_way(tree, path[1].index.value_or(0), design);
    Design changed = design_from_tree(tree, "");
    if (unknown_paths(changed).size() > unknown_paths(design).size())
        refuse_unknown(field, all_fields(tree_of(design)));
    return changed;
}

std::vector<std::string> fields_of(const Design& design) {
    std::vector<std::string> names;
    for (const Path& path : all_fields(tree_of(design))) names.push_back(text_of(path));
    return names;
}

namespace {

double end_from(const std::string& text, const std::string& whole) {
    char* end = nullptr;
    const double number = std::strtod(text.c_str(), &end);
    if (text.empty() || *end != '\0' || !std::isfinite(number))
        throw InputError("", "over", foreslice::quoted(whole) + " is no range", "as in 3..9 or 0..180:30");
    return number;
}

std::vector<std::string> range_from(const std::string& text) {
    const auto dots = text.find(".."), colon = text.find(':', dots);
    const double first = end_from(text.substr(0, dots), text);
    const double last =
        end_from(text.substr(dots + 2, colon == std::string::npos ? colon : colon - dots - 2), text);
    const bool whole = first == std::floor(first) && last == std::floor(last);
    double step = whole ? (last < first ? -1 : 1) : (last - first) / 4;
    if (colon != std::string::npos) step = end_from(text.substr(colon + 1), text);
    if (step == 0 || (last - first) / step < 0)
        throw InputError("", "over", "the steps of " + foreslice::quoted(text) + " lead nowhere",
                         "a step from the first value towards the last");
    const double steps = std::floor((last - first) / step + 1e-9);
    std::vector<std::string> values;
    for (double i = 0; i <= std::min<double>(steps, most_axis_values); ++i)
        values.push_back(plain_number(first + i * step));
    return values;
}

}  // namespace

FieldAxis axis_from(const std::string& text) {
    const auto equals = text.find('=');
    FieldAxis axis{trimmed(text.substr(0, equals)), {}};
    const std::string said = equals == std::string::npos ? "" : trimmed(text.substr(equals + 1));
    if (axis.field.empty() || said.empty())
        throw InputError("", "over", foreslice::quoted(text) + " does not say what runs through what",
                         "FIELD=FIRST..LAST or FIELD=ONE,OTHER");
    if (said.find("..") != std::string::npos) {
        axis.values = range_from(said);
    } else {
        std::stringstream in(said);
        for (std::string value; std::getline(in, value, ',');)
            if (!trimmed(value).empty()) axis.values.push_back(trimmed(value));
    }
    if (axis.values.empty() || axis.values.size() > most_axis_values)
        throw InputError(
            "", "over",
            foreslice::quoted(text) + " has " + (axis.values.empty() ? "no value" : "too many values"),
            "1 to " + std::to_string(most_axis_values) + " values");
    return axis;
}

std::string axis_words(const Design& design, std::string_view field) {
    const Path path = resolved(parts_of(field), field, tree_of(design));
    std::string words;
    for (std::size_t i = 0; i + 1 < path.size(); ++i) {
        const Step& step = path[i];
        if (step.index && path[i - 1].name == "portions")
            words += design.portions[*step.index].name + ", ";
        else if (step.index && (path[i - 1].name == "strokes" || path[i - 1].name == "pours"))
            words += (path[i - 1].name == "strokes" ? "stroke " : "pour ") + std::to_string(*step.index + 1) +
                     ", ";
        else if (step.index || step.name == "white" || step.name == "mould")
            words += step.name + ", ";
    }
    if (path.size() > 1 && path.back().name == "count")
        return (design.strokes.size() > 1 ? words : "") + field_words(path[path.size() - 2].name).name;
    if (path.front().name == "strokes" && design.strokes.size() == 1) words.clear();
    const auto own = field_words(path.back().name);
    return words + own.name + (own.unit.empty() ? "" : ", " + own.unit);
}

}  // namespace foreslice::design
