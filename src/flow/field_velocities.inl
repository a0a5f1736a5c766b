// Velocities from two recorded fields, included by dense_kernels.inl.

// Cubic B-splines at a share of the way between two nodes, and their slopes: coefficients of 1, t, t^2, t^3.
// The order of the sums is written out, since all builds must give the same bits.
#define SPLINE_VALUES(t)                                                                                   \
    (FOUR(1, 4, 1, 0) * sixth +                                                                            \
     (t) * (FOUR(-0.5F, 0, 0.5F, 0) + (t) * (FOUR(0.5F, -1, 0.5F, 0) + (t) * (FOUR(-1, 3, -3, 1) * sixth))))
#define SPLINE_SLOPES(t) \
    (FOUR(-0.5F, 0, 0.5F, 0) + (t) * (FOUR(1, -2, 1, 0) + (t) * FOUR(-0.5F, 1.5F, -1.5F, 0.5F)))

// Adds to u and v of two points what a record gives there. `at`: the first of the 4 x 4 coefficients; `t`,
// `s`: shares of the way across and up their cells; `by_u`, `by_v`: factors. A row of four coefficients is
// read at once: much quicker than gathering them one by one for many points. Four of `t` and `s` are read.
#if defined(__GNUC__)
typedef float TwoLanes __attribute__((vector_size(8), aligned(4), may_alias));
typedef float FourLanes __attribute__((vector_size(16), aligned(4), may_alias));
typedef float EightLanes __attribute__((vector_size(32)));
#define FOUR(a, b, c, d) (EightLanes{a, b, c, d, a, b, c, d})
#define LANES_OF(from, a, b, c, d) \
    __builtin_shufflevector(from, from, a, b, c, d, 4 + (a), 4 + (b), 4 + (c), 4 + (d))
#define TWICE_FOUR(from)                                                                 \
    __builtin_shufflevector(*reinterpret_cast<const FourLanes*>(from),                   \
                            *reinterpret_cast<const FourLanes*>(from), 0, 0, 0, 0, 1, 1, 1, 1)
#define ROWS_AT(q)                                                                                    \
    __builtin_shufflevector(*reinterpret_cast<const FourLanes*>(field + at[0] + (q) * stride),       \
                            *reinterpret_cast<const FourLanes*>(field + at[1] + (q) * stride), 0, 1, \
                            2, 3, 4, 5, 6, 7)

static void add_field_at_two(const float* field, const int* at, int stride, const float* ts, const float* ss,
                      const float* by_u, const float* by_v, float* u, float* v) {
    constexpr float sixth = 1.0F / 6;
    const EightLanes t = TWICE_FOUR(ts), s = TWICE_FOUR(ss);
    const EightLanes up = SPLINE_VALUES(s), up_slope = SPLINE_SLOPES(s);
    const EightLanes row0 = ROWS_AT(0), row1 = ROWS_AT(1), row2 = ROWS_AT(2), row3 = ROWS_AT(3);
    const EightLanes by_y = (LANES_OF(up_slope, 0, 0, 0, 0) * row0 + LANES_OF(up_slope, 1, 1, 1, 1) * row1) +
                            (LANES_OF(up_slope, 2, 2, 2, 2) * row2 + LANES_OF(up_slope, 3, 3, 3, 3) * row3);
    const EightLanes value = (LANES_OF(up, 0, 0, 0, 0) * row0 + LANES_OF(up, 1, 1, 1, 1) * row1) +
                             (LANES_OF(up, 2, 2, 2, 2) * row2 + LANES_OF(up, 3, 3, 3, 3) * row3);
    const EightLanes for_u = by_y * SPLINE_VALUES(t), for_v = value * SPLINE_SLOPES(t);
    // The four lanes of each point, as (0 + 1) + (2 + 3), those of u and v side by side.
    const EightLanes halves = __builtin_shufflevector(for_u, for_v, 0, 2, 8, 10, 4, 6, 12, 14) +
                              __builtin_shufflevector(for_u, for_v, 1, 3, 9, 11, 5, 7, 13, 15);
    const EightLanes sums = halves + LANES_OF(halves, 1, 0, 3, 2);
    *reinterpret_cast<TwoLanes*>(u) +=
        *reinterpret_cast<const TwoLanes*>(by_u) * __builtin_shufflevector(sums, sums, 0, 4);
    *reinterpret_cast<TwoLanes*>(v) -=
        *reinterpret_cast<const TwoLanes*>(by_v) * __builtin_shufflevector(sums, sums, 2, 6);
}
#undef FOUR
#undef TWICE_FOUR
#undef LANES_OF
#undef ROWS_AT
#else
static void add_field_at_two(const float* field, const int* at, int stride, const float* ts, const float* ss,
                      const float* by_u, const float* by_v, float* u, float* v) {
    constexpr float sixth = 1.0F / 6;
    for (int k = 0; k < 2; ++k) {
        float up[4], up_slope[4], across[4], across_slope[4];
        for (int q = 0; q < 4; ++q) {
#define FOUR(a, b, c, d) (q == 0 ? (a) : q == 1 ? (b) : q == 2 ? (c) : (d))
            up[q] = SPLINE_VALUES(ss[k]);
            up_slope[q] = SPLINE_SLOPES(ss[k]);
            across[q] = SPLINE_VALUES(ts[k]);
            across_slope[q] = SPLINE_SLOPES(ts[k]);
#undef FOUR
        }
        float for_u[4], for_v[4];
        for (int p = 0; p < 4; ++p) {
            const float* c = field + at[k] + p;
            for_u[p] = across[p] * ((up_slope[0] * c[0] + up_slope[1] * c[stride]) +
                                    (up_slope[2] * c[2 * stride] + up_slope[3] * c[3 * stride]));
            for_v[p] = across_slope[p] * ((up[0] * c[0] + up[1] * c[stride]) +
                                          (up[2] * c[2 * stride] + up[3] * c[3 * stride]));
        }
        u[k] += by_u[k] * ((for_u[0] + for_u[1]) + (for_u[2] + for_u[3]));
        v[k] -= by_v[k] * ((for_v[0] + for_v[1]) + (for_v[2] + for_v[3]));
    }
}
#endif

