// Every value of a problem as text with all its digits, to compare two problems.
#pragma once

#include <string>

#include "solver/problem/problem.h"

namespace tabmelt::testing {

std::string in_words(const Problem& problem);

}  // namespace tabmelt::testing
