#include "colour/palette.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "foundation/error.h"

namespace foreslice::colour {
namespace {

constexpr double least_distance = 0.04;
constexpr int most_samples_across = 256;

struct Point {
    OkLab at;
    double weight;
};

double distance2(const OkLab& p, const OkLab& q) {
    return (p.l - q.l) * (p.l - q.l) + (p.a - q.a) * (p.a - q.a) + (p.b - q.b) * (p.b - q.b);
}

/// The picture's colours on a coarse lattice of OKLab, each with how much of the picture it is.
std::vector<Point> histogram(const Photo& photo) {
    constexpr double cell = 0.01;
    struct Sum {
        double l = 0, a = 0, b = 0, n = 0;
    };
    std::map<std::array<int, 3>, Sum> cells;
    const int step = std::max(1, std::max(photo.width_px, photo.height_px) / most_samples_across);
    for (int y = step / 2; y < photo.height_px; y += step)
        for (int x = step / 2; x < photo.width_px; x += step) {
            const OkLab lab = oklab_of(decoded(photo.at(x, y)));
            const auto at = [&](double v) { return static_cast<int>(std::floor(v / cell)); };
            Sum& sum = cells[{at(lab.l), at(lab.a), at(lab.b)}];
            sum.l += lab.l;
            sum.a += lab.a;
            sum.b += lab.b;
            sum.n += 1;
        }
    std::vector<Point> points;
    points.reserve(cells.size());
    for (const auto& [key, s] : cells) points.push_back({{s.l / s.n, s.a / s.n, s.b / s.n}, s.n});
    return points;
}

/// Seeds far from each other, counted by how much picture lies there.
std::vector<OkLab> seeds(const std::vector<Point>& points, std::size_t count) {
    std::vector<OkLab> found{
        std::max_element(points.begin(), points.end(), [](const Point& p, const Point& q) {
            return p.weight < q.weight;
        })->at};
    std::vector<double> nearest(points.size(), 1e9);
    while (found.size() < count) {
        std::size_t farthest = 0;
        double most = 0;
        for (std::size_t i = 0; i < points.size(); ++i) {
            nearest[i] = std::min(nearest[i], distance2(points[i].at, found.back()));
            const double worth = nearest[i] * std::sqrt(points[i].weight);
            if (worth > most) most = worth, farthest = i;
        }
        if (most <= 0) break;
        found.push_back(points[farthest].at);
    }
    return found;
}

std::vector<Point> clustered(const std::vector<Point>& points, std::vector<OkLab> centres) {
    std::vector<Point> sums;
    for (int round = 0; round < 40; ++round) {
        sums.assign(centres.size(), {{}, 0});
        for (const Point& p : points) {
            std::size_t best = 0;
            for (std::size_t c = 1; c < centres.size(); ++c)
                if (distance2(p.at, centres[c]) < distance2(p.at, centres[best])) best = c;
            sums[best].at.l += p.weight * p.at.l;
            sums[best].at.a += p.weight * p.at.a;
            sums[best].at.b += p.weight * p.at.b;
            sums[best].weight += p.weight;
        }
        double moved = 0;
        for (std::size_t c = 0; c < centres.size(); ++c) {
            if (sums[c].weight <= 0) continue;
            OkLab& at = sums[c].at;
            at = {at.l / sums[c].weight, at.a / sums[c].weight, at.b / sums[c].weight};
            moved = std::max(moved, distance2(at, centres[c]));
            centres[c] = at;
        }
        if (moved < 1e-8) break;
    }
    std::erase_if(sums, [](const Point& p) { return p.weight <= 0; });
    return sums;
}

Point joined(const Point& p, const Point& q) {
    const double w = p.weight + q.weight;
    return {{(p.weight * p.at.l + q.weight * q.at.l) / w, (p.weight * p.at.a + q.weight * q.at.a) / w,
             (p.weight * p.at.b + q.weight * q.at.b) / w},
            w};
}

/// Joins the pair whose joining loses least (Ward's criterion) until few enough and far enough apart remain.
void join_nearest(std::vector<Point>& clusters, std::size_t count) {
    while (clusters.size() > 1) {
        std::size_t a = 0, b = 1;
        double least = 1e9, nearest = 1e9;
        for (std::size_t i = 0; i < clusters.size(); ++i)
            for (std::size_t k = i + 1; k < clusters.size(); ++k) {
                const double d2 = distance2(clusters[i].at, clusters[k].at);
                const double w =
                    clusters[i].weight * clusters[k].weight / (clusters[i].weight + clusters[k].weight);
                nearest = std::min(nearest, d2);
                const double loss = d2 < least_distance * least_distance ? d2 * 1e-9 : d2 * w;
                if (loss < least) least = loss, a = i, b = k;
            }
        if (clusters.size() <= count && nearest >= least_distance * least_distance) return;
        clusters[a] = joined(clusters[a], clusters[b]);
        clusters.erase(clusters.begin() + static_cast<std::ptrdiff_t>(b));
    }
}

}  // namespace

std::vector<PaletteColour> palette_of(const Photo& photo, std::size_t count) {
    if (count < 1 || count > 16)
        throw InputError("", "-n", "a palette of " + std::to_string(count) + " colours", "1 to 16");
    const std::vector<Point> points = histogram(photo);
    std::vector<Point> clusters = clustered(points, seeds(points, 3 * count + 4));
    double all = 0;
    for (Point& p : clusters) all += p.weight;
    for (Point& p : clusters) p.weight /= all;
    join_nearest(clusters, count);
    std::stable_sort(clusters.begin(), clusters.end(),
                     [](const Point& p, const Point& q) { return p.weight > q.weight; });
    std::vector<PaletteColour> palette;
    palette.reserve(clusters.size());
    for (const Point& p : clusters)
        palette.push_back({encoded(gamut_mapped(linear_srgb_of(p.at))), p.weight});
    return palette;
}

}  // namespace foreslice::colour
