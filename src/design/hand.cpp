#include "design/hand.h"

#include <algorithm>
#include <cmath>

namespace foreslice::design {
namespace {

constexpr double walk_mm = 0.1;       // of the leader between two looks at the follower
constexpr double tolerance_mm = 0.1;  // of the path with few points

double distance_to_chord_mm(Vec2 point, Vec2 from, Vec2 to) {
    const Vec2 chord = to - from, off = point - from;
    const double squared = dot(chord, chord);
    const double share = squared > 0 ? std::clamp(dot(off, chord) / squared, 0.0, 1.0) : 0.0;
    return length(off - share * chord);
}

// Ramer, Douglas and Peucker's thinning with a list of open pieces instead of recursion.
std::vector<Vec2> thinned(const std::vector<Vec2>& path) {
    std::vector<bool> kept(path.size(), false);
    kept.front() = kept.back() = true;
    std::vector<std::pair<std::size_t, std::size_t>> open{{0, path.size() - 1}};
    while (!open.empty()) {
        const auto [from, to] = open.back();
        open.pop_back();
        std::size_t farthest = from;
        double most = tolerance_mm;
        for (std::size_t i = from + 1; i < to; ++i) {
            const double off = distance_to_chord_mm(path[i], path[from], path[to]);
            if (off <= most) continue;
            most = off;
            farthest = i;
        }
        if (farthest == from) continue;
        kept[farthest] = true;
        open.emplace_back(from, farthest);
        open.emplace_back(farthest, to);
    }
    std::vector<Vec2> few;
    for (std::size_t i = 0; i < path.size(); ++i)
        if (kept[i]) few.push_back(path[i]);
    return few;
}

// The leader's way past its end, so that the follower gets there.
std::vector<Vec2> prolonged(const std::vector<Vec2>& path, double by_mm) {
    std::vector<Vec2> longer = path;
    for (std::size_t i = path.size() - 1; i > 0; --i) {
        const Vec2 last = path[i] - path[i - 1];
        if (length(last) == 0) continue;
        longer.push_back(path.back() + (by_mm / length(last)) * last);
        break;
    }
    return longer;
}

}  // namespace

double wire_lag_mm(const Design& design, double z_mm) {
    const double share = std::clamp(z_mm / design.mould.length_mm, 0.0, 1.0);
    const double lag_mm = 4 * share * (1 - share) * design.hand.sag_mm;
    return lag_step_mm * std::round(lag_mm / lag_step_mm);
}

std::vector<Vec2> trailing_path(const std::vector<Vec2>& path, double lag_mm) {
    if (path.size() < 2 || lag_mm <= 0) return path;
    const std::vector<Vec2> leader = prolonged(path, lag_mm);
    std::vector<Vec2> followed{leader.front()};
    for (std::size_t leg = 1; leg < leader.size(); ++leg) {
        const Vec2 way = leader[leg] - leader[leg - 1];
        const int steps = std::max(1, static_cast<int>(std::ceil(length(way) / walk_mm)));
        for (int step = 1; step <= steps; ++step) {
            const Vec2 ahead = leader[leg - 1] + (static_cast<double>(step) / steps) * way;
            const Vec2 thread = ahead - followed.back();
            const double slack = length(thread) - lag_mm;
            if (slack > 0) followed.push_back(followed.back() + (slack / length(thread)) * thread);
        }
    }
    return thinned(followed);
}

std::vector<flow::Stroke> trailing_strokes(std::vector<flow::Stroke> strokes, double lag_mm) {
    for (flow::Stroke& stroke : strokes) stroke.path_mm = trailing_path(stroke.path_mm, lag_mm);
    return strokes;
}

}  // namespace foreslice::design
