// The top and the inclusions in the design file: fields, faults and risks. Not a public header.
#pragma once

#include "design/design.h"
#include "design/internal/json.h"
#include "design/internal/pour_faults.h"
#include "design/internal/pour_risks.h"
#include "design/internal/pour_tree.h"

namespace foreslice::design {

/// `keep` and `restore` are called with "top/spooned/0" and the like.
Top read_top(Fields& fields, const KeepUnknown& keep);
Inclusions read_inclusions(Fields& fields, const KeepUnknown& keep);
/// Empty for a plain top, and for no inclusions.
Json tree_of(const Top& top, const RestoreUnknown& restore);
Json tree_of(const Inclusions& inclusions, const RestoreUnknown& restore);

/// Calls `fail` for the first thing that does not fit the design.
void check_top(const Design& design, const Fail& fail);
void check_inclusions(const Design& design, const Fail& fail);

/// Tops that sink.
void watch_top(const Design& design, const Warn& warn);
/// Embeds in the wire's way.
void watch_inclusions(const Design& design, const Warn& warn);

}  // namespace foreslice::design
