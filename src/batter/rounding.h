// What a scale can show. Weights are whole numbers of its steps, so that sums of shown weights are exact.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "batter/units.h"

namespace foreslice::batter {

/// A scale and the unit it is set to.
struct Scale {
    double step = 1;  ///< its smallest step in `unit`, 0.001..100
    MassUnit unit = MassUnit::g;
    double step_g() const { return to_g(step, unit); }
    friend bool operator==(const Scale&, const Scale&) = default;
};

struct Weighing {
    double exact_g = 0;
    std::int64_t steps = 0;  ///< of the scale, >= 0
    Scale scale;

    double shown_g() const { return to_g(shown(), scale.unit); }
    double shown() const;  ///< in the scale's unit
    double rounding_g() const { return shown_g() - exact_g; }
    std::string text() const;  ///< "141.2": as many decimals as the step has, no unit
    friend bool operator==(const Weighing&, const Weighing&) = default;
};

/// To the nearest step, halves up.
Weighing weighed(double g, const Scale& scale);
/// Down to a step: for what must not be too much. Forgives 1e-9 of a step.
Weighing weighed_down(double g, const Scale& scale);

/// Weights near `parts_g` that are whole steps and add up to `total` exactly: the method of largest
/// remainders. Each differs from its part by less than a step when the parts add up to the total.
std::vector<Weighing> weighed_parts(const std::vector<double>& parts_g, const Weighing& total);

/// How many decimals a step needs, 0..3.
int decimals_of(double step);

}  // namespace foreslice::batter
