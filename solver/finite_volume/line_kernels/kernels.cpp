#include "solver/finite_volume/line_kernels/kernels.h"

namespace tabmelt::line_kernels {

extern const Kernels plain;
#ifdef TABMELT_WIDE_KERNELS
extern const Kernels wide;
#endif

const Kernels& kernels() {
#ifdef TABMELT_WIDE_KERNELS
  static const Kernels& best =
      __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma") ? wide : plain;
  return best;
#else
  return plain;
#endif
}

const Kernels& plain_kernels() { return plain; }

}  // namespace tabmelt::line_kernels
