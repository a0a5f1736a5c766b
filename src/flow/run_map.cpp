#include "flow/run_map.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace foreslice::flow {
namespace {

constexpr double finest_mm = 0.25;

int finest_cells(double extent_mm, int multiple) {
    return multiple * std::max(2, static_cast<int>(std::ceil(extent_mm / (finest_mm * multiple))));
}

// Lagrange weights of the cubic through four equally spaced points at 0..3, at t.
inline std::array<double, 4> cubic_weights(double t) {
    const double a = t, b = t - 1, c = t - 2, d = t - 3;
    return {-b * c * d / 6, a * c * d / 2, -a * b * d / 2, a * b * c / 6};
}

double distance_to_segment(Vec2 p, Vec2 start, Vec2 direction, double length_mm) {
    const double along = std::clamp(dot(p - start, direction), 0.0, length_mm);
    return length(p - (start + along * direction));
}

}  // namespace

bool Run::still() const {
    return std::all_of(legs.begin(), legs.end(), [](const LegFlow& leg) { return leg.still(); });
}

Vec2 Run::trace_back(Vec2 point) const {
    for (auto leg = legs.rbegin(); leg != legs.rend(); ++leg) point = leg->trace(point, leg->length_mm(), 0);
    return point;
}

RunMap::RunMap(std::shared_ptr<const Run> run, const Box& box, double tolerance, WorkerPool& pool,
               Progress& progress)
    : run_(std::move(run)), box_(box) {
    if (run_->still()) return;
    nx_ = finest_cells(box.width_mm, coarsest);
    ny_ = finest_cells(box.height_mm, coarsest);
    fx_per_mm_ = nx_ / box.width_mm;
    fy_per_mm_ = ny_ / box.height_mm;
    const std::size_t points = static_cast<std::size_t>(nx_ + 1) * (ny_ + 1);
    dx_.resize(points);
    dy_.resize(points);
    known_.assign(points, 0);
    leaf_level_.assign(static_cast<std::size_t>(nx_) * ny_, direct);
    split(tolerance, pool, progress);
    const auto left = std::count(leaf_level_.begin(), leaf_level_.end(), direct);
    traced_share_ = static_cast<double>(left) / static_cast<double>(leaf_level_.size());
}

void RunMap::trace_points(const std::vector<std::uint32_t>& wanted, WorkerPool& pool, Progress& progress) {
    constexpr std::size_t batch = 256;
    const std::size_t batches = (wanted.size() + batch - 1) / batch;
    pool.parallel_for(batches, [&](std::size_t b) {
        progress.check();
        for (std::size_t k = b * batch; k < std::min(wanted.size(), (b + 1) * batch); ++k) {
            const std::uint32_t index = wanted[k];
            const Vec2 point{(index % (nx_ + 1)) / fx_per_mm_, (index / (nx_ + 1)) / fy_per_mm_};
            const Vec2 origin = run_->trace_back(point);
            dx_[index] = static_cast<float>(origin.x - point.x);
            dy_[index] = static_cast<float>(origin.y - point.y);
        }
    });
    for (const auto index : wanted) known_[index] = 1;
    table_points_ += wanted.size();
}

// Displacement at lattice coordinates by the 4 x 4 points of the given stride round them (shifted inwards at
// the sides, so that nothing outside the box is needed).
Vec2 RunMap::interpolated(double fx, double fy, int stride) const {
    const int i = std::clamp(static_cast<int>(fx) / stride - 1, 0, nx_ / stride - 3);
    const int j = std::clamp(static_cast<int>(fy) / stride - 1, 0, ny_ / stride - 3);
    const auto wx = cubic_weights(fx / stride - i), wy = cubic_weights(fy / stride - j);
    Vec2 sum;
    for (std::size_t q = 0; q < 4; ++q) {
        const std::size_t row =
            (static_cast<std::size_t>(j) + q) * stride * (nx_ + 1) + static_cast<std::size_t>(i) * stride;
        double x = 0, y = 0;
        for (std::size_t p = 0; p < 4; ++p) {
            x += wx[p] * static_cast<double>(dx_[row + p * stride]);
            y += wx[p] * static_cast<double>(dy_[row + p * stride]);
        }
        sum += wy[q] * Vec2{x, y};
    }
    return sum;
}

// Wakes can be thinner than a coarse cell and slip between its test points, so cells near the path always
// split.
bool RunMap::near_wire(int i, int j, int stride) const {
    if (stride <= 2) return false;
    const Vec2 centre{(i + 0.5 * stride) / fx_per_mm_, (j + 0.5 * stride) / fy_per_mm_};
    return std::any_of(run_->legs.begin(), run_->legs.end(), [&](const LegFlow& leg) {
        if (leg.still()) return false;
        const double distance = distance_to_segment(centre, leg.start_mm(), leg.direction(), leg.length_mm());
        return distance < (stride > 4 ? 2.5 : 1.0) * leg.radius_mm() + 0.71 * stride / fx_per_mm_;
    });
}