void field_velocities(const FieldBatch& batch) {
    const float* __restrict xs = batch.x;
    const float* __restrict ys = batch.y;
    const int count = batch.count, stride = batch.stride;
    const float width = batch.width, height = batch.height, per_hx = batch.per_hx, per_hy = batch.per_hy;
    const float low_x = batch.inverse_low_x, high_x = batch.inverse_high_x;
    const float low_y = batch.inverse_low_y, high_y = batch.inverse_high_y;
    const float last_x = static_cast<float>(batch.nx) - 1e-3F, last_y = static_cast<float>(batch.ny) - 1e-3F;
    constexpr int room = FieldBatch::most + 4;  // points go in pairs, and four are read at a time
    float u[room], v[room], ts[room], ss[room], by_u[room], by_v[room];
    float move_x[room], move_y[room], turn_x[room], turn_y[room];  // how much of a field's move, and its slope
    int at[room];
    INDEPENDENT
    for (int k = 0; k < count; ++k) {
        FADE(xs[k], width, low_x, high_x, fade_x, rate_x)
        FADE(ys[k], height, low_y, high_y, fade_y, rate_y)
        move_x[k] = fade_x;
        move_y[k] = fade_y;
        turn_x[k] = rate_x;
        turn_y[k] = rate_y;
    }
    for (int k = 0; k < count + 2; ++k) u[k] = v[k] = 0;
    for (int record = 0; record < 2; ++record) {
        const float share = batch.share[record];
        if (share == 0) continue;
        const float shift_x = batch.shift_x[record], shift_y = batch.shift_y[record];
        INDEPENDENT
        for (int k = 0; k < count; ++k) {
            float fx = (xs[k] - shift_x * move_x[k]) * per_hx;
            float fy = (ys[k] - shift_y * move_y[k]) * per_hy;
            fx = fx < last_x ? fx : last_x;
            fy = fy < last_y ? fy : last_y;
            fx = fx > 0 ? fx : 0;
            fy = fy > 0 ? fy : 0;
            const int i = static_cast<int>(fx), j = static_cast<int>(fy);
            ts[k] = fx - static_cast<float>(i);
            ss[k] = fy - static_cast<float>(j);
            at[k] = j * stride + i;
            by_u[k] = share * per_hy * (1 - shift_y * turn_y[k]);
            by_v[k] = share * per_hx * (1 - shift_x * turn_x[k]);
        }
        for (int k = count; k < count + 4; ++k) ts[k] = ss[k] = by_u[k] = by_v[k] = 0;
        at[count] = 0;
        for (int k = 0; k < count; k += 2)
            add_field_at_two(batch.field[record], at + k, stride, ts + k, ss + k, by_u + k, by_v + k, u + k,
                             v + k);
    }
    for (int k = 0; k < count; ++k) batch.u[k] = u[k];
    for (int k = 0; k < count; ++k) batch.v[k] = v[k];
}
