// The bench sheet on paper: big figures with boxes to tick, legible at arm's length, in colour or grey.
#pragma once

#include <string>
#include <vector>

#include "picture/bench_sheet.h"
#include "picture/pdf_page.h"

namespace foreslice::picture {

/// Draws on the paper's current page and further ones: usually two. Paper of at least 180 x 250 mm.
void draw_bench_sheet(Paper& paper, const BenchSheet& sheet);
/// One page for what several soaps share: pastes and shortfalls.
void draw_collection(Paper& paper, const BenchCollection& collection);

/// All sheets behind each other, the collection first when there is one.
std::string bench_pdf(const std::vector<BenchSheet>& sheets, const BenchCollection* collection,
                      PaperSize size);
/// The same pages as pictures.
std::vector<Image> bench_pictures(const std::vector<BenchSheet>& sheets, const BenchCollection* collection,
                                  PaperSize size, double px_per_mm);
/// Pages side by side, at most two in a row, a hair apart.
Image side_by_side(const std::vector<Image>& pages);

}  // namespace foreslice::picture
