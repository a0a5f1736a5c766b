// The numbers of a pour's manner, to and from the JSON tree. Not public.
#pragma once

#include <functional>
#include <string>

#include "design/design.h"
#include "design/internal/json.h"

namespace foreslice::design {

/// Called with the name or address of an object once its known fields were read.
using KeepUnknown = std::function<void(const std::string& name, const Fields& fields)>;
/// The same for writing.
using RestoreUnknown = std::function<void(const std::string& name, Json& tree)>;

/// Reads manner and what belongs to it into a pour.
void read_manner(Fields& fields, Pour& pour, const KeepUnknown& keep);
/// Writes what is used or differs from what is usual.
void write_manner(Json& tree, const Pour& pour, const RestoreUnknown& restore);

}  // namespace foreslice::design
