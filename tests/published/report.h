// Published figures against ours: checked by the tests, and noted for the table of checks that `./run report`
// makes of them.
//
// doctest::Approx allows epsilon * (scale + |value|); a share of a small value needs scale(0).
#pragma once

#include <string>

namespace foreslice::testing {

/// A figure with the place it was published in, or "computed for this project" and by which method.
struct Figure {
    std::string source, quantity;
    double published = 0;
    std::string unit = {};
};

/// Checks that ours is within `allowed` of the published figure, in its unit.
void compare(const Figure& figure, double ours, double allowed);

/// The same for many figures of one kind: `worst` is the largest difference among `count` of them.
struct Figures {
    std::string source, quantity;
    int count = 0;
    std::string unit = {};
};
void compare_worst(const Figures& figures, double worst, double allowed);

/// "0.5", "10": a figure as part of a sentence.
std::string in_words(double value);

}  // namespace foreslice::testing
