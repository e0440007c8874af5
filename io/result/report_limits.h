// What every report says whatever came out: the limits of the model, and cautions.
#pragma once

#include <string>

#include "solver/problem/problem.h"

namespace tabmelt {

std::string limits_of_the_model(const Problem&);
std::string cautions();

}  // namespace tabmelt
