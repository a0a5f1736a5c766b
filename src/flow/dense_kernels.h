// The few loops that the flow's time is spent in, compiled for any processor and again for AVX2 and AVX-512,
// and chosen at start. Every sum runs in the same order in all, and contraction is off, so they give the same
// bits.
#pragma once

namespace foreslice::flow {

/// One row of cells, one corner: a sweep of the splitting method (viscoplastic.h has the derivation).
struct SplitSweep {
    int count = 0;
    const double* cell_strain = nullptr;  ///< 2 psi_xy at the cells
    const double* node_strain = nullptr;  ///< psi_yy - psi_xx at this corner of each cell
    double* cell_state = nullptr;         ///< in, out: v, its cell component
    double* node_state = nullptr;         ///< in, out: v, its node component
    double* ratio = nullptr;              ///< in, out: |q| / |v|
    double* cell_rhs = nullptr;           ///< out: z = q - stress / penalty
    double* node_rhs = nullptr;
    double penalty = 1;            ///< r, Pa s
    double relaxation = 1;         ///< 0..2
    double yield_stress = 0;       ///< Pa
    const float* table = nullptr;  ///< |q| / x against t, table_size + 2 entries
    double table_size = 0;
    double table_width = 1;       ///< t = x / (x + width), x = |v| - yield stress, Pa
    double squared_residual = 0;  ///< out: adds |strain - q|^2
    double squared_strain = 0;    ///< out: adds |strain|^2
};

/// Velocities at many points from two recorded spline fields, each moved along with the wire (leg_flow.h).
struct FieldBatch {
    static constexpr int most = 64;
    int count = 0;
    const float* x = nullptr;  ///< mm, inside the box
    const float* y = nullptr;
    float* u = nullptr;  ///< out, per unit of wire travel
    float* v = nullptr;
    const float* field[2] = {nullptr, nullptr};  ///< spline coefficients, rows of `stride`
    float share[2] = {0, 0};
    float shift_x[2] = {0, 0}, shift_y[2] = {0, 0};  ///< how far each field is moved at the wire, mm
    float inverse_low_x = 0, inverse_high_x = 0;     ///< 1 / width of the zones in which the move fades out
    float inverse_low_y = 0, inverse_high_y = 0;
    float width = 0, height = 0;  ///< of the box, mm
    float per_hx = 0, per_hy = 0;
    int stride = 0, nx = 0, ny = 0;
};

/// Velocities at points in the thin layer round the wire that the grid does not resolve (leg_flow.h).
struct SkinBatch {
    static constexpr int ring_places = 64, most = FieldBatch::most;
    int count = 0;
    const float* x = nullptr;  ///< from the wire's centre, mm; outside the wire
    const float* y = nullptr;
    float* u = nullptr;  ///< out, per unit of wire travel
    float* v = nullptr;
    /// On the layer's outer edge, periodic cubic B-spline coefficients over the angle (ring_places + 3 each):
    /// psi less the rigid part, and its outward slope times the layer's width.
    const float* value = nullptr;
    const float* slope = nullptr;
    float radius = 0, skin = 0;  ///< of the wire; of the layer, mm
    float direction_x = 0, direction_y = 0;
};

struct DenseKernels {
    /// c (m x n) = a (m x k) * b (k x n); all row-major and dense; c must not overlap a or b.
    void (*multiply)(const double* a, const double* b, double* c, int m, int k, int n);
    void (*multiply_float)(const float* a, const float* b, float* c, int m, int k, int n);
    void (*split_sweep)(SplitSweep& sweep);
    void (*field_velocities)(const FieldBatch& batch);
    void (*skin_velocities)(const SkinBatch& batch);
};

const DenseKernels& dense_kernels();

/// DenseKernels::multiply for either kind of number.
inline void multiply(const double* a, const double* b, double* c, int m, int k, int n) {
    dense_kernels().multiply(a, b, c, m, k, n);
}
inline void multiply(const float* a, const float* b, float* c, int m, int k, int n) {
    dense_kernels().multiply_float(a, b, c, m, k, n);
}

}  // namespace foreslice::flow
