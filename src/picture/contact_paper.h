// Bars at their true size on paper, to be printed, laid beside real ones or cut out.
#pragma once

#include <string>
#include <vector>

#include "picture/image.h"
#include "picture/pdf_page.h"

namespace foreslice::picture {

struct PaperBar {
    Image face;                          ///< bare
    double width_mm = 0, height_mm = 0;  ///< of the face
    std::string title, note;
};

struct ContactPaper {
    PaperSize paper = a4_paper;
    bool crop_marks = false;
    std::string heading, note;
};

/// Places of all bars in the order given, the same rule as draw_contact_paper(): page from 0, and where the
/// face lies on it. Throws InputError for a bar that is larger than the paper lets it be.
struct PaperPlace {
    int page = 0;
    MmRect face;
};
std::vector<PaperPlace> places_on(const ContactPaper& sheet, const std::vector<PaperBar>& bars);

/// Draws onto the pages of `paper`, which must be of `sheet.paper`'s size and still be empty. Each page has a
/// rule of 100 mm (50 on narrow paper) to measure after printing.
void draw_contact_paper(Paper& paper, const ContactPaper& sheet, const std::vector<PaperBar>& bars);

}  // namespace foreslice::picture
