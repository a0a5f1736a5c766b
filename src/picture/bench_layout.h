// Measures, inks and small parts of the bench sheet's pages. Internal to the picture room.
#pragma once

#include <string>
#include <vector>

#include "picture/bench_sheet.h"
#include "picture/pdf_page.h"

namespace foreslice::picture::bench {

constexpr unsigned ink = 0x1d1c1a, quiet = 0x55514b, rule = 0xa8a39b, tint = 0xefece6, strong = 0x000000;
constexpr double margin_mm = 12;

inline constexpr TextStyle head{11.5, Weight::semibold, ink};
inline constexpr TextStyle body{9, Weight::regular, ink};
inline constexpr TextStyle name{10.5, Weight::regular, ink};
inline constexpr TextStyle note{7.2, Weight::regular, quiet};
inline constexpr TextStyle figure{17, Weight::semibold, strong, Align::right, true};
inline constexpr TextStyle unit{9, Weight::regular, quiet};

TextStyle aligned(TextStyle style, Align align);
TextStyle bold(TextStyle style);

/// A box to tick, its top left corner at `corner`.
void tick_box(Paper& paper, Vec2 corner, double side_mm);
/// A section's heading with its rule, words behind the title and at the right end; returns the y below it.
double heading(Paper& paper, double x, double y, double width, const std::string& title,
               const std::string& aside, const std::string& right = "");
/// Lines of text from the baseline of the first; returns the y of the next baseline.
double lines(Paper& paper, double x, double baseline, double width, double leading, const std::string& text,
             const TextStyle& style);
/// A line to write on with a small label above its left end.
void write_in(Paper& paper, double x, double y, double width, const std::string& label,
              const std::string& value);
/// An exclamation mark in a triangle, `size_mm` high, that reads without colour.
void warning_mark(Paper& paper, Vec2 corner, double size_mm);

/// Columns right of a row's name: a big figure, its unit, a line for what was really weighed.
struct RowPlan {
    double x, width;
    double figure_right, unit_x, actual_x, actual_width;
};
RowPlan row_plan(double x, double width);
constexpr double row_height_mm = 8.7;
/// Draws one row with its top at y.
void weight_row(Paper& paper, const RowPlan& plan, double y, const BenchRow& row);

/// Height of a jug's card of that width, and the card itself.
double jug_height(const Paper& paper, const BenchJug& jug, double width);
void jug_card(Paper& paper, const BenchJug& jug, const MmRect& area);

/// The box of cautions, its top at y, and how high it is.
double cautions_height(const Paper& paper, const BenchSheet& sheet, double width);
void draw_cautions(Paper& paper, const BenchSheet& sheet, double x, double y, double width);
/// The second page.
void draw_work_page(Paper& paper, const BenchSheet& sheet);
void footer(Paper& paper, const BenchSheet& sheet, const std::string& page);

}  // namespace foreslice::picture::bench
