#include "design/differences.h"

#include <algorithm>
#include <set>

#include "design/internal/field_words.h"
#include "design/internal/tree.h"
#include "design/internal/tree_lists.h"
#include "foundation/error.h"

namespace foreslice::design {
namespace {

constexpr std::size_t long_text = 60;

// Compares two trees of the file and collects sentences.
class Comparison {
  public:
    Comparison(const Design& before, const Design& after, const colour::ColourantLibrary* library)
        : before_(before), after_(after), library_(library) {}

    std::vector<Difference> run() {
        compare_objects(tree_of(before_), tree_of(after_), {"", "", ""});
        return std::move(found_);
    }

  private:
    // Where in the document: path, what people call the thing that is being compared, and words that go
    // before a field's name ("white").
    struct Where {
        std::string path, place, prefix;
    };

    static Where below(const Where& where, const std::string& key) {
        return {where.path.empty() ? key : where.path + "." + key, where.place, where.prefix};
    }

    void add(const Where& where, const std::string& words) {
        found_.push_back({where.path, where.place, where.prefix + words});
    }

    std::string colourant_name(const std::string& id) const {
        const auto* entry = library_ ? library_->find(id) : nullptr;
        return entry ? entry->name : id;
    }

    std::string shown(const Json& value, const std::string& key) const {
        if (value.is_boolean()) return value.get<bool>() ? "yes" : "no";
        if (value.is_number()) return plain_number(value.get<double>());
        if (value.is_string()) {
            const auto& text = value.get_ref<const std::string&>();
            return key == "colourant" ? colourant_name(text) : text;
        }
        if (value.is_array())
            return std::to_string(value.size()) + (value.size() == 1 ? " value" : " values");
        return value.is_object() ? "set" : "nothing";
    }

    std::string with_unit(const Json& value, const std::string& key) const {
        const std::string unit = value.is_number() ? field_words(key).unit : "";
        return shown(value, key) + (unit.empty() ? "" : (unit == "°" ? "" : " ") + unit);
    }

    void compare_objects(const Json& one, const Json& other, const Where& where) {
        for (const auto& [key, value] : one.items()) compare(value, other.find(key), other, key, where);
        for (const auto& [key, value] : other.items())
            if (!one.contains(key)) appeared(value, key, below(where, key));
    }

    void compare(const Json& value, const Json::const_iterator& found, const Json& other,
                 const std::string& key, const Where& where) {
        const Where here = below(where, key);
        if (found == other.end()) {
            vanished(value, key, here);
        } else if (*found == value) {
            return;
        } else if (value.is_object() && found->is_object()) {
            compare_objects(value, *found, inside(here, key));
        } else if (lists_members(value) && lists_members(*found)) {
            compare_lists(value, *found, key, here);
        } else {
            changed(value, *found, key, here);
        }
    }

    // Objects whose name matters to what stands in them.
    static Where inside(Where where, const std::string& key) {
        if (key == "mould" || key == "white" || key == "comb" || key == "strip" || key == "dispersion" ||
            key == "fall" || key == "sifted_over" || key == "zigzag" || key == "loops")
            where.prefix += field_words(key).name + ", ";
        return where;
    }

    void changed(const Json& one, const Json& other, const std::string& key, const Where& where) {
        const std::string name = field_words(key).name;
        const bool texts = one.is_string() && other.is_string();
        if (texts && std::max(one.get_ref<const std::string&>().size(),
                              other.get_ref<const std::string&>().size()) > long_text)
            return add(where, name + " rewritten");
        if (one.is_structured() || other.is_structured()) return add(where, name + " changed");
        if (where.path == "batter.trace")
            return add(where, shown(one, key) + " → " + shown(other, key) + " trace");
        if (key == "count" && where.path.rfind("strokes", 0) == 0)
            return add(where, shown(one, key) + " → " + shown(other, key) + " " + holder_of(where.path));
        if (key == "name" && !texts) return add(where, name + " changed");
        add(where, name + " " + shown(one, key) + " → " + with_unit(other, key));
    }

    // "passes" of "strokes.0.passes.count".
    static std::string holder_of(const std::string& path) {
        const auto end = path.rfind('.'), start = path.rfind('.', end - 1);
        return field_words(path.substr(start + 1, end - start - 1)).name;
    }

    void appeared(const Json& value, const std::string& key, const Where& where) {
        if (value.is_object() && !value.empty()) {
            for (const auto& [name, child] : value.items())
                appeared(child, name, below(inside(where, key), name));
            return;
        }
        add(where, field_words(key).name + " now " + with_unit(value, key));
    }

    void vanished(const Json& value, const std::string& key, const Where& where) {
        if (value.is_object() && !value.empty()) {
            for (const auto& [name, child] : value.items())
                vanished(child, name, below(inside(where, key), name));
            return;
        }
        add(where, field_words(key).name + " " + with_unit(value, key) + " → as usual");
    }

