// How people call the fields of a design file. Not public.
#pragma once

#include <string>
#include <string_view>

namespace foreslice::design {

struct FieldWords {
    std::string name;  ///< "bar thickness"
    std::string unit;  ///< "mm"; may be empty
};
/// From a field's key; a key that is not in the table is taken apart: "arm_reach_mm" is "arm reach" in "mm".
FieldWords field_words(std::string_view key);

}  // namespace foreslice::design
