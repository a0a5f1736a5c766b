// The bodies, included by dense_kernels_portable.cpp and dense_kernels_avx2.cpp inside a namespace of each.
// Plain loops only: a shared inline function or template would be merged by the linker across the two builds.

// Tells the compiler that the gathered reads do not overlap the writes (restrict alone does not reach gathers).
#if defined(__clang__)
#define INDEPENDENT _Pragma("clang loop vectorize(assume_safety)")
#elif defined(__GNUC__)
#define INDEPENDENT _Pragma("GCC ivdep")
#else
#define INDEPENDENT
#endif

void multiply_block(const double* a, const double* b, double* c, int k, int n, int rows, int columns) {
    double sum[4][8] = {};
    for (int p = 0; p < k; ++p) {
        const double* brow = b + static_cast<long>(p) * n;
        for (int r = 0; r < rows; ++r) {
            const double factor = a[static_cast<long>(r) * k + p];
            for (int q = 0; q < columns; ++q) sum[r][q] += factor * brow[q];
        }
    }
    for (int r = 0; r < rows; ++r)
        for (int q = 0; q < columns; ++q) c[static_cast<long>(r) * n + q] = sum[r][q];
}

void multiply_full_block(const double* a, const double* b, double* c, int k, int n) {
    double s0[8] = {}, s1[8] = {}, s2[8] = {}, s3[8] = {};
    const double* a1 = a + k;
    const double* a2 = a1 + k;
    const double* a3 = a2 + k;
    for (int p = 0; p < k; ++p, b += n) {
        const double f0 = a[p], f1 = a1[p], f2 = a2[p], f3 = a3[p];
        for (int q = 0; q < 8; ++q) s0[q] += f0 * b[q];
        for (int q = 0; q < 8; ++q) s1[q] += f1 * b[q];
        for (int q = 0; q < 8; ++q) s2[q] += f2 * b[q];
        for (int q = 0; q < 8; ++q) s3[q] += f3 * b[q];
    }
    for (int q = 0; q < 8; ++q) c[q] = s0[q];
    for (int q = 0; q < 8; ++q) c[n + q] = s1[q];
    for (int q = 0; q < 8; ++q) c[2L * n + q] = s2[q];
    for (int q = 0; q < 8; ++q) c[3L * n + q] = s3[q];
}

void multiply(const double* a, const double* b, double* c, int m, int k, int n) {
    for (int i = 0; i < m; i += 4) {
        const int rows = m - i < 4 ? m - i : 4;
        for (int j = 0; j < n; j += 8) {
            const int columns = n - j < 8 ? n - j : 8;
            const double* ablock = a + static_cast<long>(i) * k;
            double* cblock = c + static_cast<long>(i) * n + j;
            if (rows == 4 && columns == 8)
                multiply_full_block(ablock, b + j, cblock, k, n);
            else
                multiply_block(ablock, b + j, cblock, k, n, rows, columns);
        }
    }
}

void split_sweep(SplitSweep& sweep) {
    const int count = sweep.count;
    const double penalty = sweep.penalty, step = sweep.relaxation * sweep.penalty, yield = sweep.yield_stress;
    const double size = sweep.table_size, width = sweep.table_width, inverse = 1.0 / sweep.penalty;
    const double* __restrict table = sweep.table;
    const double* __restrict ec = sweep.cell_strain;
    const double* __restrict en = sweep.node_strain;
    double* __restrict vc = sweep.cell_state;
    double* __restrict vn = sweep.node_state;
    double* __restrict ratio = sweep.ratio;
    double* __restrict zc = sweep.cell_rhs;
    double* __restrict zn = sweep.node_rhs;
    INDEPENDENT
    for (int i = 0; i < count; ++i) {
        const double rc = ec[i] - ratio[i] * vc[i];
        const double rn = en[i] - ratio[i] * vn[i];
        zc[i] = rc * rc + rn * rn;  // borrowed as scratch for the residual, summed in order below
        zn[i] = ec[i] * ec[i] + en[i] * en[i];
        vc[i] += step * rc;
        vn[i] += step * rn;
    }
    double residual = 0, strain = 0;
    for (int i = 0; i < count; ++i) {
        residual += zc[i];
        strain += zn[i];
    }
    sweep.squared_residual += residual;
    sweep.squared_strain += strain;
    INDEPENDENT
    for (int i = 0; i < count; ++i) {
        const double size_v = __builtin_sqrt(vc[i] * vc[i] + vn[i] * vn[i]);
        const double over = size_v - yield;
        const double x = over > 0 ? over : 0;
        const double t = x / (x + width) * size;
        const int index = static_cast<int>(t);
        const double part = t - index;
        const double q_over_x = table[index] + part * (table[index + 1] - table[index]);
        const double new_ratio = q_over_x * x / (size_v + 1e-300);
        ratio[i] = new_ratio;
        const double z = (2 * penalty * new_ratio - 1) * inverse;
        zc[i] = z * vc[i];
        zn[i] = z * vn[i];
    }
}

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

