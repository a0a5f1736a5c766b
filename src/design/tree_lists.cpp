#include "design/internal/tree_lists.h"

#include <algorithm>
#include <map>

namespace foreslice::design {

std::string member_name(std::string_view key, const Json& member, std::size_t index) {
    const char* const by = key == "portions" ? "id"
                           : key == "doses"  ? "colourant"
                           : key == "pours"  ? "portion"
                           : key == "oils"   ? "oil"
                                             : nullptr;
    if (by != nullptr && member.is_object())
        if (const auto found = member.find(by); found != member.end() && found->is_string())
            return found->get<std::string>();
    return std::to_string(index);
}

std::vector<std::string> member_names(std::string_view key, const Json& list) {
    std::vector<std::string> names;
    std::map<std::string, int> seen;
    for (std::size_t i = 0; i < list.size(); ++i) {
        std::string name = member_name(key, list[i], i);
        const int count = ++seen[name];
        names.push_back(count == 1 ? name : name + "#" + std::to_string(count));
    }
    return names;
}

bool lists_members(const Json& value) {
    return value.is_array() && !value.empty() &&
           std::all_of(value.begin(), value.end(), [](const Json& member) { return member.is_object(); });
}

}  // namespace foreslice::design
