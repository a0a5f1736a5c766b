// What another library, Poppler, reads out of a PDF that this program wrote.
#pragma once

#include <string>

#include "picture/image.h"

namespace foreslice::testing {

/// The text as pdftotext -raw gives it.
std::string text_of_pdf(const std::string& pdf);
/// The table that pdffonts prints.
std::string fonts_of_pdf(const std::string& pdf);
/// What pdfinfo prints.
std::string facts_of_pdf(const std::string& pdf);
/// The PNG that pdftoppm makes of a page (1-based), as bytes.
std::string page_of_pdf(const std::string& pdf, int page, int dots_per_inch);

}  // namespace foreslice::testing
