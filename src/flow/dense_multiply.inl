// Dense products, included by dense_kernels.inl once for each SCALAR. LANES columns are summed side by side.

void JOINED(multiply_block, SCALAR)(const SCALAR* a, const SCALAR* b, SCALAR* c, int k, int n, int rows,
                                    int columns) {
    SCALAR sum[4][LANES] = {};
    for (int p = 0; p < k; ++p) {
        const SCALAR* brow = b + static_cast<long>(p) * n;
        for (int r = 0; r < rows; ++r) {
            const SCALAR factor = a[static_cast<long>(r) * k + p];
            for (int q = 0; q < columns; ++q) sum[r][q] += factor * brow[q];
        }
    }
    for (int r = 0; r < rows; ++r)
        for (int q = 0; q < columns; ++q) c[static_cast<long>(r) * n + q] = sum[r][q];
}

#if defined(__GNUC__)
// Left to itself the compiler vectorises over p and spills; these are the same sums with the lanes spelt out.
typedef SCALAR JOINED(Lanes, SCALAR) __attribute__((vector_size(32), aligned(sizeof(SCALAR)), may_alias));

void JOINED(multiply_full_block, SCALAR)(const SCALAR* a, const SCALAR* b, SCALAR* c, int k, int n) {
    typedef JOINED(Lanes, SCALAR) Lanes;
    Lanes s00 = {}, s01 = {}, s10 = {}, s11 = {}, s20 = {}, s21 = {}, s30 = {}, s31 = {};
    const SCALAR* a1 = a + k;
    const SCALAR* a2 = a1 + k;
    const SCALAR* a3 = a2 + k;
    for (int p = 0; p < k; ++p, b += n) {
        const Lanes low = *reinterpret_cast<const Lanes*>(b);
        const Lanes high = *reinterpret_cast<const Lanes*>(b + LANES / 2);
        s00 += a[p] * low;
        s01 += a[p] * high;
        s10 += a1[p] * low;
        s11 += a1[p] * high;
        s20 += a2[p] * low;
        s21 += a2[p] * high;
        s30 += a3[p] * low;
        s31 += a3[p] * high;
    }
    const Lanes sums[4][2] = {{s00, s01}, {s10, s11}, {s20, s21}, {s30, s31}};
    for (int r = 0; r < 4; ++r, c += n) {
        *reinterpret_cast<Lanes*>(c) = sums[r][0];
        *reinterpret_cast<Lanes*>(c + LANES / 2) = sums[r][1];
    }
}

#if defined(WIDE_LANES)
// One register is as wide as the block, so it takes eight rows to keep the adders busy.
typedef SCALAR JOINED(WideLanes, SCALAR) __attribute__((vector_size(64), aligned(sizeof(SCALAR)), may_alias));

void JOINED(multiply_tall_block, SCALAR)(const SCALAR* a, const SCALAR* b, SCALAR* c, int k, int n) {
    typedef JOINED(WideLanes, SCALAR) Lanes;
    Lanes s0 = {}, s1 = {}, s2 = {}, s3 = {}, s4 = {}, s5 = {}, s6 = {}, s7 = {};
    const SCALAR* a4 = a + static_cast<long>(4) * k;
    for (int p = 0; p < k; ++p, b += n) {
        const Lanes row = *reinterpret_cast<const Lanes*>(b);
        s0 += a[p] * row;
        s1 += a[k + p] * row;
        s2 += a[2 * k + p] * row;
        s3 += a[3 * k + p] * row;
        s4 += a4[p] * row;
        s5 += a4[k + p] * row;
        s6 += a4[2 * k + p] * row;
        s7 += a4[3 * k + p] * row;
    }
    const Lanes sums[8] = {s0, s1, s2, s3, s4, s5, s6, s7};
    for (int r = 0; r < 8; ++r, c += n) *reinterpret_cast<Lanes*>(c) = sums[r];
}
#endif
#else
void JOINED(multiply_full_block, SCALAR)(const SCALAR* a, const SCALAR* b, SCALAR* c, int k, int n) {
    JOINED(multiply_block, SCALAR)(a, b, c, k, n, 4, LANES);
}
#endif

void JOINED(multiply, SCALAR)(const SCALAR* a, const SCALAR* b, SCALAR* c, int m, int k, int n) {
    int rows = 4;
    for (int i = 0; i < m; i += rows) {
        rows = m - i < 4 ? m - i : 4;
#if defined(WIDE_LANES) && defined(__GNUC__)
        if (m - i >= 8) rows = 8;
#endif
        for (int j = 0; j < n; j += LANES) {
            const int columns = n - j < LANES ? n - j : LANES;
            const SCALAR* ablock = a + static_cast<long>(i) * k;
            SCALAR* cblock = c + static_cast<long>(i) * n + j;
#if defined(WIDE_LANES) && defined(__GNUC__)
            if (rows == 8 && columns == LANES) {
                JOINED(multiply_tall_block, SCALAR)(ablock, b + j, cblock, k, n);
                continue;
            }
            if (rows == 8) {
                const long half = 4;
                JOINED(multiply_block, SCALAR)(ablock, b + j, cblock, k, n, 4, columns);
                JOINED(multiply_block, SCALAR)(ablock + half * k, b + j, cblock + half * n, k, n, 4, columns);
                continue;
            }
#endif
            if (rows == 4 && columns == LANES)
                JOINED(multiply_full_block, SCALAR)(ablock, b + j, cblock, k, n);
            else
                JOINED(multiply_block, SCALAR)(ablock, b + j, cblock, k, n, rows, columns);
        }
    }
}
