// The bodies, included by dense_kernels_portable.cpp, dense_kernels_avx2.cpp and dense_kernels_avx512.cpp inside a
// namespace of each. Plain loops only: a shared inline function or template would be merged by the linker across
// the builds.

// Tells the compiler that the gathered reads do not overlap the writes (restrict alone does not reach gathers).
#if defined(__clang__)
#define INDEPENDENT _Pragma("clang loop vectorize(assume_safety)")
#elif defined(__GNUC__)
#define INDEPENDENT _Pragma("GCC ivdep")
#else
#define INDEPENDENT
#endif

#define JOINED_AGAIN(name, type) name##_##type
#define JOINED(name, type) JOINED_AGAIN(name, type)
#define SCALAR double
#define LANES 8
#include "flow/dense_multiply.inl"
#undef SCALAR
#undef LANES
#define SCALAR float
#define LANES 16
#include "flow/dense_multiply.inl"
#undef SCALAR
#undef LANES
#undef JOINED
#undef JOINED_AGAIN

// What the state is and how far it is from balance stays in 64 bits; the local law, which ends in a table, is
// worked out in 32. Sums go in eight lanes, which add up in one order everywhere.
void split_sweep(SplitSweep& sweep) {
    constexpr int chunk = 128, lanes = 8;
    const double penalty = sweep.penalty, step = sweep.relaxation * sweep.penalty, yield = sweep.yield_stress;
    const double inverse = 1.0 / sweep.penalty;
    const float table_size = static_cast<float>(sweep.table_size), width = static_cast<float>(sweep.table_width);
    const float* __restrict table = sweep.table;
    double residual[lanes] = {}, strain[lanes] = {};
    for (int from = 0; from < sweep.count; from += chunk) {
        const int count = sweep.count - from < chunk ? sweep.count - from : chunk;
        const double* __restrict ec = sweep.cell_strain + from;
        const double* __restrict en = sweep.node_strain + from;
        double* __restrict vc = sweep.cell_state + from;
        double* __restrict vn = sweep.node_state + from;
        double* __restrict ratio = sweep.ratio + from;
        double* __restrict zc = sweep.cell_rhs + from;
        double* __restrict zn = sweep.node_rhs + from;
        double off[chunk], all[chunk];
        float size[chunk], over[chunk], new_ratio[chunk];
        INDEPENDENT
        for (int i = 0; i < count; ++i) {
            const double rc = ec[i] - ratio[i] * vc[i];
            const double rn = en[i] - ratio[i] * vn[i];
            off[i] = rc * rc + rn * rn;
            all[i] = ec[i] * ec[i] + en[i] * en[i];
            vc[i] += step * rc;
            vn[i] += step * rn;
            const double size_v = __builtin_sqrt(vc[i] * vc[i] + vn[i] * vn[i]);
            size[i] = static_cast<float>(size_v);
            over[i] = static_cast<float>(size_v > yield ? size_v - yield : 0);
        }
        for (int i = count; i < (count + lanes - 1) / lanes * lanes; ++i) off[i] = all[i] = 0;
        for (int i = 0; i < count; i += lanes)
            for (int lane = 0; lane < lanes; ++lane) residual[lane] += off[i + lane];
        for (int i = 0; i < count; i += lanes)
            for (int lane = 0; lane < lanes; ++lane) strain[lane] += all[i + lane];
        INDEPENDENT
        for (int i = 0; i < count; ++i) {
            const float x = over[i], whole = size[i] + 1e-20F;
            const float per_both = 1 / ((x + width) * whole);  // one division for x / (x + width) and x / |v|
            const float t = x * whole * per_both * table_size;
            const int index = static_cast<int>(t);
            const float part = t - static_cast<float>(index);
            const float q_over_x = table[index] + part * (table[index + 1] - table[index]);
            new_ratio[i] = q_over_x * (x * (x + width) * per_both);
        }
        INDEPENDENT
        for (int i = 0; i < count; ++i) {
            ratio[i] = static_cast<double>(new_ratio[i]);
            const double z = (2 * penalty * ratio[i] - 1) * inverse;
            zc[i] = z * vc[i];
            zn[i] = z * vn[i];
        }
    }
    for (int lane = 0; lane < lanes; ++lane) sweep.squared_residual += residual[lane];
    for (int lane = 0; lane < lanes; ++lane) sweep.squared_strain += strain[lane];
}

