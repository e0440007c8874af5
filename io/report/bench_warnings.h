// What is dangerous or beyond a rating on the bench, each in one sentence with its reason.
#pragma once

#include <string>
#include <vector>

#include "solver/bench/bench_figures.h"

namespace tabmelt::report {

inline constexpr double harmless_reverse_voltage = 1e-3;  // [V] round-off and what no part feels

// Judged from the case and the figures of its run; none is a reason not to compute it.
std::vector<std::string> bench_warnings(const Problem&, const BenchFigures&);

}  // namespace tabmelt::report
