#include "tests/bench/bench_cases.h"

#include <cmath>

#include "solver/coupling/weld_model.h"

namespace tabmelt::bench {

Case shipped_case(const std::string& name) {
  return read_case(std::string(TABMELT_SOURCE_DIR) + "/cases/" + name + "/case.toml");
}

Problem melting_benchmark() {
  Problem p = shipped_case("three-code-benchmark").problem;
  const Problem metals = shipped_case("trimmer-negative").problem;
  p.electrode.material = metals.electrode.material;
  p.top().material = metals.top().material;
  p.base().material = metals.base().material;
  p.circuit.source = circuit::ExponentialCurrent{3000, 1.5e-3};
  p.numerics.end_time = 2e-3;
  return p;
}

Problem weld_of_size(std::size_t cells) {
  Problem p = shipped_case("trimmer-negative").problem;
  p.numerics.resolution = 1;
  for (int n = 0; n < 3; ++n) {
    const auto now = static_cast<double>(build_model(p).grid.cells());
    p.numerics.resolution *= std::sqrt(static_cast<double>(cells) / now);
  }
  return p;
}

}  // namespace tabmelt::bench
