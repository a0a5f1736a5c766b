#include "picture/plunge.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace foreslice::picture {
namespace {

constexpr double row_step_mm = 0.2;
constexpr double most_mean_width = 0.5;  // of the box, over all plumes
constexpr double region_step_mm = 0.25;

// Width of a plume `up_mm` above its tip, in arbitrary units: a round tip and a neck that is narrower at the
// surface, or a foot where it stands on the floor. Shapes by eye, no source.
double outline(double up_mm, double length_mm, double mean_width_mm, bool on_floor) {
    const double neck = 1.5 - 1.0 * up_mm / length_mm;
    if (on_floor) return neck + 0.6 * std::exp(-up_mm / (0.25 * mean_width_mm + 1));
    const double round = std::min(0.95 * mean_width_mm, 0.6 * length_mm);
    if (up_mm >= round) return neck;
    const double below = 1 - up_mm / round;
    return neck * std::sqrt(std::max(0.0, 1 - below * below));
}

}  // namespace

double most_plume_area_mm2(double width_mm, double before_mm, double tip_mm) {
    // mean width w of the length before - tip + A / W holds A
    const double w = most_mean_width * width_mm;
    return w * (before_mm - tip_mm) / (1 - most_mean_width);
}

Inserted::Inserted(double width_mm, double before_mm, double tip_mm, std::vector<Plume> plumes,
                   Deposit deposit)
    : width_mm_(width_mm),
      tip_mm_(tip_mm),
      top_mm_(before_mm),
      count_(plumes.size()),
      deposit_(std::move(deposit)) {
    for (const Plume& plume : plumes) top_mm_ += plume.area_mm2 / width_mm;
    std::stable_sort(plumes.begin(), plumes.end(),
                     [](const Plume& a, const Plume& b) { return a.x_mm < b.x_mm; });
    shape(plumes);
}

void Inserted::shape(const std::vector<Plume>& plumes) {
    const double length = top_mm_ - tip_mm_;
    const auto rows = static_cast<std::size_t>(std::max(8.0, std::ceil(length / row_step_mm)));
    step_mm_ = length / static_cast<double>(rows);
    rows_.assign(rows + 1, std::vector<Edges>(count_));
    for (std::size_t k = 0; k < count_; ++k) {
        const double mean = plumes[k].area_mm2 / length;
        double sum = 0;
        std::vector<double> width;
        for (std::size_t row = 0; row <= rows; ++row) {
            width.push_back(outline(static_cast<double>(row) * step_mm_, length, mean, tip_mm_ <= 0));
            sum += (row == 0 || row == rows ? 0.5 : 1) * width.back() * step_mm_;
        }
        const auto& wander = plumes[k].wander_mm;
        for (std::size_t row = 0; row <= rows; ++row) {
            const double place = wander.size() < 2 ? 0
                                                   : static_cast<double>(row) / static_cast<double>(rows) *
                                                         static_cast<double>(wander.size() - 1);
            const auto at =
                std::min(static_cast<std::size_t>(place), wander.size() < 2 ? 0 : wander.size() - 2);
            const double aside = wander.size() < 2 ? 0
                                                   : wander[at] + (place - static_cast<double>(at)) *
                                                                      (wander[at + 1] - wander[at]);
            const double half = 0.5 * width[row] * plumes[k].area_mm2 / sum;
            rows_[row][k] = {plumes[k].x_mm + aside - half, plumes[k].x_mm + aside + half};
        }
    }
    for (auto& row : rows_) keep_apart(row);
    area_mm2_.push_back(0);
    for (std::size_t row = 1; row <= rows; ++row)
        area_mm2_.push_back(area_mm2_.back() + 0.5 * step_mm_ * (width_in_row(row - 1) + width_in_row(row)));
}

// Moves plumes out of the walls and out of each other; each keeps its width.
void Inserted::keep_apart(std::vector<Edges>& row) const {
    double free_from = 0;
    for (Edges& edges : row) {
        const double move = std::max(0.0, free_from - edges.left_mm);
        edges = {edges.left_mm + move, edges.right_mm + move};
        free_from = edges.right_mm;
    }
    double free_to = width_mm_;
    for (auto edges = row.rbegin(); edges != row.rend(); ++edges) {
        const double move = std::min(0.0, free_to - edges->right_mm);
        *edges = {edges->left_mm + move, edges->right_mm + move};
        free_to = edges->left_mm;
    }
}

double Inserted::width_in_row(std::size_t row) const {
    double sum = 0;
    for (const Edges& edges : rows_[row]) sum += edges.right_mm - edges.left_mm;
    return sum;
}

double Inserted::widest_mm() const {
    double widest = 0;
    for (const auto& row : rows_)
        for (const Edges& edges : row) widest = std::max(widest, edges.right_mm - edges.left_mm);
    return widest;
}

std::optional<Bit> Inserted::back(Vec2& point_mm) const {
    if (point_mm.y <= tip_mm_) return std::nullopt;
    const double place = (std::min(point_mm.y, top_mm_) - tip_mm_) / step_mm_;
    const std::size_t row = std::min(static_cast<std::size_t>(place), rows_.size() - 2);
    const double share = place - static_cast<double>(row);
    double to_the_left = 0, all = 0;
    for (std::size_t k = 0; k < count_; ++k) {
        const Edges &low = rows_[row][k], &high = rows_[row + 1][k];
        const double left = low.left_mm + share * (high.left_mm - low.left_mm);
        const double right = low.right_mm + share * (high.right_mm - low.right_mm);
        if (point_mm.x >= left && point_mm.x < right) return deposit_.at(point_mm);
        all += right - left;
        if (point_mm.x >= right) to_the_left += right - left;
    }
    const double low_width = width_in_row(row), high_width = width_in_row(row + 1);
    const double below =
        area_mm2_[row] + step_mm_ * share * (low_width + 0.5 * share * (high_width - low_width));
    point_mm = {(point_mm.x - to_the_left) * width_mm_ / (width_mm_ - all), point_mm.y - below / width_mm_};
    return std::nullopt;
}

std::vector<Vec2> Inserted::region(double width_mm, double before_mm, double tip_mm,
                                   const std::vector<Plume>& plumes) {
    const Inserted outline(width_mm, before_mm, tip_mm, plumes, Deposit(Bit{}));
    std::vector<Vec2> points;
    for (double y = tip_mm + 0.5 * region_step_mm; y < outline.top_mm_; y += region_step_mm)
        for (double x = 0.5 * region_step_mm; x < width_mm; x += region_step_mm) {
            Vec2 p{x, y};
            if (outline.back(p)) points.push_back({x, y});
        }
    return points;
}

}  // namespace foreslice::picture
