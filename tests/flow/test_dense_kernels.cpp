// All builds of the inner loops give the same bits.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "flow/dense_kernels.h"
#include "flow/flow_samples.h"
#include "flow/sine_transform.h"

using namespace foreslice;
using namespace foreslice::testing;

namespace foreslice::flow {
namespace portable {
extern const DenseKernels kernels;
}
#if defined(__x86_64__)
namespace avx2 {
extern const DenseKernels kernels;
}
namespace avx512 {
extern const DenseKernels kernels;
}
#endif
}  // namespace foreslice::flow

namespace {

using foreslice::flow::DenseKernels;
using foreslice::flow::FieldBatch;
using foreslice::flow::SplitSweep;

constexpr double pi = 3.14159265358979323846;

// Those that this machine can run beside the portable one.
std::vector<const DenseKernels*> other_builds() {
    std::vector<const DenseKernels*> builds;
#if defined(__x86_64__)
    if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma"))
        builds.push_back(&foreslice::flow::avx2::kernels);
    if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512vl") &&
        __builtin_cpu_supports("avx512dq") && __builtin_cpu_supports("avx512bw"))
        builds.push_back(&foreslice::flow::avx512::kernels);
#endif
    if (builds.size() < 2)
        MESSAGE("this machine runs " << builds.size() << " builds beside the portable one");
    return builds;
}

struct Swept {
    std::vector<double> cell, node, ratio, rhs_cell, rhs_node;
    double residual = 0, strain = 0;
    friend bool operator==(const Swept&, const Swept&) = default;
};

Swept swept(const DenseKernels& kernels, int count) {
    const auto n = static_cast<std::size_t>(count);
    Swept out{scattered(n, 11), scattered(n, 12), scattered(n, 13), std::vector<double>(n),
              std::vector<double>(n)};
    const auto cell_strain = scattered(n, 14), node_strain = scattered(n, 15);
    const auto entries = scattered(130, 16);
    std::vector<float> table(entries.begin(), entries.end());
    std::sort(table.begin(), table.end());
    SplitSweep sweep;
    sweep.count = count;
    sweep.cell_strain = cell_strain.data();
    sweep.node_strain = node_strain.data();
    sweep.cell_state = out.cell.data();
    sweep.node_state = out.node.data();
    sweep.ratio = out.ratio.data();
    sweep.cell_rhs = out.rhs_cell.data();
    sweep.node_rhs = out.rhs_node.data();
    sweep.penalty = 0.37;
    sweep.relaxation = 1.6;
    sweep.yield_stress = 0.4;
    sweep.table = table.data();
    sweep.table_size = 128;
    sweep.table_width = 0.9;
    kernels.split_sweep(sweep);
    out.residual = sweep.squared_residual;
    out.strain = sweep.squared_strain;
    return out;
}

std::vector<float> velocities(const DenseKernels& kernels, int count) {
    constexpr int nx = 30, ny = 26;
    std::vector<float> fields[2], x, y, out(2 * static_cast<std::size_t>(count));
    for (unsigned k = 0; k < 2; ++k)
        for (const double value : scattered((nx + 3) * (ny + 3), 20 + k))
            fields[k].push_back(static_cast<float>(value));
    const auto place = scattered(2 * static_cast<std::size_t>(count), 23);
    for (int k = 0; k < count; ++k) {
        x.push_back(static_cast<float>(15 + 15 * place[static_cast<std::size_t>(2 * k)]));
        y.push_back(static_cast<float>(13 + 13 * place[static_cast<std::size_t>(2 * k + 1)]));
    }
    FieldBatch batch;
    batch.count = count;
    batch.x = x.data();
    batch.y = y.data();
    batch.u = out.data();
    batch.v = out.data() + count;
    for (int k = 0; k < 2; ++k) {
        batch.field[k] = fields[k].data();
        batch.share[k] = k == 0 ? 0.3F : 0.7F;
        batch.shift_x[k] = k == 0 ? 0.4F : -0.8F;
        batch.shift_y[k] = k == 0 ? -0.7F : 0.9F;
    }
    batch.inverse_low_x = 0.2F;
    batch.inverse_high_x = 0.11F;
    batch.inverse_low_y = 0.3F;
    batch.inverse_high_y = 0.09F;
    batch.width = nx;
    batch.height = ny;
    batch.per_hx = batch.per_hy = 1;
    batch.stride = nx + 3;
    batch.nx = nx;
    batch.ny = ny;
    kernels.field_velocities(batch);
    return out;
}

}  // namespace

