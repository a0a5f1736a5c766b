// Recipe and bench, to and from the JSON tree. Not public.
#pragma once

#include <functional>
#include <string>

#include "design/design.h"
#include "design/internal/json.h"

namespace foreslice::design {

/// Called with the address of an object once its known fields were read.
using KeepFields = std::function<void(const std::string& address, const Fields& fields)>;
/// The same for writing.
using RestoreFields = std::function<void(const std::string& address, Json& tree)>;

Formula read_recipe(const Place& place, const KeepFields& keep);
Bench read_bench(const Place& place, const KeepFields& keep);
/// Empty when nothing differs from what is usual.
Json tree_of(const Formula& recipe, const RestoreFields& restore);
Json tree_of(const Bench& bench, const RestoreFields& restore);

}  // namespace foreslice::design
