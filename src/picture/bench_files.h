// The bench sheet as files other than paper: a page for a browser, JSON, and a table of the weights.
#pragma once

#include <string>
#include <vector>

#include "picture/bench_sheet.h"

namespace foreslice::picture {

/// One HTML document that needs nothing else: styles, pictures and drawings inside, boxes that can be ticked,
/// and it prints. Well-formed as XML, too.
std::string bench_html(const std::vector<BenchSheet>& sheets, const BenchCollection* collection);
/// Everything with exact figures beside the shown ones; ends with a newline.
std::string bench_json(const std::vector<BenchSheet>& sheets, const BenchCollection* collection);
/// One line a weight: soap, part, item, name, exact_g, shown, unit, teaspoons, note.
std::string bench_csv(const std::vector<BenchSheet>& sheets, const BenchCollection* collection);

/// For HTML and XML text and attributes.
std::string escaped(const std::string& text);

}  // namespace foreslice::picture
