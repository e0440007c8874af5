#include "solver/verdict/cell_side.h"

#include <gtest/gtest.h>

#include <limits>

#include "synthetic_weld.h"

namespace tabmelt {
namespace {

using namespace synthetic;

TEST(CellSide, inner_wall_limit_decides) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  r.inner_wall_and_layers[0].peak.value = celsius(129);
  EXPECT_TRUE(judge(p, r).cell_safe);
  r.inner_wall_and_layers[0].peak.value = celsius(131);
  r.inner_wall_and_layers[0].time_above_limit = 3e-3;
  r.inner_wall_and_layers[0].damage = 0.012;
  const Verdict v = judge(p, r);
  EXPECT_EQ(v.leading, Outcome::cell_overheated);
  EXPECT_FALSE(v.cell_safe);
  EXPECT_TRUE(v.cell_judged);
  const Finding* f = find(v, Outcome::cell_overheated);
  EXPECT_NEAR(f->margin, -1. / 110, 1e-9);  // 130 C is 110 K above ambient
  EXPECT_NE(f->advice.find("3 ms"), std::string::npos) << f->advice;
  EXPECT_NE(f->advice.find("1.2 % of the electrode"), std::string::npos) << f->advice;
  EXPECT_EQ(f->basis, "separator shuts down");
}

TEST(CellSide, each_layer_has_its_own_limit_and_the_worst_is_named) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  LayerRecord winding;
  winding.name = "winding";
  winding.limit = celsius(80);
  winding.limit_reason = "solvent";
  winding.peak = {celsius(85), 0.2, 0, -1e-3};
  r.inner_wall_and_layers.push_back(winding);
  const Verdict v = judge(p, r);
  EXPECT_EQ(v.leading, Outcome::cell_overheated);
  EXPECT_NE(find(v, Outcome::cell_overheated)->quantity.find("winding"), std::string::npos);
  EXPECT_EQ(v.cell_side.size(), 3u);
}

TEST(CellSide, layer_without_limit_may_melt_by_half) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  r.inner_wall_and_layers[1].molten_share = {0.49, 40e-3, 0, -0.4e-3};
  EXPECT_TRUE(judge(p, r).cell_safe);
  r.inner_wall_and_layers[1].molten_share.value = 0.51;
  const Verdict v = judge(p, r);
  EXPECT_EQ(v.leading, Outcome::cell_overheated);
  EXPECT_DOUBLE_EQ(v.cell_side[1].molten_limit, 0.5);
  EXPECT_FALSE(v.cell_safe);
}

TEST(CellSide, damage_counts_where_it_is_limited) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  r.inner_wall_and_layers[1].damage_limit = 0.01;
  r.inner_wall_and_layers[1].damage = 0.009;
  EXPECT_TRUE(judge(p, r).cell_safe);
  r.inner_wall_and_layers[1].damage = 0.011;
  EXPECT_FALSE(judge(p, r).cell_safe);
}

TEST(CellSide, unlimited_and_unprotected_is_not_judged) {
  Problem p = nickel_on_can();
  p.cell_limits.reset();
  Result r = good_weld();
  r.inner_wall_and_layers[0].limit = 0;
  r.inner_wall_and_layers[1].peak.value = celsius(900);
  const Verdict v = judge(p, r);
  EXPECT_EQ(find(v, Outcome::cell_overheated), nullptr);
  EXPECT_FALSE(v.cell_judged);
  EXPECT_TRUE(v.cell_safe);
  EXPECT_TRUE(v.good);
}

// Without sources conduction makes no place hotter than the hottest there is: a layer that still
// warms at the end is safe only if everything left is below its limit.
TEST(CellSide, still_rising_is_not_safe_unless_nothing_hotter_is_left) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  LayerRecord& disc = r.inner_wall_and_layers[1];
  disc.peak.time = r.history.back().time;
  EXPECT_TRUE(judge(p, r).cell_safe);
  r.history.back().peak_temperature = celsius(250);
  Verdict v = judge(p, r);
  EXPECT_FALSE(v.cell_safe);
  EXPECT_FALSE(v.cell_settled);
  EXPECT_FALSE(holds(v, Outcome::cell_overheated));
  EXPECT_NE(v.sentence.find("compute longer"), std::string::npos) << v.sentence;
  r.history.back().peak_temperature = celsius(60);
  r.history.back().current = 800;  // the pulse was still on
  EXPECT_FALSE(judge(p, r).cell_safe);
  r.history.back().current = 1;  // the tail of an emptying bank
  EXPECT_TRUE(judge(p, r).cell_safe);
}

TEST(CellSide, unfinished_or_unusable_run_is_not_safe) {
  const Problem p = nickel_on_can();
  for (const Ending ending : {Ending::failed, Ending::stopped_by_observer}) {
    Result r = good_weld();
    r.ending = ending;
    const Verdict v = judge(p, r);
    EXPECT_FALSE(v.cell_safe);
    EXPECT_FALSE(v.good);
    EXPECT_NE(v.sentence.find("stopped"), std::string::npos);
  }
  Result broken = good_weld();
  broken.inner_wall_and_layers[0].peak.value = std::numeric_limits<double>::quiet_NaN();
  EXPECT_FALSE(judge(p, broken).cell_safe);
  broken.inner_wall_and_layers.clear();
  EXPECT_FALSE(judge(p, broken).cell_safe);
}

}  // namespace
}  // namespace tabmelt
