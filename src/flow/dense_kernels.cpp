#include "flow/dense_kernels.h"

namespace foreslice::flow {
namespace portable {
extern const DenseKernels kernels;
}
#if defined(FORESLICE_X86_BUILDS)
namespace avx2 {
extern const DenseKernels kernels;
}
namespace avx512 {
extern const DenseKernels kernels;
}
#endif

namespace {

const DenseKernels& best_for_this_machine() {
#if defined(FORESLICE_X86_BUILDS)
    if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512vl") &&
        __builtin_cpu_supports("avx512dq") && __builtin_cpu_supports("avx512bw"))
        return avx512::kernels;
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