// NOLINTBEGIN(bugprone-macro-parentheses): it declares what it is given the names of
// Smooth fade 1 -> 0 towards the two ends of a side, and its derivative, from the two zone coordinates.
#define FADE(coordinate, extent, inverse_low, inverse_high, fade, rate)                          \
    float low_##fade = (coordinate) * (inverse_low);                                              \
    float high_##fade = ((extent) - (coordinate)) * (inverse_high);                               \
    low_##fade = low_##fade < 1 ? low_##fade : 1;                                                 \
    high_##fade = high_##fade < 1 ? high_##fade : 1;                                              \
    low_##fade = low_##fade > 0 ? low_##fade : 0;                                                 \
    high_##fade = high_##fade > 0 ? high_##fade : 0;                                              \
    const float fade = low_##fade * low_##fade * (3 - 2 * low_##fade) * high_##fade * high_##fade * \
                       (3 - 2 * high_##fade);                                                     \
    const float rate = 6 * low_##fade * (1 - low_##fade) * (inverse_low) -                        \
                       6 * high_##fade * (1 - high_##fade) * (inverse_high);
// NOLINTEND(bugprone-macro-parentheses)

#include "flow/field_velocities.inl"

// What the two periodic splines of a skin's edge, and their slopes, are at a share `t` of the way from the second
// to the third of four coefficients each; sums as (0 + 1) + (2 + 3).
struct OnEdge {
    float value, value_turn, slope, slope_turn;
};
static inline OnEdge on_edge(const float* value, const float* slope, float t) {
    constexpr float sixth = 1.0F / 6;
#if defined(__GNUC__)
    typedef float Four __attribute__((vector_size(16), aligned(4), may_alias));
    typedef float Eight __attribute__((vector_size(32)));
    const Eight both =
        __builtin_shufflevector(*reinterpret_cast<const Four*>(value), *reinterpret_cast<const Four*>(slope), 0,
                                1, 2, 3, 4, 5, 6, 7);
#define FOUR(a, b, c, d) (Eight{a, b, c, d, a, b, c, d})
    const Eight sums = both * SPLINE_VALUES(t), turns = both * SPLINE_SLOPES(t);
#undef FOUR
    const Eight halves = __builtin_shufflevector(sums, turns, 0, 2, 8, 10, 4, 6, 12, 14) +
                         __builtin_shufflevector(sums, turns, 1, 3, 9, 11, 5, 7, 13, 15);
    return {halves[0] + halves[1], halves[2] + halves[3], halves[4] + halves[5], halves[6] + halves[7]};
#else
    float sums[4], turns[4], slope_sums[4], slope_turns[4];
    for (int q = 0; q < 4; ++q) {
#define FOUR(a, b, c, d) (q == 0 ? (a) : q == 1 ? (b) : q == 2 ? (c) : (d))
        sums[q] = value[q] * SPLINE_VALUES(t);
        turns[q] = value[q] * SPLINE_SLOPES(t);
        slope_sums[q] = slope[q] * SPLINE_VALUES(t);
        slope_turns[q] = slope[q] * SPLINE_SLOPES(t);
#undef FOUR
    }
    return {(sums[0] + sums[1]) + (sums[2] + sums[3]), (turns[0] + turns[1]) + (turns[2] + turns[3]),
            (slope_sums[0] + slope_sums[1]) + (slope_sums[2] + slope_sums[3]),
            (slope_turns[0] + slope_turns[1]) + (slope_turns[2] + slope_turns[3])};
#endif
}

// Between the wire's surface (r = a) and the circle where the grid takes over, psi less the rigid motion is,
// along each ray, the cubic that is zero with zero slope on the wire and meets the grid's value and slope. So
// the wire's surface is a streamline and no batter ever enters the wire, whatever the grid. The angle's arc
// tangent is its Chebyshev polynomial of degree 15 on an eighth of a turn (error 8e-8).
void skin_velocities(const SkinBatch& batch) {
    const float* __restrict xs = batch.x;
    const float* __restrict ys = batch.y;
    float* __restrict us = batch.u;
    float* __restrict vs = batch.v;
    const float* __restrict value = batch.value;
    const float* __restrict slope = batch.slope;
    const int count = batch.count;
    const float radius = batch.radius, per_skin = 1 / batch.skin;
    const float ux = batch.direction_x, uy = batch.direction_y;
    const float half_pi = 1.57079632679F, per_radian = SkinBatch::ring_places / (4 * half_pi);
    float part[SkinBatch::most], radial_x[SkinBatch::most], radial_y[SkinBatch::most];
    float share[SkinBatch::most], per_distance[SkinBatch::most];
    int at[SkinBatch::most];
    INDEPENDENT
    for (int k = 0; k < count; ++k) {
        const float r = __builtin_sqrtf(xs[k] * xs[k] + ys[k] * ys[k]), per_r = 1 / r;
        const float rx = xs[k] * per_r, ry = ys[k] * per_r;
        const float ax = rx > 0 ? rx : -rx, ay = ry > 0 ? ry : -ry;
        const float z = (ax < ay ? ax : ay) / (ax < ay ? ay : ax), q = z * z;
        float angle = z * (0.999999898F +
                           q * (-0.333319597F +
                                q * (0.199692354F +
                                     q * (-0.14016585F +
                                          q * (0.099060969F +
                                               q * (-0.0593671008F +
                                                    q * (0.0241661895F + q * -0.00466877331F)))))));
        angle = ax < ay ? half_pi - angle : angle;
        angle = rx < 0 ? 2 * half_pi - angle : angle;
        angle = ry < 0 ? 4 * half_pi - angle : angle;
        const float place = angle * per_radian;
        const int whole = static_cast<int>(place);
        at[k] = whole < SkinBatch::ring_places - 1 ? whole : SkinBatch::ring_places - 1;
        part[k] = place - static_cast<float>(at[k]);
        radial_x[k] = rx;
        radial_y[k] = ry;
        per_distance[k] = per_r;
        share[k] = (r - radius) * per_skin;
    }
    OnEdge edge[SkinBatch::most];
    for (int k = 0; k < count; ++k) edge[k] = on_edge(value + at[k], slope + at[k], part[k]);
    INDEPENDENT
    for (int k = 0; k < count; ++k) {
        const float h = share[k], h1 = h * h * (3 - 2 * h), h2 = h * h * (h - 1);
        const float outward =
            (edge[k].value_turn * h1 + edge[k].slope_turn * h2) * per_radian * per_distance[k];
        const float around =
            -(edge[k].value * 6 * h * (1 - h) + edge[k].slope * h * (3 * h - 2)) * per_skin;
        us[k] = ux + outward * radial_x[k] - around * radial_y[k];
        vs[k] = uy + outward * radial_y[k] + around * radial_x[k];
    }
}

#undef FADE
#undef SPLINE_VALUES
#undef SPLINE_SLOPES
#undef INDEPENDENT
