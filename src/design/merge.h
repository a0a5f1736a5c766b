// Two people changed the same design: their edits put together, field by field.
#pragma once

#include <string>
#include <vector>

#include "design/design.h"

namespace foreslice::design {

struct Merged {
    Design design;
    /// Fields that both changed, differently: ours was kept. By their path in the file.
    std::vector<std::string> conflicts;
};

/// What `ours` and `theirs` each changed in `base`. Portions, doses and pours are known by what they are, so
/// that edits find them wherever they stand; a list whose order both changed keeps ours, and is named. The
/// result need not be a design that validate() accepts (two changed shares may no longer add up).
Merged merged(const Design& base, const Design& ours, const Design& theirs);

}  // namespace foreslice::design