    std::string people_call(const std::string& list, const Json& member, std::size_t index) const {
        if (list == "portions") return member.value("name", member.value("id", std::string("a portion")));
        if (list == "doses") return colourant_name(member.value("colourant", std::string("a colourant")));
        if (list == "pours") return "pour " + std::to_string(index + 1) + " (" + portion_name(member) + ")";
        if (list == "strokes") return "stroke " + std::to_string(index + 1);
        return member_name(list, member, index);
    }

    std::string portion_name(const Json& pour) const {
        std::string id = pour.value("portion", std::string());
        for (const Design* design : {&after_, &before_})
            if (const Portion* portion = find_portion(*design, id)) return portion->name;
        return id;
    }

    Where member_place(const std::string& list, const Json& member, std::size_t index,
                       const Where& where) const {
        const std::string name = people_call(list, member, index);
        if (list == "doses")
            return {where.path + "." + member_name(list, member, index), where.place, name + " "};
        return {where.path + "." + member_name(list, member, index), name, ""};
    }

    void compare_lists(const Json& one, const Json& other, const std::string& key, const Where& where) {
        const auto before = member_names(key, one), after = member_names(key, other);
        const auto place_in = [](const std::vector<std::string>& names, const std::string& name) {
            return static_cast<std::size_t>(std::find(names.begin(), names.end(), name) - names.begin());
        };
        for (std::size_t i = 0; i < before.size(); ++i) {
            const std::size_t j = place_in(after, before[i]);
            if (j == after.size()) {
                gone(one[i], key, i, where);
            } else if (one[i] != other[j]) {
                Where there = member_place(key, other[j], j, where);
                compare_objects(one[i], other[j], there);
            }
        }
        for (std::size_t j = 0; j < after.size(); ++j)
            if (place_in(before, after[j]) == before.size()) come(other[j], key, j, where);
        note_order(before, after, other, key, where);
    }

    void gone(const Json& member, const std::string& list, std::size_t index, const Where& where) {
        if (list == "doses") return add(where, people_call(list, member, index) + " left out");
        if (list == "pours") return add(where, "a pour of " + portion_name(member) + " less");
        add(where, (list == "portions" ? "portion " : "") + people_call(list, member, index) + " left out");
    }

    void come(const Json& member, const std::string& list, std::size_t index, const Where& where) {
        const std::string name = people_call(list, member, index);
        if (list == "doses") {
            for (const auto& [key, value] : member.items())
                if (value.is_number()) return add(where, name + " now " + with_unit(value, key));
            return add(where, name + " now too");
        }
        if (list == "pours") return add(where, "a pour of " + portion_name(member) + " more");
        std::string words = list == "portions" ? "new portion " + name : name + " more";
        if (list == "portions" && member.contains("share_percent"))
            words += ", " + with_unit(member["share_percent"], "share_percent");
        add(where, words);
    }

    // "layers 2 and 4 swapped", counted from the floor up, when that is all; else empty.
    static std::string swapped_words(const std::vector<std::string>& before,
                                     const std::vector<std::string>& after) {
        std::vector<std::size_t> moved;
        for (std::size_t i = 0; i < before.size(); ++i)
            if (before[i] != after[i]) moved.push_back(i);
        if (moved.size() != 2 || before[moved[0]] != after[moved[1]] || before[moved[1]] != after[moved[0]])
            return "";
        return "layers " + std::to_string(moved[0] + 1) + " and " + std::to_string(moved[1] + 1) + " swapped";
    }

    // Members that both lists have, in another order.
    void note_order(const std::vector<std::string>& before, const std::vector<std::string>& after,
                    const Json& list, const std::string& key, const Where& where) {
        const std::set<std::string> had(before.begin(), before.end()), has(after.begin(), after.end());
        std::vector<std::string> one, other;
        for (const auto& name : before)
            if (has.contains(name)) one.push_back(name);
        for (const auto& name : after)
            if (had.contains(name)) other.push_back(name);
        if (one == other || key == "portions" || key == "doses" || key == "oils") return;
        if (key == "pours" && before.size() == after.size()) {
            const std::string swapped = swapped_words(before, after);
            if (!swapped.empty()) return add(where, swapped);
        }
        std::string names;
        for (const Json& member : list) names += (names.empty() ? "" : ", ") + portion_name(member);
        add(where, key == "pours" ? "layers in another order, from the floor up: " + names
                                  : field_words(key).name + " in another order");
    }

    const Design &before_, &after_;
    const colour::ColourantLibrary* library_;
    std::vector<Difference> found_;
};

}  // namespace

std::vector<Difference> differences(const Design& before, const Design& after,
                                    const colour::ColourantLibrary* library) {
    return Comparison(before, after, library).run();
}

std::string sentence_of(const Difference& difference) {
    return difference.place.empty() ? difference.words : difference.place + ": " + difference.words;
}

}  // namespace foreslice::design