TEST_CASE("Matrix products: right, and the same bits in every build") {
    for (const auto& [m, k, n] :
         {std::array{4, 8, 8}, {95, 116, 95}, {5, 7, 3}, {1, 1, 1}, {13, 40, 21}, {24, 40, 24}}) {
        const auto size = [](int rows, int columns) { return static_cast<std::size_t>(rows) * columns; };
        const auto a = scattered(size(m, k), 1), b = scattered(size(k, n), 2);
        std::vector<double> portable(size(m, n)), other(size(m, n));
        foreslice::flow::portable::kernels.multiply(a.data(), b.data(), portable.data(), m, k, n);
        for (const DenseKernels* build : other_builds()) {
            build->multiply(a.data(), b.data(), other.data(), m, k, n);
            CHECK(portable == other);
        }
        for (int i = 0; i < m; ++i)
            for (int j = 0; j < n; ++j) {
                double sum = 0;
                for (int p = 0; p < k; ++p) sum += a[size(i, k) + p] * b[size(p, n) + j];
                REQUIRE(std::abs(portable[size(i, n) + j] - sum) < 1e-13 * k);
            }
    }
}

TEST_CASE("Matrix products in 32 bits: right, and the same bits in every build") {
    for (const auto& [m, k, n] :
         {std::array{4, 16, 16}, {60, 58, 96}, {5, 7, 3}, {13, 40, 37}, {28, 40, 53}}) {
        const auto size = [](int rows, int columns) { return static_cast<std::size_t>(rows) * columns; };
        const auto wide_a = scattered(size(m, k), 1), wide_b = scattered(size(k, n), 2);
        const std::vector<float> a(wide_a.begin(), wide_a.end()), b(wide_b.begin(), wide_b.end());
        std::vector<float> portable(size(m, n)), other(size(m, n));
        foreslice::flow::portable::kernels.multiply_float(a.data(), b.data(), portable.data(), m, k, n);
        for (const DenseKernels* build : other_builds()) {
            build->multiply_float(a.data(), b.data(), other.data(), m, k, n);
            CHECK(portable == other);
        }
        for (int i = 0; i < m; ++i)
            for (int j = 0; j < n; ++j) {
                double sum = 0;
                for (int p = 0; p < k; ++p)
                    sum += static_cast<double>(a[size(i, k) + p]) * static_cast<double>(b[size(p, n) + j]);
                REQUIRE(std::abs(static_cast<double>(portable[size(i, n) + j]) - sum) < 1e-6 * k);
            }
    }
}

TEST_CASE("The sine transform agrees with its definition and undoes itself") {
    for (const auto& [rows, columns] : {std::array{7, 8}, {8, 7}, {95, 116}, {1, 3}, {33, 47}}) {
        const auto size = static_cast<std::size_t>(rows) * static_cast<std::size_t>(columns);
        const auto in = scattered(size, 7);
        std::vector<double> out(size), back(size);
        const foreslice::flow::SineTransform<double> transform(rows, columns);
        transform.apply(in.data(), out.data());
        transform.apply(out.data(), back.data());
        for (std::size_t k = 0; k < size; ++k) REQUIRE(std::abs(back[k] - in[k]) < 1e-12);
        const double scale = 2 / std::sqrt((rows + 1.0) * (columns + 1.0));
        for (const auto& [l, k] : {std::array{1, 1}, {rows, columns}, {(rows + 1) / 2, columns}, {rows, 2}}) {
            if (k > columns) continue;
            double sum = 0;
            for (int j = 1; j <= rows; ++j)
                for (int i = 1; i <= columns; ++i)
                    sum += std::sin(pi * l * j / (rows + 1)) * std::sin(pi * i * k / (columns + 1)) *
                           in[static_cast<std::size_t>((j - 1) * columns + i - 1)];
            CHECK(out[static_cast<std::size_t>((l - 1) * columns + k - 1)] ==
                  doctest::Approx(scale * sum).epsilon(1e-9));
        }
    }
}

