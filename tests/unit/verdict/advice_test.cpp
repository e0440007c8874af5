#include "solver/verdict/advice.h"

#include <gtest/gtest.h>

#include <utility>

#include "synthetic_weld.h"

namespace tabmelt {
namespace {

using namespace synthetic;

::testing::AssertionResult says(const std::string& text, const std::string& part) {
  if (text.find(part) != std::string::npos) return ::testing::AssertionSuccess();
  return ::testing::AssertionFailure() << "\"" << part << "\" is not in: " << text;
}

TEST(Advice, names_the_shunt_through_the_strip) {
  Result r = unmelted(900);
  r.base_share_mean = 0.38;
  Problem p = nickel_on_can();
  EXPECT_TRUE(says(judge(p, r).sentence,
                   "62 % of the current returned through the strip: slit it between the "
                   "electrodes, or use 0.1 mm"));
  p.top().thickness = 0.1e-3;
  EXPECT_FALSE(says(judge(p, r).sentence, "or use 0.1 mm"));
  p.top().slit = true;
  EXPECT_FALSE(says(judge(p, r).sentence, "slit it"));
  p.top().slit = false;
  p.arrangement.spots = 1;  // an opposed pair has nothing to slit
  EXPECT_FALSE(says(judge(p, r).sentence, "slit it"));
}

TEST(Advice, names_the_largest_loss) {
  const Problem p = nickel_on_can();
  const auto with = [](double Ledger::*loss) {
    Result r = unmelted(600);
    r.ledger.contacts[0] = r.ledger.electrodes = r.ledger.sheets[0] = r.ledger.sheets[1] = 0.1;
    r.ledger.contacts[1] = 0.7;
    r.ledger.source_resistance = r.ledger.leads = r.ledger.joints = r.ledger.power_switch = 1.4;
    r.ledger.*loss = 4.7;
    return r;
  };
  const std::string leads = judge(p, with(&Ledger::leads)).sentence;  // 1.1 and 4.7 of 10 J
  EXPECT_TRUE(says(leads, "Only 11 % of the energy reached the weld"));
  EXPECT_TRUE(says(leads, "the leads take 47 % of it: shorten or double them"));
  EXPECT_TRUE(
      says(judge(p, with(&Ledger::source_resistance)).sentence, "more of them in parallel"));
  EXPECT_TRUE(says(judge(p, with(&Ledger::joints)).sentence, "joints in the loop take 47 %"));
  EXPECT_TRUE(says(judge(p, with(&Ledger::power_switch)).sentence, "switch takes 47 %"));
  Problem battery = p;
  battery.circuit.source = circuit::Battery{12, 5e-3, {}};
  EXPECT_TRUE(says(judge(battery, with(&Ledger::source_resistance)).sentence,
                   "the source's own resistance"));
}

TEST(Advice, weighs_shunt_against_losses) {
  const Problem p = nickel_on_can();
  Result r = unmelted(600);
  r.base_share_mean = 0.5;  // twice the heat without the shunt
  r.ledger.leads = 3;       // 3 of 9.1 J: 1.5 times without the leads
  EXPECT_TRUE(says(judge(p, r).sentence, "slit it"));
  r.ledger.leads = 30;
  EXPECT_TRUE(says(judge(p, r).sentence, "double them"));
}

TEST(Advice, lengthens_a_pulse_cut_short) {
  Problem p = nickel_on_can();
  Result r = unmelted(600);
  r.ledger.left_in_source = 0.6 * r.ledger.stored_before;
  EXPECT_TRUE(says(judge(p, r).sentence, "60 % of the energy still in the bank: lengthen"));
}

TEST(Advice, blames_wide_tips_heavy_force_and_thick_strip) {
  Problem wide = nickel_on_can();
  wide.under_tip().radius = 1.5e-3;
  EXPECT_TRUE(says(judge(wide, unmelted(600)).sentence, "tip face of 3 mm: grind"));
  wide.electrode.face_radius = 7.5e-3;
  EXPECT_FALSE(says(judge(wide, unmelted(600)).sentence, "grind"));
  Problem heavy = nickel_on_can();
  heavy.pressing.force = 120;
  EXPECT_TRUE(says(judge(heavy, unmelted(600)).sentence, "120 N per tip"));
  EXPECT_TRUE(says(judge(heavy, unmelted(600)).sentence, "press with 10 to 30 N"));
  Problem thick = nickel_on_can();
  thick.top().thickness = 0.3e-3;
  EXPECT_TRUE(says(judge(thick, unmelted(600)).sentence, "strip of 0.3 mm"));
}

TEST(Advice, asks_for_a_larger_source_when_nothing_else_is_wrong) {
  Problem p = nickel_on_can();  // both melt at 1800 K: a rise of 1506.85 K
  const Result r = unmelted(293.15 + 1506.85 / 3);
  EXPECT_TRUE(
      says(judge(p, r).sentence, "about 3.0 times the heat: charge the bank higher than 12 V"));
  std::get<circuit::CapacitorBank>(p.circuit.source).rated_voltage = 12.5;
  EXPECT_TRUE(says(judge(p, r).sentence, "add capacitors in parallel"));
  p.circuit.source = circuit::ExponentialCurrent{1500, 2e-3};
  EXPECT_TRUE(says(judge(p, r).sentence, "raise the current to about 2600 A"));
  p.circuit.source = circuit::Battery{12, 5e-3, {}};
  Result warming = r;
  warming.joints[0].peak.time = 5e-3;  // hottest as the current ends
  EXPECT_TRUE(says(judge(p, warming).sentence, "lengthen the pulse"));
  warming.joints[0].peak.time = 1e-3;
  EXPECT_TRUE(says(judge(p, warming).sentence, "a longer pulse will not help"));
}

TEST(Advice, explains_sparks_by_closing_or_force) {
  Result r = unmelted(600);
  r.ledger.expelled = 2;
  Problem p = nickel_on_can();
  p.pressing.closing = Closing::unswitched;
  for (StepRecord& s : r.history) s.spots[0].force = 0.05;
  const Verdict touched = judge(p, r);
  EXPECT_EQ(touched.leading, Outcome::surface_sparking);
  EXPECT_TRUE(says(touched.sentence, "still landing, at 0.05 N when the current peaks"));
  EXPECT_TRUE(says(touched.sentence, "add a switch"));
  EXPECT_TRUE(
      says(touched.sentence, "Bond: no weld; the joint reached only 327 °C of the 1455 °C needed"));
  p.pressing.closing = Closing::switched;
  p.pressing.force = 4;
  EXPECT_TRUE(says(judge(p, r).sentence, "4 N per tip is too light"));
  p.pressing.force = 20;
  EXPECT_TRUE(says(judge(p, r).sentence, "clean strip and tips"));
}

TEST(Advice, counts_the_tip_that_presses_less) {
  Result r = unmelted(600);
  r.ledger.expelled = 2;
  r.landings.resize(2);
  Problem p = nickel_on_can();
  p.pressing.closing = Closing::unswitched;
  for (StepRecord& s : r.history) {
    s.spots.resize(2);
    s.spots[0].force = 3;
    s.spots[1].force = 0.05;
  }
  EXPECT_TRUE(says(judge(p, r).sentence, "at 0.05 N when the current peaks"));
  for (StepRecord& s : r.history) std::swap(s.spots[0].force, s.spots[1].force);
  EXPECT_TRUE(says(judge(p, r).sentence, "at 0.05 N when the current peaks"));
}

TEST(Advice, names_tips_that_bounce) {
  Problem p = nickel_on_can();
  p.pressing.closing = Closing::unswitched;
  Result r = unmelted(600);
  r.ledger.tip_lift = 50;
  EXPECT_TRUE(says(judge(p, r).sentence, "the gaps under bouncing tips take"));
  r.interruptions = 2;
  EXPECT_TRUE(says(advice::less_heat(p, r, 0), "bounced off while the current flowed"));
  r.interruptions = 0;
  EXPECT_FALSE(says(advice::less_heat(p, r, 0), "bounced off"));
}

TEST(Advice, cuts_a_pulse_that_runs_on_after_the_nugget) {
  Problem p = nickel_on_can();
  Result r = good_weld();  // nugget ready at 3.5 ms
  r.history[4].time = 12e-3;
  r.inner_wall_and_layers[0].peak.value = celsius(180);
  EXPECT_TRUE(
      says(judge(p, r).sentence,
           "size after 3.5 ms but the current ran for 12 ms: cut the pulse at about 4.2 ms"));
  p.circuit.power_switch.train.clear();
  EXPECT_TRUE(says(judge(p, r).sentence, "add a switch that opens after about 4.2 ms"));
}

TEST(Advice, says_how_much_heat_is_too_much) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  r.inner_wall_and_layers[0].peak.value = 293.15 + 2 * 109.85 + 0.3;  // twice the allowed rise
  EXPECT_TRUE(says(judge(p, r).sentence, "Cut the heat by about 50 %: charge the bank lower"));
}

TEST(Advice, never_asks_for_less_heat_alone_where_the_joint_stayed_cold) {
  Problem p = nickel_on_can();
  Result r = unmelted(900);
  r.inner_wall_and_layers[0].peak.value = celsius(200);
  EXPECT_TRUE(says(judge(p, r).sentence, "The heat goes elsewhere before the joint melts: use a"));
  r.history[4].time = 60e-3;
  EXPECT_TRUE(says(judge(p, r).sentence, "melts in 60 ms: use a"));
  r.base_share_mean = 0.4;
  EXPECT_TRUE(says(judge(p, r).sentence, "60 % of the current heats the strip"));
}

TEST(Advice, sticking_has_its_causes) {
  Problem p = nickel_on_can();
  Result r = good_weld();
  r.peak_tip.value = 1400;
  r.stuck_area = 1;
  EXPECT_TRUE(says(judge(p, r).sentence, "tungsten or a wider face"));
  r.ledger.contacts[0] = 3 * r.ledger.contacts[1];
  EXPECT_TRUE(says(judge(p, r).sentence, "3.0 times the heat of the joint: clean and dress"));
}

TEST(Advice, narrow_weld_says_so) {
  Result r = good_weld();
  r.joints[0].nugget.value = r.joints[0].fused_diameter = 0.63e-3;
  EXPECT_TRUE(says(judge(nickel_on_can(), r).sentence, "Little to spare"));
  EXPECT_TRUE(says(judge(nickel_on_can(), good_weld()).sentence, "Peel a sample"));
}

}  // namespace
}  // namespace tabmelt
