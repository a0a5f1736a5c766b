#include "flow/run_map.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "flow/bicubic.h"

namespace foreslice::flow {
namespace {

// Cells of the finest lattice, mm.
double finest_mm(double tolerance_mm) {
    return std::clamp(2.5 * tolerance_mm, 0.25, 1.0);
}

constexpr int batch = FieldBatch::most;

// Within so many radii of the middle of a wire that stays in the batter its rim is tabulated.
constexpr double rim_radii = 1.3;

int finest_cells(double extent_mm, double cell_mm, int multiple) {
    return multiple * std::max(2, static_cast<int>(std::ceil(extent_mm / (cell_mm * multiple))));
}

// Where a cell's polynomial is held against traced points, in half cells: centre and edge middles.
constexpr std::array<std::array<int, 2>, 5> test_places{{{1, 1}, {1, 0}, {0, 1}, {1, 2}, {2, 1}}};

}  // namespace

bool Run::still() const {
    return std::all_of(legs.begin(), legs.end(), [](const LegFlow& leg) { return leg.still(); });
}

void Run::trace_back(Vec2* points, int count) const {
    for (auto leg = legs.rbegin(); leg != legs.rend(); ++leg)
        leg->trace(points, count, leg->length_mm(), 0, steps);
}

RunMap::RunMap(std::shared_ptr<const Run> run, const Box& box, double tolerance, WorkerPool& pool,
               Progress& progress)
    : run_(std::move(run)), box_(box) {
    if (run_->still()) return;
    const LegFlow& last = run_->legs.back();
    wire_before_ = run_->legs.front().start_mm();
    wire_after_ = last.start_mm() + last.length_mm() * last.direction();
    tool_ = &last.tool();
    radius2_ = last.radius_mm() * last.radius_mm();
    nx_ = finest_cells(box.width_mm, finest_mm(tolerance), coarsest);
    ny_ = finest_cells(box.height_mm, finest_mm(tolerance), coarsest);
    fx_per_mm_ = nx_ / box.width_mm;
    fy_per_mm_ = ny_ / box.height_mm;
    const std::size_t points = static_cast<std::size_t>(nx_ + 1) * (ny_ + 1);
    moves_.resize(2 * points);
    known_.assign(points, 0);
    leaf_.assign(static_cast<std::size_t>(nx_) * ny_, -levels);
    split(tolerance, pool, progress);
    known_ = {};
}

std::size_t RunMap::traced_points() const {
    std::size_t points = traced_points_ + films_.traced_points();
    for (const auto& rim : rims_) points += rim.traced_points();
    return points;
}

double RunMap::own_table_share() const {
    return leaf_.empty() ? 0 : static_cast<double>(films_.size()) / static_cast<double>(leaf_.size());
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
    // The rim of a wire that stays in the batter.
    const auto rim = std::partition(cells.begin(), cells.end(), [&](const Cell& c) {
        const Vec2 centre{(c.i + 0.5) / fx_per_mm_, (c.j + 0.5) / fy_per_mm_};
        return tool_->nearest(centre - wire_after_).square > rim_radii * rim_radii * radius2_;
    });
    const bool preview = tolerance > preview_tolerance_mm;
    for (auto c = rim; c != cells.end(); ++c)
        leaf_[static_cast<std::size_t>(c->j) * nx_ + c->i] = preview ? -levels : FilmTables::no_table;
    if (rim != cells.end() && !preview) add_rims(tolerance, pool, progress);
    cells.erase(rim, cells.end());
    films_.add(*run_, {nx_, ny_, {1 / fx_per_mm_, 1 / fy_per_mm_}}, cells, tolerance, leaf_, pool, progress);
}

void RunMap::add_rims(double tolerance, WorkerPool& pool, Progress& progress) {
    const ToolShape& tool = *tool_;
    if (!tool.round()) return;
    const double half_cell = 0.5 * std::hypot(1 / fx_per_mm_, 1 / fy_per_mm_);
    const double width = (rim_radii - 1) * tool.radius_mm() + 1.1 * half_cell;
    for (const auto& core : tool.cores())
        rims_.emplace_back(*run_, wire_after_ + core.a, tool.radius_mm(), width, tolerance, pool, progress);
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
            const std::uint32_t index = wanted[first + k], i = index % row, j = index / row;
            return Vec2{i / fx_per_mm_, j / fy_per_mm_};
        };
        for (std::size_t k = 0; k < count; ++k) points[k] = place(k);
        run_->trace_back(points.data(), static_cast<int>(count));
        for (std::size_t k = 0; k < count; ++k) {
            const Vec2 moved = points[k] - place(k);
            moves_[2 * static_cast<std::size_t>(wanted[first + k])] = static_cast<float>(moved.x);
            moves_[2 * static_cast<std::size_t>(wanted[first + k]) + 1] = static_cast<float>(moved.y);
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
    const auto gradient = [&](std::size_t part, double own_x, double own_y) {
        const auto rise = [&](std::size_t to) {
            return static_cast<double>(moves_[2 * to + part] - moves_[2 * corner + part]);
        };
        return std::hypot(own_x + rise(right) / size.x, own_y + rise(above) / size.y);
    };
    const Vec2 allowed{tolerance * std::clamp(gradient(0, 1, 0), 1.0, steepest_gradient),
                       tolerance * std::clamp(gradient(1, 0, 1), 1.0, steepest_gradient)};
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
        return near(i, j, {moves_[2 * index], moves_[2 * index + 1]});
    });
}

