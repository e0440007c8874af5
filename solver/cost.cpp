#include "solver/cost.h"

#include <unistd.h>

#include <sstream>

#include "solver/coupling/weld_model.h"

namespace tabmelt {
namespace {

constexpr double bytes_per_cell = 800, bytes_per_frame_cell = 10;
constexpr double seconds_per_cell_step = 4e-7;
constexpr double steps_of_a_pulse = 400, steps_of_a_switching = 60;

std::string rounded(double value) {
  std::ostringstream text;
  text.precision(2);
  text << value;
  return text.str();
}

double machine_memory() {
  const long pages = ::sysconf(_SC_PHYS_PAGES), bytes = ::sysconf(_SC_PAGE_SIZE);
  return pages > 0 && bytes > 0 ? static_cast<double>(pages) * static_cast<double>(bytes) : 0;
}

double steps_of(const Problem& p) {
  const Numerics& n = p.numerics;
  const double run = n.end_time.value_or(0);
  return steps_of_a_pulse +
         2 * steps_of_a_switching * static_cast<double>(p.circuit.power_switch.train.size()) +
         run / n.longest_step;
}

}  // namespace

Cost cost_of(const Problem& p) {
  const GridSize grid = grid_size(p);
  Cost cost;
  cost.cells = grid.nr * grid.nz;
  const auto cells = static_cast<double>(cost.cells);
  cost.memory = cells * (bytes_per_cell + bytes_per_frame_cell * 2 * p.numerics.frames);
  cost.time = seconds_per_cell_step * cells * steps_of(p);
  return cost;
}

std::vector<std::string> cost_complaints(const Problem& p, double memory) {
  const Cost cost = cost_of(p);
  std::vector<std::string> list;
  const std::string cells = rounded(static_cast<double>(cost.cells) * 1e-6) + " million cells";
  if (cost.cells > most_cells)
    list.push_back("numerics.resolution: the grid would have " + cells + "; allowed are at most " +
                   rounded(static_cast<double>(most_cells) * 1e-6) + " million");
  if (memory > 0 && cost.memory > memory)
    list.push_back("numerics.frames, numerics.resolution: " + cells + " and " +
                   std::to_string(p.numerics.frames) + " frames would need about " +
                   rounded(cost.memory * 1e-9) + " GB of memory; this machine has " +
                   rounded(memory * 1e-9));
  if (cost.time > most_time)
    list.push_back(
        "numerics.resolution, numerics.longest_step, switch.pulses: the run would take "
        "about " +
        rounded(cost.time / 3600) + " hours; allowed are at most " + rounded(most_time / 3600));
  return list;
}

std::vector<std::string> cost_complaints(const Problem& p) {
  return cost_complaints(p, machine_memory());
}

}  // namespace tabmelt
