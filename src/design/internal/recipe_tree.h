// Recipe and bench, to and from the JSON tree. Not public.
#pragma once

#include "design/design.h"
#include "design/internal/json.h"
#include "design/internal/pour_tree.h"

namespace foreslice::design {

Formula read_recipe(const Place& place, const KeepUnknown& keep);
Bench read_bench(const Place& place, const KeepUnknown& keep);
/// Empty when nothing differs from what is usual.
Json tree_of(const Formula& recipe, const RestoreUnknown& restore);
Json tree_of(const Bench& bench, const RestoreUnknown& restore);

}  // namespace foreslice::design