TEST_CASE("Sweeps of the splitting method: the same bits in every build") {
    for (const int count : {1, 3, 4, 96, 127})
        for (const DenseKernels* build : other_builds())
            CHECK(swept(foreslice::flow::portable::kernels, count) == swept(*build, count));
}

TEST_CASE("Velocities from recorded fields: the same bits in every build") {
    for (const int count : {1, 7, 8, 33, FieldBatch::most}) {
        const auto portable = velocities(foreslice::flow::portable::kernels, count);
        for (const DenseKernels* build : other_builds()) CHECK(portable == velocities(*build, count));
        for (const float value : portable) CHECK(std::isfinite(value));
    }
}

TEST_CASE("Velocities near the wire: the same bits in every build, and those of the cubic they stand for") {
    using foreslice::flow::SkinBatch;
    constexpr float radius = 3, skin = 1.4F;
    // psi less the rigid part on the outer edge: cos(angle) + 0.3 sin(2 angle), slope times width half of it.
    // At 64 places a turn the B-spline of a wave is, to 1e-5, the wave over its mean of three neighbours.
    std::array<float, SkinBatch::ring_places + 3> value{}, slope{};
    for (std::size_t k = 0; k < value.size(); ++k) {
        const double angle = 2 * pi * (static_cast<double>(k) - 1) / SkinBatch::ring_places;
        const auto damped = [](int wave) {
            return (2 + std::cos(2 * pi * wave / SkinBatch::ring_places)) / 3;
        };
        const double edge = std::cos(angle) / damped(1) + 0.3 * std::sin(2 * angle) / damped(2);
        value[k] = static_cast<float>(edge);
        slope[k] = static_cast<float>(0.5 * edge);
    }
    const auto run = [&](const DenseKernels& kernels, std::vector<float> x, std::vector<float> y) {
        std::vector<float> out(2 * x.size());
        SkinBatch batch;
        batch.count = static_cast<int>(x.size());
        batch.x = x.data();
        batch.y = y.data();
        batch.u = out.data();
        batch.v = out.data() + x.size();
        batch.value = value.data();
        batch.slope = slope.data();
        batch.radius = radius;
        batch.skin = skin;
        batch.direction_x = 0.6F;
        batch.direction_y = -0.8F;
        kernels.skin_velocities(batch);
        return out;
    };
    std::vector<float> x, y;
    for (int k = 0; k < 41; ++k) {
        const double angle = 0.17 + 0.153 * k, r = 3.001 + 0.034 * k;
        x.push_back(static_cast<float>(r * std::cos(angle)));
        y.push_back(static_cast<float>(r * std::sin(angle)));
    }
    const auto got = run(foreslice::flow::portable::kernels, x, y);
    for (const DenseKernels* build : other_builds()) CHECK(got == run(*build, x, y));
    // psi = edge(angle) (h1 + h2 / 2) with the two cubics of h, differentiated by hand.
    for (std::size_t k = 0; k < x.size(); ++k) {
        const double r = std::hypot(x[k], y[k]), angle = std::atan2(y[k], x[k]), h = (r - radius) / skin;
        const double edge = std::cos(angle) + 0.3 * std::sin(2 * angle);
        const double turn = -std::sin(angle) + 0.6 * std::cos(2 * angle);
        const double shape = h * h * (3 - 2 * h) + 0.5 * h * h * (h - 1);
        const double rate = (6 * h * (1 - h) + 0.5 * h * (3 * h - 2)) / skin;
        const double outward = turn * shape / r, around = -edge * rate;
        CHECK(got[k] ==
              doctest::Approx(0.6 + outward * std::cos(angle) - around * std::sin(angle)).epsilon(1e-4));
        CHECK(got[k + x.size()] ==
              doctest::Approx(-0.8 + outward * std::sin(angle) + around * std::cos(angle)).epsilon(1e-4));
    }
}
