// Lists of the design file whose members are known by what they are, not by where they stand: portions by
// their id, doses by their colourant, pours by their portion. Not public.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "design/internal/json.h"

namespace foreslice::design {

/// What a member of the list under `key` is called, or its number from 0 where it has no name of its own.
std::string member_name(std::string_view key, const Json& member, std::size_t index);
/// Names of all members, each only once: the second pour of "ink" is "ink#2".
std::vector<std::string> member_names(std::string_view key, const Json& list);
/// Whether it is a list of objects, so that its members can be told apart.
bool lists_members(const Json& value);

}  // namespace foreslice::design
