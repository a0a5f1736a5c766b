// In which light and by whose eyes the window's colours are seen.
#pragma once

#include "colour/pigment.h"
#include "colour/viewing.h"

namespace foreslice::studio {

struct Seeing {
    colour::Illuminant lamp = colour::Illuminant::d65;
    colour::Vision eye = colour::Vision::usual;
    friend bool operator==(const Seeing&, const Seeing&) = default;
};

/// What a bar looks like so: the lamp on its reflectance, then the eye. As it is for the default.
inline colour::LinearSrgb seen_so(const colour::PortionColour& bar, const Seeing& seeing) {
    const bool daylight = seeing.lamp == colour::Illuminant::d65;
    return colour::seen_with(seeing.eye,
                             daylight ? bar.linear : colour::seen_under(bar.reflectance, seeing.lamp));
}

}  // namespace foreslice::studio
