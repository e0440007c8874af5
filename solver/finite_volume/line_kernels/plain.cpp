// For any processor.
#define TABMELT_KERNEL_SET plain
#include "solver/finite_volume/line_kernels/body.h"