void field_velocities(const FieldBatch& batch) {
    const float* __restrict xs = batch.x;
    const float* __restrict ys = batch.y;
    float* __restrict us = batch.u;
    float* __restrict vs = batch.v;
    const int count = batch.count, stride = batch.stride;
    const float width = batch.width, height = batch.height, per_hx = batch.per_hx, per_hy = batch.per_hy;
    const float low_x = batch.inverse_low_x, high_x = batch.inverse_high_x;
    const float low_y = batch.inverse_low_y, high_y = batch.inverse_high_y;
    const float last_x = static_cast<float>(batch.nx) - 1e-3F, last_y = static_cast<float>(batch.ny) - 1e-3F;
    for (int k = 0; k < count; ++k) us[k] = 0;
    for (int k = 0; k < count; ++k) vs[k] = 0;
    for (int record = 0; record < 2; ++record) {
        const float* __restrict field = batch.field[record];
        const float share = batch.share[record];
        if (share == 0) continue;
        const float shift_x = batch.shift_x[record], shift_y = batch.shift_y[record];
        INDEPENDENT
        for (int k = 0; k < count; ++k) {
            FADE(xs[k], width, low_x, high_x, fade_x, rate_x)
            FADE(ys[k], height, low_y, high_y, fade_y, rate_y)
            float fx = (xs[k] - shift_x * fade_x) * per_hx;
            float fy = (ys[k] - shift_y * fade_y) * per_hy;
            fx = fx < last_x ? fx : last_x;
            fy = fy < last_y ? fy : last_y;
            fx = fx > 0 ? fx : 0;
            fy = fy > 0 ? fy : 0;
            const int i = static_cast<int>(fx), j = static_cast<int>(fy);
            const float t = fx - static_cast<float>(i), s = fy - static_cast<float>(j);
            const float t2 = t * t, t3 = t2 * t, tr = 1 - t, s2 = s * s, s3 = s2 * s, sr = 1 - s;
            const float sixth = 1.0F / 6;
            const float a0 = tr * tr * tr * sixth, a1 = (3 * t3 - 6 * t2 + 4) * sixth;
            const float a2 = (-3 * t3 + 3 * t2 + 3 * t + 1) * sixth, a3 = t3 * sixth;
            const float d0 = -0.5F * tr * tr, d1 = 1.5F * t2 - 2 * t, d2 = -1.5F * t2 + t + 0.5F, d3 = 0.5F * t2;
            const float b0 = sr * sr * sr * sixth, b1 = (3 * s3 - 6 * s2 + 4) * sixth;
            const float b2 = (-3 * s3 + 3 * s2 + 3 * s + 1) * sixth, b3 = s3 * sixth;
            const float e0 = -0.5F * sr * sr, e1 = 1.5F * s2 - 2 * s, e2 = -1.5F * s2 + s + 0.5F, e3 = 0.5F * s2;
            const int at = j * stride + i, at1 = at + stride, at2 = at1 + stride, at3 = at2 + stride;
            const float v0 = a0 * field[at] + a1 * field[at + 1] + a2 * field[at + 2] + a3 * field[at + 3];
            const float v1 = a0 * field[at1] + a1 * field[at1 + 1] + a2 * field[at1 + 2] + a3 * field[at1 + 3];
            const float v2 = a0 * field[at2] + a1 * field[at2 + 1] + a2 * field[at2 + 2] + a3 * field[at2 + 3];
            const float v3 = a0 * field[at3] + a1 * field[at3 + 1] + a2 * field[at3 + 2] + a3 * field[at3 + 3];
            const float g0 = d0 * field[at] + d1 * field[at + 1] + d2 * field[at + 2] + d3 * field[at + 3];
            const float g1 = d0 * field[at1] + d1 * field[at1 + 1] + d2 * field[at1 + 2] + d3 * field[at1 + 3];
            const float g2 = d0 * field[at2] + d1 * field[at2 + 1] + d2 * field[at2 + 2] + d3 * field[at2 + 3];
            const float g3 = d0 * field[at3] + d1 * field[at3 + 1] + d2 * field[at3 + 2] + d3 * field[at3 + 3];
            us[k] += share * per_hy * (e0 * v0 + e1 * v1 + e2 * v2 + e3 * v3) * (1 - shift_y * rate_y);
            vs[k] -= share * per_hx * (b0 * g0 + b1 * g1 + b2 * g2 + b3 * g3) * (1 - shift_x * rate_x);
        }
    }
}

#undef FADE
#undef INDEPENDENT
