// What a run will take, told before anything of it is computed.
//
// Cells are counted; memory and time are rough, from these measures of the program on one core of
// 2020 (within a factor of three for the demo cases):
//
//   memory   800 bytes per cell, 10 bytes per cell of each frame, which is packed
//   time     0.4 us per cell and step; 400 steps, 60 for each switching, and those that
//            numerics.longest_step asks for
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "solver/problem/problem.h"

namespace tabmelt {

struct Cost {
  std::size_t cells = 0;
  double memory = 0;  // [byte]
  double time = 0;    // [s]
};

// The largest run that is begun.
inline constexpr std::size_t most_cells = 4'000'000;
inline constexpr double most_time = 86400;  // [s]

// Of a problem without complaints().
Cost cost_of(const Problem&);

// What is too large about it, in words that begin with the keys to change; empty: it may begin.
// `machine_memory` [byte]: what there is; 0: unknown.
std::vector<std::string> cost_complaints(const Problem&, double machine_memory);
// The same on this machine.
std::vector<std::string> cost_complaints(const Problem&);

}  // namespace tabmelt
