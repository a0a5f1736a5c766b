#include "design/merge.h"

#include <algorithm>

#include "design/internal/tree.h"
#include "design/internal/tree_lists.h"

namespace foreslice::design {
namespace {

class Merger {
  public:
    std::vector<std::string> conflicts;

    /// Any of the three may be missing (null pointer). Returns whether something is left.
    bool merge(const Json* base, const Json* ours, const Json* theirs, const std::string& key,
               const std::string& path, Json& out) {
        if (same(ours, theirs) || same(base, theirs)) return take(ours, out);
        if (same(base, ours)) return take(theirs, out);
        if (ours != nullptr && theirs != nullptr) {
            if (ours->is_object() && theirs->is_object()) {
                out = merge_objects(base, *ours, *theirs, path);
                return true;
            }
            if (members(base) && members(ours) && members(theirs)) {
                out = merge_lists(*base, *ours, *theirs, key, path);
                return true;
            }
        }
        conflicts.push_back(path);
        return take(ours != nullptr ? ours : theirs,
                    out);  // what one took out, the other worked on: it stays
    }

  private:
    static bool same(const Json* a, const Json* b) {
        return a == nullptr || b == nullptr ? a == b : *a == *b;
    }
    static bool take(const Json* value, Json& out) {
        if (value == nullptr) return false;
        out = *value;
        return true;
    }
    static bool members(const Json* value) {
        return value != nullptr && value->is_array() && (value->empty() || lists_members(*value));
    }
    static const Json* find(const Json* object, const std::string& key) {
        if (object == nullptr || !object->is_object()) return nullptr;
        const auto found = object->find(key);
        return found == object->end() ? nullptr : &*found;
    }
    static std::string below(const std::string& path, const std::string& key) {
        return path.empty() ? key : path + "." + key;
    }

    Json merge_objects(const Json* base, const Json& ours, const Json& theirs, const std::string& path) {
        Json out = Json::object();
        const auto one = [&](const std::string& key) {
            Json value;
            if (merge(find(base, key), find(&ours, key), find(&theirs, key), key, below(path, key), value))
                out[key] = std::move(value);
        };
        for (const auto& [key, value] : ours.items()) one(key);
        for (const auto& [key, value] : theirs.items())
            if (!ours.contains(key)) one(key);
        return out;
    }

    struct Named {
        const Json* list;
        std::vector<std::string> names;
        const Json* find(const std::string& name) const {
            const auto at = std::find(names.begin(), names.end(), name);
            return at == names.end() ? nullptr : &(*list)[static_cast<std::size_t>(at - names.begin())];
        }
    };

    // Members in the order of whoever changed it; what only the other has is put behind its predecessor.
    std::vector<std::string> merged_order(const Named& base, const Named& ours, const Named& theirs,
                                          const std::string& path) {
        const auto common = [&](const Named& list) {
            std::vector<std::string> kept;
            for (const auto& name : list.names)
                if (base.find(name) && ours.find(name) && theirs.find(name)) kept.push_back(name);
            return kept;
        };
        const auto from_base = common(base), from_ours = common(ours), from_theirs = common(theirs);
        const bool theirs_leads = from_ours == from_base && from_theirs != from_base;
        if (from_ours != from_base && from_theirs != from_base && from_ours != from_theirs)
            conflicts.push_back(path);
        const Named &lead = theirs_leads ? theirs : ours, &other = theirs_leads ? ours : theirs;
        std::vector<std::string> order = lead.names;
        for (std::size_t i = 0; i < other.names.size(); ++i) {
            if (lead.find(other.names[i])) continue;
            auto at = order.begin();
            for (std::size_t before = i; before > 0 && at == order.begin(); --before) {
                const auto found = std::find(order.begin(), order.end(), other.names[before - 1]);
                if (found != order.end()) at = found + 1;
            }
            order.insert(at, other.names[i]);
        }
        return order;
    }

    Json merge_lists(const Json& base, const Json& ours, const Json& theirs, const std::string& key,
                     const std::string& path) {
        const Named in_base{&base, member_names(key, base)}, in_ours{&ours, member_names(key, ours)},
            in_theirs{&theirs, member_names(key, theirs)};
        Json out = Json::array();
        for (const auto& name : merged_order(in_base, in_ours, in_theirs, path)) {
            Json member;
            if (merge(in_base.find(name), in_ours.find(name), in_theirs.find(name), key, below(path, name),
                      member))
                out.push_back(std::move(member));
        }
        return out;
    }
};

}  // namespace

Merged merged(const Design& base, const Design& ours, const Design& theirs) {
    const Json from = tree_of(base), one = tree_of(ours), other = tree_of(theirs);
    Merger merger;
    Json tree;
    merger.merge(&from, &one, &other, "", "", tree);
    return {design_from_tree(tree, ""), std::move(merger.conflicts)};
}

}  // namespace foreslice::design
