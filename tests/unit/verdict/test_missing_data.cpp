#include <gtest/gtest.h>

#include "synthetic_weld.h"

namespace tabmelt {
namespace {

using namespace synthetic;

TEST(MissingData, empty_problem_and_result_are_judged_without_harm) {
  const Verdict v = judge(Problem{}, Result{});
  EXPECT_FALSE(v.good);
  EXPECT_TRUE(v.findings.empty());
  EXPECT_EQ(v.leading, Outcome::no_bond);
  EXPECT_NE(v.sentence.find("cannot be judged"), std::string::npos);
  EXPECT_FALSE(v.cell_judged);
  EXPECT_TRUE(v.cell_safe);
}

TEST(MissingData, bare_materials_leave_out_what_needs_them) {
  Problem p = nickel_on_can();
  const auto bare = std::make_shared<const Material>();
  p.electrode.material = p.strip.material = p.can.material = bare;
  p.tip_contact.law = p.faying_contact.law = ContactLaw::fixed;
  p.cell_limits.reset();
  Result r = unmelted(2500);
  r.inner_wall_and_layers.clear();
  EXPECT_TRUE(judge(p, r).findings.empty());
  EXPECT_EQ(judge(p, r).shear_strength, 0);
}

TEST(MissingData, without_melting_a_soft_joint_is_at_least_stuck) {
  Problem p = nickel_on_can();
  auto soft = std::make_shared<Material>();
  soft->softening_temperature = 800;
  p.strip.material = p.can.material = soft;
  const Verdict cold = judge(p, unmelted(700));
  EXPECT_EQ(cold.leading, Outcome::no_bond);
  const Verdict warm = judge(p, unmelted(900));
  EXPECT_EQ(warm.leading, Outcome::stuck);
  EXPECT_EQ(find(warm, Outcome::fused), nullptr);
  EXPECT_EQ(find(warm, Outcome::expulsion), nullptr);
  EXPECT_FALSE(warm.good);
}

TEST(MissingData, without_softening_melting_decides) {
  Problem p = nickel_on_can();
  auto melts = std::make_shared<Material>(*p.strip.material);
  melts->softening_temperature.reset();
  p.strip.material = melts;
  const Verdict unmolten = judge(p, unmelted(1500));
  EXPECT_EQ(unmolten.leading, Outcome::no_bond);
  EXPECT_EQ(find(unmolten, Outcome::stuck), nullptr);
  EXPECT_DOUBLE_EQ(find(unmolten, Outcome::no_bond)->limit, 1800);
  EXPECT_TRUE(judge(p, good_weld()).good);
}

TEST(MissingData, works_without_history) {
  Result r = good_weld();
  r.history.clear();
  EXPECT_TRUE(judge(nickel_on_can(), r).good);
}

TEST(MissingData, no_energy_no_sparks) {
  Result r = unmelted(400);
  r.ledger = {};
  EXPECT_FALSE(holds(judge(nickel_on_can(), r), Outcome::surface_sparking));
}

}  // namespace
}  // namespace tabmelt
