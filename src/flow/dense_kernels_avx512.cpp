#include "flow/dense_kernels.h"

namespace foreslice::flow::avx512 {

#define WIDE_LANES  // of 64 bytes
#include "flow/dense_kernels.inl"

extern const DenseKernels kernels;
const DenseKernels kernels{multiply_double, multiply_float, split_sweep, field_velocities, skin_velocities};

}  // namespace foreslice::flow::avx512
