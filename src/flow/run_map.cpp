#include "flow/run_map.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "flow/dense_kernels.h"

namespace foreslice::flow {
namespace {

constexpr double finest_mm = 0.25;
constexpr int batch = FieldBatch::most;
constexpr double steepest = 3;  // gradients beyond this are too uneven over a cell to earn more tolerance

int finest_cells(double extent_mm, int multiple) {
    return multiple * std::max(2, static_cast<int>(std::ceil(extent_mm / (finest_mm * multiple))));
}

constexpr double traced_within = 1.15;  // of the wire's radius, see before()

// Lagrange weights of the cubic through four equally spaced points at 0..3, at t.
inline std::array<double, 4> cubic_weights(double t) {
    const double a = t, b = t - 1, c = t - 2, d = t - 3;
    return {-b * c * d / 6, a * c * d / 2, -a * b * d / 2, a * b * c / 6};
}

// The bicubic through 4 x 4 values, rows `row` apart and columns `column` apart.
inline Vec2 bicubic(const float* dx, const float* dy, std::ptrdiff_t row, std::ptrdiff_t column, double s,
                    double t) {
    const auto wx = cubic_weights(s), wy = cubic_weights(t);
    Vec2 sum;
    for (std::size_t q = 0; q < 4; ++q, dx += row, dy += row) {
        double x = 0, y = 0;
        for (std::size_t p = 0; p < 4; ++p) {
            x += wx[p] * static_cast<double>(dx[static_cast<std::ptrdiff_t>(p) * column]);
            y += wx[p] * static_cast<double>(dy[static_cast<std::ptrdiff_t>(p) * column]);
        }
        sum += wy[q] * Vec2{x, y};
    }
    return sum;
}

double distance_to_leg(Vec2 p, const LegFlow& leg) {
    double nearest = 1e30;
    for (const Vec2 offset : leg.tool().samples()) {
        const Vec2 from_start = p - offset - leg.start_mm();
        const double along = std::clamp(dot(from_start, leg.direction()), 0.0, leg.length_mm());
        nearest = std::min(nearest, length(from_start - along * leg.direction()));
    }
    return nearest;
}

// Where a cell's polynomial is held against traced points, in half cells: centre and edge middles.
constexpr std::array<std::array<int, 2>, 5> test_places{{{1, 1}, {1, 0}, {0, 1}, {1, 2}, {2, 1}}};

}  // namespace

bool Run::still() const {
    return std::all_of(legs.begin(), legs.end(), [](const LegFlow& leg) { return leg.still(); });
}

void Run::trace_back(Vec2* points, int count) const {
    for (auto leg = legs.rbegin(); leg != legs.rend(); ++leg) leg->trace(points, count, leg->length_mm(), 0);
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
    leaf_.assign(static_cast<std::size_t>(nx_) * ny_, -levels);
    split(tolerance, pool, progress);
    known_ = {};
}

double RunMap::own_table_share() const {
    return leaf_.empty() ? 0 : static_cast<double>(tables_.size()) / static_cast<double>(leaf_.size());
}

void RunMap::split(double tolerance, WorkerPool& pool, Progress& progress) {
    std::vector<Cell> cells;
    for (int j = 0; j < ny_; j += coarsest)
        for (int i = 0; i < nx_; i += coarsest) cells.push_back({i, j});
    for (int level = 0; level < levels && !cells.empty(); ++level) {
        const int stride = coarsest >> level;
        trace_points(points_to_try(cells, stride), stride, pool, progress);
        const auto good = agreeing(cells, stride, tolerance, pool);
        std::vector<Cell> finer;
        for (std::size_t k = 0; k < cells.size(); ++k) {
            const Cell c = cells[k];
            for (int j = c.j; good[k] && j < c.j + stride; ++j)
                std::fill_n(leaf_.begin() + static_cast<std::ptrdiff_t>(j) * nx_ + c.i, stride, -1 - level);
            if (good[k]) continue;
            if (stride == 1) {
                finer.push_back(c);
                continue;
            }
            const int half = stride / 2;
            for (int quarter = 0; quarter < 4; ++quarter)
                finer.push_back({c.i + (quarter & 1) * half, c.j + (quarter >> 1) * half});
        }
        cells = std::move(finer);
    }
    add_tables(cells, tolerance, pool, progress);
}

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

// Traces lattice points in compact groups, since points of a group share their steps.
void RunMap::trace_points(std::vector<std::uint32_t> wanted, int stride, WorkerPool& pool,
                          Progress& progress) {
    const auto row = static_cast<std::uint32_t>(nx_ + 1),
               tile = static_cast<std::uint32_t>(8 * std::max(1, stride / 2));
    const auto tile_of = [&](std::uint32_t index) {
        return (index / row) / tile * row + (index % row) / tile;
    };
    std::stable_sort(wanted.begin(), wanted.end(),
                     [&](std::uint32_t a, std::uint32_t b) { return tile_of(a) < tile_of(b); });
    std::vector<std::size_t> starts;
    for (std::size_t k = 0; k < wanted.size(); ++k)
        if (k == 0 || k - starts.back() == batch || tile_of(wanted[k]) != tile_of(wanted[k - 1]))
            starts.push_back(k);
    starts.push_back(wanted.size());
    pool.parallel_for(starts.size() - 1, [&](std::size_t b) {
        progress.check();
        std::array<Vec2, batch> points;
        const std::size_t first = starts[b], count = starts[b + 1] - first;
        const auto place = [&](std::size_t k) {
            return Vec2{(wanted[first + k] % row) / fx_per_mm_, (wanted[first + k] / row) / fy_per_mm_};
        };
        for (std::size_t k = 0; k < count; ++k) points[k] = place(k);
        run_->trace_back(points.data(), static_cast<int>(count));
        for (std::size_t k = 0; k < count; ++k) {
            const Vec2 moved = points[k] - place(k);
            dx_[wanted[first + k]] = static_cast<float>(moved.x);
            dy_[wanted[first + k]] = static_cast<float>(moved.y);
        }
    });
    for (const auto index : wanted) known_[index] = 1;
    traced_points_ += wanted.size();
}

std::vector<std::uint8_t> RunMap::agreeing(const std::vector<Cell>& cells, int stride, double tolerance,
                                           WorkerPool& pool) const {
    std::vector<std::uint8_t> good(cells.size(), 0);
    pool.parallel_for((cells.size() + batch - 1) / batch, [&](std::size_t g) {
        const std::size_t first = g * batch, last = std::min(cells.size(), first + batch);
        std::array<Vec2, batch> centres;  // of the finest cells, traced as a group
        if (stride == 1) {
            for (std::size_t k = first; k < last; ++k)
                centres[k - first] = {(cells[k].i + 0.5) / fx_per_mm_, (cells[k].j + 0.5) / fy_per_mm_};
            run_->trace_back(centres.data(), static_cast<int>(last - first));
        }
        for (std::size_t k = first; k < last; ++k)
            good[k] = agrees(cells[k], stride, centres[k - first], tolerance);
    });
    return good;
}

// What counts is where a boundary between layers ends up on the face: an error of an origin's coordinate
// moves it by the error over that coordinate's gradient, so steep places may err more.
bool RunMap::agrees(const Cell& c, int stride, Vec2 centre_origin, double tolerance) const {
    if (near_wire(c, stride)) return false;
    const std::size_t corner = static_cast<std::size_t>(c.j) * (nx_ + 1) + c.i;
    const std::size_t right = corner + static_cast<std::size_t>(stride),
                      above = corner + static_cast<std::size_t>(stride) * (nx_ + 1);
    const Vec2 size{stride / fx_per_mm_, stride / fy_per_mm_};
    const auto gradient = [&](const std::vector<float>& d, double own_x, double own_y) {
        return std::hypot(own_x + static_cast<double>(d[right] - d[corner]) / size.x,
                          own_y + static_cast<double>(d[above] - d[corner]) / size.y);
    };
    const Vec2 allowed{tolerance * std::clamp(gradient(dx_, 1, 0), 1.0, steepest),
                       tolerance * std::clamp(gradient(dy_, 0, 1), 1.0, steepest)};
    const auto near = [&](double fx, double fy, Vec2 truth) {
        const Vec2 error = from_lattice(fx, fy, stride) - truth;
        return std::abs(error.x) <= allowed.x && std::abs(error.y) <= allowed.y;
    };
    if (stride == 1) {
        const Vec2 centre{(c.i + 0.5) / fx_per_mm_, (c.j + 0.5) / fy_per_mm_};
        return near(c.i + 0.5, c.j + 0.5, centre_origin - centre);
    }
    return std::all_of(test_places.begin(), test_places.end(), [&](const auto& place) {
        const int i = c.i + place[0] * stride / 2, j = c.j + place[1] * stride / 2;
        const std::size_t index = static_cast<std::size_t>(j) * (nx_ + 1) + i;
        return near(i, j, {dx_[index], dy_[index]});
    });
}

// Wakes can be thinner than a coarse cell and slip between its test points, so cells near the path always
// split.
bool RunMap::near_wire(const Cell& c, int stride) const {
    if (stride <= 2) return false;
    const Vec2 centre{(c.i + 0.5 * stride) / fx_per_mm_, (c.j + 0.5 * stride) / fy_per_mm_};
    return std::any_of(run_->legs.begin(), run_->legs.end(), [&](const LegFlow& leg) {
        const double reach = (stride > 4 ? 2.5 : 1.0) * leg.radius_mm() + 0.71 * stride / fx_per_mm_;
        return !leg.still() && distance_to_leg(centre, leg) < reach;
    });
}

namespace {

// The displacements of a (sides+1)^2 grid over one cell, and behind them those of the centres of its
// quarters.
std::vector<Vec2> traced_grid(const Run& run, Vec2 corner, Vec2 size, int sides) {
    std::vector<Vec2> points;
    for (int q = 0; q <= sides; ++q)
        for (int p = 0; p <= sides; ++p)
            points.push_back(corner + Vec2{size.x * p / sides, size.y * q / sides});
    for (const double q : {0.375, 0.625})
        for (const double p : {0.375, 0.625}) points.push_back(corner + Vec2{p * size.x, q * size.y});
    std::vector<Vec2> moved = points;
    for (std::size_t k = 0; k < moved.size(); k += batch)
        run.trace_back(moved.data() + k, static_cast<int>(std::min<std::size_t>(batch, moved.size() - k)));
    for (std::size_t k = 0; k < moved.size(); ++k) moved[k] = moved[k] - points[k];
    return moved;
}

// Whether the bicubic of a 4 x 4 grid gives the points between its middle nodes to within a share of the
// range.
bool four_sides_suffice(const std::vector<Vec2>& grid, Vec2 size, double tolerance) {
    const double steep = std::clamp(length(grid[24] - grid[0] + size) / length(size), 1.0, steepest);
    for (std::size_t k = 0; k < 4; ++k) {
        Vec2 sum;  // midpoint rule of the cubic in each direction: (-1, 9, 9, -1) / 16
        constexpr std::array<double, 4> w{-0.0625, 0.5625, 0.5625, -0.0625};
        const std::size_t i0 = k & 1, j0 = k >> 1;
        for (std::size_t q = 0; q < 4; ++q)
            for (std::size_t p = 0; p < 4; ++p) sum += w[q] * w[p] * grid[(j0 + q) * 5 + i0 + p];
        if (length(sum - grid[25 + k]) > tolerance * steep) return false;
    }
    return true;
}

}  // namespace

void RunMap::add_tables(const std::vector<Cell>& cells, double tolerance, WorkerPool& pool,
                        Progress& progress) {
    std::vector<std::vector<Vec2>> grids(cells.size());
    std::vector<int> sides(cells.size(), 4);
    const Vec2 size{1 / fx_per_mm_, 1 / fy_per_mm_};
    pool.parallel_for(cells.size(), [&](std::size_t k) {
        progress.check();
        const Vec2 corner{cells[k].i * size.x, cells[k].j * size.y};
        grids[k] = traced_grid(*run_, corner, size, 4);
        if (four_sides_suffice(grids[k], size, tolerance)) return;
        sides[k] = 8;
        grids[k] = traced_grid(*run_, corner, size, 8);
    });
    for (std::size_t k = 0; k < cells.size(); ++k) {
        leaf_[static_cast<std::size_t>(cells[k].j) * nx_ + cells[k].i] =
            static_cast<std::int32_t>(tables_.size());
        tables_.push_back({sides[k], table_dx_.size()});
        traced_points_ += grids[k].size();
        grids[k].resize(static_cast<std::size_t>((sides[k] + 1) * (sides[k] + 1)));
        for (const Vec2 moved : grids[k]) {
            table_dx_.push_back(static_cast<float>(moved.x));
            table_dy_.push_back(static_cast<float>(moved.y));
        }
    }
}

// Displacement at lattice coordinates by the 4 x 4 points of the given stride round them (shifted inwards at
// the sides, so that nothing outside the box is needed).
Vec2 RunMap::from_lattice(double fx, double fy, int stride) const {
    const int i = std::clamp(static_cast<int>(fx) / stride - 1, 0, nx_ / stride - 3);
    const int j = std::clamp(static_cast<int>(fy) / stride - 1, 0, ny_ / stride - 3);
    const std::ptrdiff_t row = nx_ + 1, first = j * stride * row + i * stride;
    return bicubic(dx_.data() + first, dy_.data() + first, stride * row, stride, fx / stride - i,
                   fy / stride - j);
}

Vec2 RunMap::from_table(const Table& table, double s, double t) const {
    const int sides = table.sides, row = sides + 1;
    const double x = s * sides, y = t * sides;
    if (sides == 4) {
        const int i = std::clamp(static_cast<int>(x) - 1, 0, 1),
                  j = std::clamp(static_cast<int>(y) - 1, 0, 1);
        const std::size_t first = table.first + static_cast<std::size_t>(j * row + i);
        return bicubic(&table_dx_[first], &table_dy_[first], row, 1, x - i, y - j);
    }
    const int i = std::min(static_cast<int>(x), sides - 1), j = std::min(static_cast<int>(y), sides - 1);
    const auto at = [&](int p, int q) {
        const std::size_t k = table.first + static_cast<std::size_t>((j + q) * row + i + p);
        return Vec2{static_cast<double>(table_dx_[k]), static_cast<double>(table_dy_[k])};
    };
    const double a = x - i, b = y - j;
    return (1 - b) * ((1 - a) * at(0, 0) + a * at(1, 0)) + b * ((1 - a) * at(0, 1) + a * at(1, 1));
}

Vec2 RunMap::before(Vec2 point) const {
    if (leaf_.empty()) return point;
    const double fx = std::clamp(point.x * fx_per_mm_, 0.0, static_cast<double>(nx_));
    const double fy = std::clamp(point.y * fy_per_mm_, 0.0, static_cast<double>(ny_));
    const int i = std::min(static_cast<int>(fx), nx_ - 1), j = std::min(static_cast<int>(fy), ny_ - 1);
    const std::int32_t leaf = leaf_[static_cast<std::size_t>(j) * nx_ + i];
    const Vec2 moved = leaf < 0 ? from_lattice(fx, fy, coarsest >> (-1 - leaf))
                                : from_table(tables_[static_cast<std::size_t>(leaf)], fx - i, fy - j);
    Vec2 origin = point + moved;
    // What a film brings from close to the wire's first place is traced: the map of the run before is so
    // steep there that the table's error would put batter into the wire or its wake, and layers would lose
    // area.
    const LegFlow& last = run_->legs.back();
    const Vec2 wire_before = run_->legs.front().start_mm();
    const Vec2 wire_after = last.start_mm() + last.length_mm() * last.direction();
    const ToolShape& tool = last.tool();
    const double radius = tool.radius_mm();
    if (tool.nearest(point - wire_after).square >= radius * radius) {
        const bool film = leaf >= 0 && tables_[static_cast<std::size_t>(leaf)].sides == 8;
        if (film && std::sqrt(tool.nearest(origin - wire_before).square) < traced_within * radius) {
            origin = point;
            run_->trace_back(&origin, 1);
        }
        origin = tool.kept_out(origin, wire_before);
    }
    origin.x = std::clamp(origin.x, 0.0, box_.width_mm);
    origin.y = std::clamp(origin.y, 0.0, box_.height_mm);
    return origin;
}

}  // namespace foreslice::flow
