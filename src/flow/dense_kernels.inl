// The bodies, included by dense_kernels_portable.cpp and dense_kernels_avx2.cpp inside a namespace of each.
// Plain loops only: a shared inline function or template would be merged by the linker across the two builds.

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
    for (int i = 0; i < sweep.count; ++i) {
        const double rc = ec[i] - ratio[i] * vc[i];
        const double rn = en[i] - ratio[i] * vn[i];
        zc[i] = rc * rc + rn * rn;  // borrowed as scratch for the residual, summed in order below
        zn[i] = ec[i] * ec[i] + en[i] * en[i];
        vc[i] += step * rc;
        vn[i] += step * rn;
    }
    double residual = 0, strain = 0;
    for (int i = 0; i < sweep.count; ++i) {
        residual += zc[i];
        strain += zn[i];
    }
    sweep.squared_residual += residual;
    sweep.squared_strain += strain;
    for (int i = 0; i < sweep.count; ++i) {
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
