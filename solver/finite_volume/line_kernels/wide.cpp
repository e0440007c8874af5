// For processors with vector registers of 256 bits (CMakeLists.txt of solver/ sets the compiler
// flags).
#define TABMELT_KERNEL_SET wide
#include "solver/finite_volume/line_kernels/body.h"