namespace {

// Where a cell's polynomial is held against traced points, in half cells: centre and edge middles.
constexpr std::array<std::array<int, 2>, 5> test_places{{{1, 1}, {1, 0}, {0, 1}, {1, 2}, {2, 1}}};

}  // namespace

// Lattice points that the cells' polynomials and their tests need and that are not traced yet.
std::vector<std::uint32_t> RunMap::points_to_try(const std::vector<Cell>& cells, int stride) const {
    std::vector<std::uint32_t> wanted;
    std::vector<std::uint8_t> queued = known_;
    const auto want = [&](int i, int j) {
        const std::size_t index = static_cast<std::size_t>(j) * (nx_ + 1) + i;
        if (queued[index]) return;
        queued[index] = 1;
        wanted.push_back(static_cast<std::uint32_t>(index));
    };
    for (const Cell& c : cells) {
        const int i0 = std::clamp(c.i / stride - 1, 0, nx_ / stride - 3);
        const int j0 = std::clamp(c.j / stride - 1, 0, ny_ / stride - 3);
        for (int q = 0; q < 4; ++q)
            for (int p = 0; p < 4; ++p) want((i0 + p) * stride, (j0 + q) * stride);
        if (stride == 1) continue;
        for (const auto& [di, dj] : test_places) want(c.i + di * stride / 2, c.j + dj * stride / 2);
    }
    return wanted;
}

bool RunMap::agrees(const Cell& c, int stride, double tolerance) const {
    const auto near = [&](double fx, double fy, Vec2 truth) {
        const Vec2 error = interpolated(fx, fy, stride) - truth;
        return dot(error, error) <= tolerance * tolerance;
    };
    if (near_wire(c.i, c.j, stride)) return false;
    if (stride == 1) {
        const Vec2 centre{(c.i + 0.5) / fx_per_mm_, (c.j + 0.5) / fy_per_mm_};
        return near(c.i + 0.5, c.j + 0.5, run_->trace_back(centre) - centre);
    }
    return std::all_of(test_places.begin(), test_places.end(), [&](const auto& place) {
        const int i = c.i + place[0] * stride / 2, j = c.j + place[1] * stride / 2;
        const std::size_t index = static_cast<std::size_t>(j) * (nx_ + 1) + i;
        return near(i, j, {dx_[index], dy_[index]});
    });
}

void RunMap::split(double tolerance, WorkerPool& pool, Progress& progress) {
    std::vector<Cell> cells;
    for (int j = 0; j < ny_; j += coarsest)
        for (int i = 0; i < nx_; i += coarsest) cells.push_back({i, j});
    for (int level = 0; level < levels && !cells.empty(); ++level) {
        const int stride = coarsest >> level;
        trace_points(points_to_try(cells, stride), pool, progress);
        std::vector<std::uint8_t> good(cells.size(), 0);
        pool.parallel_for(cells.size(),
                          [&](std::size_t k) { good[k] = agrees(cells[k], stride, tolerance); });
        std::vector<Cell> finer;
        for (std::size_t k = 0; k < cells.size(); ++k) {
            const Cell c = cells[k];
            for (int j = c.j; good[k] && j < c.j + stride; ++j)
                std::fill_n(leaf_level_.begin() + static_cast<std::ptrdiff_t>(j) * nx_ + c.i, stride,
                            static_cast<std::uint8_t>(level));
            if (good[k] || stride == 1) continue;
            const int half = stride / 2;
            for (int quarter = 0; quarter < 4; ++quarter)
                finer.push_back({c.i + (quarter & 1) * half, c.j + (quarter >> 1) * half});
        }
        cells = std::move(finer);
    }
}

Vec2 RunMap::before(Vec2 point) const {
    if (leaf_level_.empty()) return point;
    const double fx = std::clamp(point.x * fx_per_mm_, 0.0, static_cast<double>(nx_));
    const double fy = std::clamp(point.y * fy_per_mm_, 0.0, static_cast<double>(ny_));
    const int i = std::min(static_cast<int>(fx), nx_ - 1), j = std::min(static_cast<int>(fy), ny_ - 1);
    const std::uint8_t level = leaf_level_[static_cast<std::size_t>(j) * nx_ + i];
    Vec2 origin = level == direct ? run_->trace_back(point) : point + interpolated(fx, fy, coarsest >> level);
    origin.x = std::clamp(origin.x, 0.0, box_.width_mm);
    origin.y = std::max(origin.y, 0.0);
    return origin;
}

}  // namespace foreslice::flow
