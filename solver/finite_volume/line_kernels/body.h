// The kernels of kernels.h. Compiled once for each kind of processor: the including file names the
// set it builds in TABMELT_KERNEL_SET.
#include "solver/finite_volume/line_kernels/cycle.h"
#include "solver/finite_volume/line_kernels/set_up.h"
#include "solver/finite_volume/line_kernels/vectors.h"

namespace tabmelt::line_kernels {

extern const Kernels TABMELT_KERNEL_SET;
const Kernels TABMELT_KERNEL_SET = {solve_lines<float>,
                                    solve_lines<double>,
                                    restrict_residual,
                                    add_correction,
                                    {multiply<true>, multiply<false>},
                                    factor_even,
                                    factor_odd,
                                    coarsen,
                                    strongest_coupling,
                                    take_pairs,
                                    take_diagonals,
                                    round_to_single,
                                    next_direction,
                                    dot,
                                    reduce,
                                    largest_scaled,
                                    reduce_scaled};

}  // namespace tabmelt::line_kernels
