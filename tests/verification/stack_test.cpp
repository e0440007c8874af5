// More than two sheets: a sheet cut in two and perfectly joined again is the same sheet, and what
// holds for a strip on a can holds for every joint of a stack.
#include <gtest/gtest.h>

#include <cmath>

#include "solver/solve.h"
#include "solver/verdict/verdict.h"
#include "tests/support/near.h"
#include "tests/verification/weld_problem.h"

namespace tabmelt {
namespace {

constexpr double rim = 4e-3;

// A plain rod on a slit strip of 0.2 mm on 0.3 mm, constant properties and contacts.
Problem strip_on_can() {
  Problem p;
  p.name = "stack";
  p.electrode = {conductor(390, 8900, 390, 1.8e-8), 0.75e-3, 0.75e-3, 0, 3e-3};
  p.top() = {"strip", conductor(80, 8900, 460, 9e-8), 0.2e-3, rim, rim, true};
  p.base() = {"can", conductor(60, 7850, 480, 1.4e-7), 0.3e-3, rim, rim, false};
  p.under_tip().fixed = {.area_resistance = 2e-9, .area_conductance = 1e5};
  p.joint(0).fixed = {.area_resistance = 8e-9, .area_conductance = 5e4};
  p.under_tip().radius = p.joint(0).radius = 0.75e-3;
  p.arrangement.spots = 1;
  p.pressing.force = 20;
  p.boundary.ambient = 300;
  p.circuit.source = circuit::TableCurrent{{0, 1}, {600, 600}};
  p.numerics.end_time = 2e-3;
  return p;
}

// The upper strip as two halves that touch almost everywhere without resistance.
Problem cut_in_two() {
  Problem p = strip_on_can();
  p.top().thickness *= 0.5;
  p.sheets.insert(p.sheets.begin() + 1, p.top());
  p.sheets[0].name = "upper half";
  p.sheets[1].name = "lower half";
  Contact perfect;
  perfect.radius = 0.98 * rim;
  perfect.fixed = {.area_resistance = 1e-16, .area_conductance = 1e12};
  p.contacts.insert(p.contacts.begin() + 1, perfect);
  return p;
}

TEST(Stack, a_sheet_cut_in_two_is_the_same_sheet) {
  const Result one = solve(strip_on_can()), two = solve(cut_in_two());
  ASSERT_EQ(one.ending, Ending::finished);
  ASSERT_EQ(two.ending, Ending::finished);
  const StepRecord &a = one.history.back(), &b = two.history.back();
  EXPECT_NEAR_RELATIVE(b.load_resistance, a.load_resistance, 2e-3);
  EXPECT_NEAR_RELATIVE(b.energy_in, a.energy_in, 2e-3);
  EXPECT_NEAR_RELATIVE(b.tip_temperature - 300, a.tip_temperature - 300, 2e-3);
  EXPECT_NEAR_RELATIVE(b.top_temperature - 300, a.top_temperature - 300, 2e-3);
  EXPECT_NEAR_RELATIVE(b.joints.back().temperature - 300, a.joints.back().temperature - 300, 2e-3);
  EXPECT_NEAR_RELATIVE(b.inner_wall_temperature - 300, a.inner_wall_temperature - 300, 2e-3);
  EXPECT_NEAR_RELATIVE(two.ledger.in_sheets(), one.ledger.in_sheets(), 2e-3);
}

TEST(Stack, books_of_three_sheets_close) {
  const Result r = solve(cut_in_two());
  EXPECT_LE(r.worst_energy_residual, 1e-9);
  EXPECT_EQ(r.ledger.contacts.size(), 3u);
  EXPECT_EQ(r.ledger.sheets.size(), 3u);
  EXPECT_LE(std::abs(r.ledger.residual), 1e-9 * r.ledger.from_source);
}

// All of the current crosses each joint of slit strips, so each has its own fixed resistance.
TEST(Stack, every_joint_has_its_resistance) {
  Problem p = cut_in_two();
  p.joint(0).radius = 0.75e-3;
  p.joint(0).fixed = {.area_resistance = 5e-9, .area_conductance = 5e4};
  const StepRecord end = solve(p).history.back();
  const double area = 3.14159265358979 * 0.75e-3 * 0.75e-3;
  ASSERT_EQ(end.spot().contacts.size(), 3u);
  EXPECT_NEAR_RELATIVE(end.base_share, 1, 1e-6);
  // r/A and little above, as the current crowds at the edge of the face; the share of the column in
  // which that edge lies is known to 1e-4 of the area.
  const double resistances[] = {2e-9 / area, 5e-9 / area, 8e-9 / area};
  for (std::size_t n = 0; n < 3; ++n) {
    EXPECT_GE(end.spot().contacts[n].resistance, resistances[n] * (1 - 1e-4)) << n;
    EXPECT_LE(end.spot().contacts[n].resistance, resistances[n] * 1.3) << n;
  }
}

// Each joint is judged for itself, and the weaker one leads.
TEST(Stack, the_weakest_joint_leads) {
  const auto metal = [](double melts) {
    Material m = *conductor(80, 8900, 460, 9e-8);
    m.melting = Melting{melts, melts + 5, 3e5};
    return std::make_shared<const Material>(m);
  };
  Problem p = cut_in_two();
  p.electrode.material = metal(1350);
  p.sheets[0].material = metal(1700);
  p.sheets[1].material = metal(1350);
  p.base().material = metal(1790);
  Result r;
  r.contacts.resize(3);
  r.joints.resize(2);
  r.sheets.resize(3);
  r.ledger.contacts.resize(3);
  r.ledger.sheets.resize(3);
  r.joints[0].nugget.value = r.joints[0].fused_diameter = 0.9e-3;
  r.joints[0].peak.value = 1800;
  r.joints[1].peak.value = 1500;
  const Verdict stuck = judge(p, r);
  EXPECT_EQ(stuck.leading, Outcome::stuck);
  EXPECT_EQ(stuck.findings.front().joint, 1u);
  EXPECT_NE(stuck.sentence.find("lower half on can"), std::string::npos) << stuck.sentence;
  EXPECT_EQ(stuck.nugget_diameter, 0);
  r.joints[1].nugget.value = r.joints[1].fused_diameter = 0.7e-3;
  r.joints[1].peak.value = 1850;
  const Verdict fused = judge(p, r);
  EXPECT_EQ(fused.leading, Outcome::fused);
  EXPECT_DOUBLE_EQ(fused.nugget_diameter, 0.7e-3);
  EXPECT_EQ(fused.findings.front().joint, 1u);
}

}  // namespace
}  // namespace tabmelt
