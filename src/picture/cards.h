// Sheets of many small faces with words beside them: cards in rows, or a grid with labelled axes.
#pragma once

#include <string>
#include <vector>

#include "picture/image.h"

namespace foreslice::picture {

struct Card {
    Image bar;                       ///< as bar_picture() makes it
    std::string label;               ///< "A": short, large; may be empty
    std::string title;               ///< wrapped to at most two lines
    std::vector<std::string> lines;  ///< quiet, each wrapped to at most two lines
};

/// Cards in rows, all at one scale; `columns` 0: chosen so that the sheet is wider than high.
Image card_sheet(const std::string& heading, const std::string& note, const std::vector<Card>& cards,
                 int columns = 0);

struct Axis {
    std::string name;  ///< "passes"; may be empty
    std::vector<std::string> values;
};
/// `cards` row by row: one a value of `down` and `across`; of each only bar and lines are shown.
Image card_grid(const std::string& heading, const std::string& note, const Axis& across, const Axis& down,
                const std::vector<Card>& cards);

}  // namespace foreslice::picture
