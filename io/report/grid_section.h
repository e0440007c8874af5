// How far the figures of a run can be trusted as solutions of the equations, which is not how far
// the equations describe a bench.
#pragma once

#include <string>

#include "io/report/document.h"
#include "solver/result/result.h"

namespace tabmelt::report {

// One sentence: all figures within what is promised, or which are not and by how much.
std::string own_error_words(const std::vector<FigureError>&);

Section grid_section(const Result&);

}  // namespace tabmelt::report
