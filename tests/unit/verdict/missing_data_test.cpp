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
  p.electrode.material = p.top().material = p.base().material = bare;
  p.under_tip().fixed.emplace();
  p.joint(0).fixed.emplace();
  p.cell_limits.reset();
  Result r = unmelted(2500);
  r.inner_wall_and_layers.clear();
  EXPECT_TRUE(judge(p, r).findings.empty());
  EXPECT_EQ(judge(p, r).shear_strength, 0);
}

TEST(MissingData, without_melting_the_bond_is_not_judged) {
  Problem p = nickel_on_can();
  p.top().material = p.base().material = std::make_shared<Material>();
  const Verdict v = judge(p, unmelted(900));
  EXPECT_FALSE(v.good);
  for (const Outcome o : {Outcome::no_bond, Outcome::stuck, Outcome::fused, Outcome::expulsion})
    EXPECT_EQ(find(v, o) ? find(v, o)->unit : "J", "J") << key(o);
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

TEST(MissingData, nothing_computed_of_several_strips_is_judged_without_harm) {
  Problem p = nickel_on_can();
  p.sheets.insert(p.sheets.begin(), p.sheets.front());
  p.contacts.push_back(p.contacts.back());
  EXPECT_FALSE(judge(p, Result{}).good);
}

TEST(MissingData, where_the_model_does_not_hold_the_verdict_says_so_first) {
  Result r = good_weld();
  r.ending = Ending::failed;
  r.beyond_model = "strip (nickel) reached 5000 K, far above its boiling point";
  const Verdict v = judge(nickel_on_can(), r);
  EXPECT_FALSE(v.good);
  EXPECT_EQ(v.sentence.rfind("The model does not hold here: strip (nickel) reached 5000 K", 0), 0U)
      << v.sentence;
}

}  // namespace
}  // namespace tabmelt
