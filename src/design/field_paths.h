// Any field of a design by its path in the file: "batter.trace", "strokes.0.passes.count",
// "portions.salt.white.g_per_kg_oils"; and by a short name where only one field can be meant: "trace",
// "passes".
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "design/design.h"

namespace foreslice::design {

inline constexpr std::size_t most_axis_values = 40;

/// The design with one field set to what the text says: a number, true or false, or a word. What hangs on the
/// field follows: a trace takes the place of figures and the other way round; when the share of one portion
/// changes, the others give way in proportion. Throws InputError for a field that the file does not have
/// (naming the nearest ones), a name that could mean several, and a value that is not allowed there.
Design with_field(const Design& design, std::string_view field, const std::string& value);

/// Fields of this design that hold one value, by their full path with names for members of lists, in file
/// order; with those that may be there but are not.
std::vector<std::string> fields_of(const Design& design);

/// What one field runs through.
struct FieldAxis {
    std::string field;
    std::vector<std::string> values;
};
/// "passes=3..9", "age_days=0..180:30" (with a step), "batter.trace=light,medium". A range without a step
/// goes by ones between whole numbers, else in five equal parts. Throws InputError for anything else and for
/// more than most_axis_values.
FieldAxis axis_from(const std::string& text);

/// Words for an axis: "passes", "lamp amber, share, %".
std::string axis_words(const Design& design, std::string_view field);

}  // namespace foreslice::design
