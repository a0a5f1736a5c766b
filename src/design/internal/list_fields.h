// Lists of objects inside one object of the design file, with the unknown fields of their members. Not
// public.
#pragma once

#include <string>
#include <vector>

#include "design/internal/json.h"
#include "design/internal/pour_tree.h"

namespace foreslice::design {

/// The name under which unknown fields of the i-th member of a list are kept: "top/strokes/1".
inline std::string member_address(const std::string& owner, const std::string& list, std::size_t i) {
    return owner + "/" + list + "/" + std::to_string(i);
}

/// Reads lists of `owner`, each when it is there.
class ListReader {
  public:
    ListReader(Fields& fields, std::string owner, const KeepUnknown& keep)
        : fields_(&fields), owner_(std::move(owner)), keep_(&keep) {}

    /// At most `most` members; `what` names them in error sentences.
    template <class Value>
    void operator()(const char* name, std::size_t most, const char* what, Value (*read)(Fields&),
                    std::vector<Value>& values) const {
        const auto place = fields_->find(name);
        if (!place) return;
        for (const Place& item : place->items(0, most, what)) {
            Fields own(item);
            values.push_back(read(own));
            (*keep_)(member_address(owner_, name, values.size() - 1), own);
        }
    }

  private:
    Fields* fields_;
    std::string owner_;
    const KeepUnknown* keep_;
};

}  // namespace foreslice::design
