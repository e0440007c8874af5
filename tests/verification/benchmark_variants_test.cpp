// The weld that three codes agree on, made harder: metals that melt, a bank of capacitors in place
// of a prescribed current, and both. On the default grid and steps against the program's own answer
// on cells three times smaller; that it goes to the right answer is shown by
// three_code_benchmark.cpp for the plain weld, by melting.cpp and by peak_current.cpp for what is
// added here. Catches: a default grid or step too coarse where a melting front or a ringing loop is
// to be seen.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "solver/solve.h"
#include "solver/study/refinement.h"
#include "tests/verification/weld_problem.h"

namespace tabmelt {
namespace {

// Round figures near copper, nickel and steel.
void let_melt(Problem& p) {
  const auto melting = [](MaterialPtr& metal, Melting how) {
    auto own = std::make_shared<Material>(*metal);
    own->melting = how;
    metal = own;
  };
  melting(p.electrode.material, {1350, 1360, 205e3});
  melting(p.top().material, {1708, 1728, 298e3});
  melting(p.base().material, {1750, 1800, 270e3});
}

// 0.8 F at 4.4 V through 1.2 mohm and 1 uH besides the weld's 1.3 mohm.
void feed_from_bank(Problem& p) {
  circuit::CapacitorBank bank;
  bank.part_capacitance = 0.8;
  bank.part_esr = 1.2e-3;
  bank.charge_voltage = 4.4;
  p.circuit.source = bank;
  p.circuit.leads.resistance = 0;
  p.circuit.leads.inductance = 1e-6;
  p.circuit.leads.cross_section = 25e-6;
  p.circuit.leads.length = 0.3;
}

// Largest error of a probe at ten moments, where it has risen by more than 20 K [1] of its rise.
double worst_error(const Result& own, const Result& fine, const Problem& p) {
  double worst = 0;
  int compared = 0;
  for (std::size_t k = 0; k < p.probes.size(); ++k) {
    const ProbeCurve coarse_probe(own, k), fine_probe(fine, k);
    for (double time = 0.5e-3; time < 5.01e-3; time += 0.5e-3) {
      const double T = coarse_probe(time), exact = fine_probe(time);
      const double rise = exact - p.boundary.ambient;
      if (rise < 20) continue;
      ++compared;
      worst = std::max(worst, std::abs(T - exact) / rise);
    }
  }
  EXPECT_GE(compared, 20);
  return worst;
}

void expect_small_errors(const Problem& p) {
  const Result fine = solve(refined(p, 3));
  ASSERT_EQ(fine.ending, Ending::finished);
  EXPECT_LT(worst_error(solve(p), fine, p), 0.01);
}

TEST(BenchmarkVariants, with_melting) {
  Problem p = three_code_problem();
  let_melt(p);
  p.circuit.source = circuit::ExponentialCurrent{2700, 1.5e-3};
  EXPECT_GT(solve(p).peak_top.value, 1728) << "nickel has to melt";
  expect_small_errors(p);
}

TEST(BenchmarkVariants, fed_from_a_bank) {
  Problem p = three_code_problem();
  feed_from_bank(p);
  expect_small_errors(p);
}

TEST(BenchmarkVariants, with_melting_fed_from_a_bank) {
  Problem p = three_code_problem();
  let_melt(p);
  feed_from_bank(p);
  std::get<circuit::CapacitorBank>(p.circuit.source).charge_voltage = 7.5;
  EXPECT_GT(solve(p).peak_top.value, 1728) << "nickel has to melt";
  expect_small_errors(p);
}

}  // namespace
}  // namespace tabmelt
