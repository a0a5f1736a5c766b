#include "flow/dense_kernels.h"

namespace foreslice::flow {
namespace portable {
extern const DenseKernels kernels;
}
#if defined(FORESLICE_AVX2_BUILT)
namespace avx2 {
extern const DenseKernels kernels;
}
#endif

namespace {

const DenseKernels& best_for_this_machine() {
#if defined(FORESLICE_AVX2_BUILT)
    if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")) return avx2::kernels;
#endif
    return portable::kernels;
}

}  // namespace

const DenseKernels& dense_kernels() {
    static const DenseKernels& chosen = best_for_this_machine();
    return chosen;
}

}  // namespace foreslice::flow
