#include "published/report.h"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>

namespace foreslice::testing {
namespace {

std::string in_figures(double value, int digits) {
    char text[40];
    std::snprintf(text, sizeof text, "%.*g", digits, value);
    return text;
}

std::string with_unit(std::string value, const std::string& unit) {
    if (!unit.empty()) value.append(" ").append(unit);
    return value;
}

/// One line a figure, fields apart by tabs, at the end of the file that FORESLICE_REPORT names.
void note(const std::string& source, const std::string& quantity, const std::string& published,
          const std::string& ours, const std::string& difference, const std::string& allowed) {
    const char* file = std::getenv("FORESLICE_REPORT");
    if (file == nullptr || *file == 0) return;
    std::ofstream report(file, std::ios::app);
    report << source << '\t' << quantity << '\t' << published << '\t' << ours << '\t' << difference << '\t'
           << allowed << '\n';
    REQUIRE(report);
}

}  // namespace

std::string in_words(double value) {
    return in_figures(value, 6);
}

void compare(const Figure& figure, double ours, double allowed) {
    INFO(figure.source, ": ", figure.quantity, ": ", figure.published, " is published, ours is ", ours);
    CHECK(std::abs(ours - figure.published) <= allowed);
    note(figure.source, figure.quantity, with_unit(in_figures(figure.published, 6), figure.unit),
         with_unit(in_figures(ours, 6), figure.unit), in_figures(ours - figure.published, 2),
         in_figures(allowed, 2));
}

void compare_worst(const Figures& figures, double worst, double allowed) {
    INFO(figures.source, ": ", figures.quantity, ": the largest difference is ", worst);
    CHECK(worst <= allowed);
    note(figures.source, figures.quantity,
         figures.count == 1 ? "a bound" : std::to_string(figures.count) + " values", "",
         with_unit("at most " + in_figures(worst, 2), figures.unit), in_figures(allowed, 2));
}

}  // namespace foreslice::testing