// Wakes can be thinner than a coarse cell and slip between its test points, so cells near the path always
// split.
bool RunMap::near_wire(const Cell& c, int stride) const {
    if (stride <= 2) return false;
    const Vec2 centre{(c.i + 0.5 * stride) / fx_per_mm_, (c.j + 0.5 * stride) / fy_per_mm_};
    return std::any_of(run_->legs.begin(), run_->legs.end(), [&](const LegFlow& leg) {
        const double reach = (stride > 4 ? 2.5 : 1.0) * leg.radius_mm() + 0.71 * stride / fx_per_mm_;
        return !leg.still() && leg.distance_mm(centre) < reach;
    });
}

// Displacement at lattice coordinates by the 4 x 4 points of the given stride round them (shifted inwards at
// the sides, so that nothing outside the box is needed).
Vec2 RunMap::from_lattice(double fx, double fy, int stride) const {
    const int i = std::clamp(static_cast<int>(fx) / stride - 1, 0, nx_ / stride - 3);
    const int j = std::clamp(static_cast<int>(fy) / stride - 1, 0, ny_ / stride - 3);
    const std::ptrdiff_t row = nx_ + 1, first = j * stride * row + i * stride;
    return bicubic(moves_.data() + 2 * first, stride * row, stride, fx / stride - i, fy / stride - j);
}

RunMap::Place RunMap::place_of(Vec2 point) const {
    const double fx = std::clamp(point.x * fx_per_mm_, 0.0, static_cast<double>(nx_));
    const double fy = std::clamp(point.y * fy_per_mm_, 0.0, static_cast<double>(ny_));
    const int i = std::min(static_cast<int>(fx), nx_ - 1), j = std::min(static_cast<int>(fy), ny_ - 1);
    return {fx, fy, leaf_[static_cast<std::size_t>(j) * nx_ + i]};
}

// Displacement from the tables; false where the point must be traced instead.
bool RunMap::look_up(const Place& place, Vec2 point, Vec2& move) const {
    if (place.leaf < 0)
        move = from_lattice(place.fx, place.fy, coarsest >> (-1 - place.leaf));
    else if (place.leaf != FilmTables::no_table)
        move = films_.displacement(place.leaf, place.fx, place.fy);
    else
        return std::any_of(rims_.begin(), rims_.end(),
                           [&](const RimTable& rim) { return rim.look_up(point, move); });
    return true;
}

void RunMap::before(Vec2* points, std::size_t count) const {
    if (leaf_.empty()) return;
    for (std::size_t first = 0; first < count; first += batch)
        some_before(points + first, std::min<std::size_t>(batch, count - first));
}

// In passes over the points, so that one needs not wait for another.
void RunMap::some_before(Vec2* points, std::size_t count) const {
    std::array<Place, batch> at;
    std::array<Vec2, batch> moves, waiting;
    std::array<std::size_t, batch> places;
    std::size_t waiting_count = 0;
    for (std::size_t k = 0; k < count; ++k) at[k] = place_of(points[k]);
    for (std::size_t k = 0; k < count; ++k) {
        if (look_up(at[k], points[k], moves[k])) continue;
        moves[k] = {};
        waiting[waiting_count] = points[k];
        places[waiting_count++] = k;
    }
    if (waiting_count > 0) run_->trace_back(waiting.data(), static_cast<int>(waiting_count));
    for (std::size_t w = 0; w < waiting_count; ++w) moves[places[w]] = waiting[w] - points[places[w]];
    // Batter outside the wire stays outside, all of it in the box.
    for (std::size_t k = 0; k < count; ++k) {
        const Vec2 origin = points[k] + moves[k];
        const bool enters = tool_->holds(origin - wire_before_) && !tool_->holds(points[k] - wire_after_);
        const Vec2 kept = enters ? tool_->kept_out(origin, wire_before_) : origin;
        points[k] = {std::clamp(kept.x, 0.0, box_.width_mm), std::clamp(kept.y, 0.0, box_.height_mm)};
    }
}

}  // namespace foreslice::flow
