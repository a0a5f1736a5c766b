// Between the document and its JSON tree; shared by the reader, the writer and the validation. Not public.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "design/design.h"
#include "design/internal/json.h"

namespace foreslice::design {

/// What the file said that this version does not understand. The key is the object's address as the writer
/// will find it again: members of lists go by what they are ("pours/ink#1" is the second pour of ink), so
/// that their unknown fields follow them when the list is reordered.
struct UnknownFields {
    struct Members {
        std::string path;  ///< JSON path of the object in the file that was read
        Json fields;
    };
    std::map<std::string, Members> by_address;
};

/// Gives the addresses of list members: the n-th member called `name` in the list `list`.
class Addresses {
  public:
    explicit Addresses(std::string list) : list_(std::move(list)) {}
    std::string next(const std::string& name);

  private:
    std::string list_;
    std::map<std::string, int> seen_;
};

/// A tree of the current version into a document; every single field is checked for type and range (not how
/// fields fit together). Throws InputError.
Design design_from_tree(const Json& tree, const std::string& file);
/// The document as a tree of the current version, unknown fields included.
Json tree_of(const Design& design);
/// Brings a tree of an older version up to the current one, in place; checks "format" and "version". Throws
/// InputError, also for a version newer than this program's.
void migrate(Json& tree, const std::string& file);
/// JSON paths of the fields that this version does not understand.
std::vector<std::string> unknown_paths(const Design& design);

inline constexpr const char* format_id = "foreslice design";

}  // namespace foreslice::design
