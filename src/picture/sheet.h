// Several faces on one sheet, each with its title, all at the same scale.
#pragma once

#include <string>
#include <vector>

#include "picture/image.h"

namespace foreslice::picture {

struct SheetEntry {
    Image bar;  ///< as bar_picture() makes it
    std::string title;
    std::string subtitle;
};

/// A grid of bars, `columns` wide (0: chosen so that the sheet is wider than high).
Image contact_sheet(const std::string& heading, const std::string& note,
                    const std::vector<SheetEntry>& entries, int columns = 0);

}  // namespace foreslice::picture
