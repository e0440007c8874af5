// What every report says whatever came out: the limits of the model, and cautions.
#pragma once

#include "io/report/document.h"
#include "solver/problem/problem.h"

namespace tabmelt::report {

Section limits_of_the_model(const Problem&);
Section cautions();

}  // namespace tabmelt::report
