// The problems that are timed.
#pragma once

#include <string>

#include "io/case/read_case.h"

namespace tabmelt::bench {

// A case from the folder cases/.
Case shipped_case(const std::string& name);

// The three-code benchmark with the shipped copper, nickel and steel, whose properties depend on
// temperature and which melt, under five times the current.
Problem melting_benchmark();

// The shipped trimmer-negative with about so many cells.
Problem weld_of_size(std::size_t cells);

}  // namespace tabmelt::bench
