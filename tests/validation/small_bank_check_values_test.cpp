// Check values for a small bank without a switch, and behind one (common practice, no source):
// eight 6.8 mF, 25 V parts in parallel on 6 mm^2 leads, tips of 2.5 mm.
//
//   voltage  how the tips come down      on                     outcome
//   12 V     by hand, no switch          two 0.15 mm strips     spatter only
//   15 V     by hand, no switch          two 0.15 mm strips     joint partly bonded
//   18 V     by hand, no switch          0.1 mm strip on can    bonded but peels at low force
//   18 V     fast and firmly, no switch  0.1 mm strip on can    bond clearly stronger
//   12.6 V   pressed down, switch        0.1 mm strip on can    no bond
//
// Assumed: 25 mohm per part and 0.3 m of lead (common practice, no source); by hand 50 mm/s and 2
// N/mm, practised 200 mm/s and 20 N/mm; 10, 30 and 40 N in the end (engineering judgement).
//
// The bank empties within a fraction of a millisecond, far sooner than a hand can press: the tips
// touch with some hundredths of a newton over some micrometres, where melting and boiling metal
// holds the voltage, and much of the energy goes into sparks and a hole under the tip. What reaches
// the joint grows with the voltage and with the force behind the landing.
//
// Where the model disagrees: at 15 V the joint softens but does not melt; at 18 V by hand the strip
// is burnt through under the tip, which is worse than a bond that peels.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "io/case/read_case.h"
#include "solver/circuit/charging.h"
#include "solver/solve.h"
#include "solver/verdict/verdict.h"

namespace tabmelt {
namespace {

const std::string on_cell = "[cell]\nsize = \"18650\"\nend = \"negative bottom\"\n";
const std::string on_strip =
    "[can]\nmaterial = \"nickel-200\"\nthickness = \"0.15 mm\"\nradius = \"9 mm\"\n";
const std::string by_hand =
    "force = \"10 N\"\nclosing = \"unswitched\"\napproach_speed = \"50 mm/s\"\n"
    "tip_stiffness = \"2 N/mm\"\n";
const std::string practised =
    "force = \"30 N\"\nclosing = \"unswitched\"\napproach_speed = \"200 mm/s\"\n"
    "tip_stiffness = \"20 N/mm\"\n";
const std::string one_late = "height_difference = \"0.1 mm\"\n";
const std::string early_tip = one_late + "judged_tip = \"first\"\n";
const std::string bouncing = "moving_mass = \"15 g\"\nrestitution = 0.3\n";
const std::string held_down = "force = \"40 N\"\nclosing = \"switched\"\n";

struct Outcomes {
  Result result;
  Verdict verdict;
  bool holds(Outcome outcome) const {
    return std::any_of(verdict.findings.begin(), verdict.findings.end(),
                       [&](const Finding& f) { return f.holds && f.outcome == outcome; });
  }
};

Outcomes weld(const std::string& voltage, const std::string& under, const std::string& strip,
              const std::string& pressing, bool with_switch = false) {
  const std::string text =
      under + "[strip]\nmaterial = \"nickel-200\"\nthickness = \"" + strip +
      "\"\n[electrode]\nmaterial = \"copper\"\ntip_diameter = \"2.5 mm\"\ntip_shape = \"domed\"\n"
      "taper_angle = \"0 deg\"\n[pressing]\n" +
      pressing +
      "[source]\nkind = \"capacitor bank\"\npart_capacitance = \"6.8 mF\"\n"
      "part_esr = \"25 mohm\"\nparallel = 8\nrated_voltage = \"25 V\"\ncharge_voltage = \"" +
      voltage + "\"\n[leads]\ncross_section = \"6 mm2\"\nlength = \"0.3 m\"\n[switch]\n" +
      (with_switch ? "pulses = [[\"20 ms\", \"0 ms\"]]\n" : "on_resistance = \"0 ohm\"\n");
  const Case asked = read_case_text(text, TABMELT_SOURCE_DIR "/cases/small-bank.toml");
  Outcomes out;
  out.result = solve(asked.problem);
  out.verdict = judge(asked.problem, out.result);
  EXPECT_EQ(out.result.ending, Ending::finished) << out.result.ending_reason;
  return out;
}

TEST(TouchDown, rising_voltage_goes_from_spatter_to_a_weak_bond) {
  const Outcomes at_12 = weld("12 V", on_strip, "0.15 mm", by_hand);
  EXPECT_TRUE(at_12.holds(Outcome::surface_sparking));
  EXPECT_TRUE(at_12.holds(Outcome::no_bond));

  const Outcomes at_15 = weld("15 V", on_strip, "0.15 mm", by_hand);
  EXPECT_TRUE(at_15.holds(Outcome::surface_sparking));
  EXPECT_FALSE(at_15.holds(Outcome::fused));
  EXPECT_EQ(at_15.result.joints[0].fused_diameter, 0);

  const Outcomes at_18 = weld("18 V", on_cell, "0.1 mm", by_hand);
  EXPECT_TRUE(at_18.holds(Outcome::expulsion));
  EXPECT_FALSE(at_18.verdict.good);
  EXPECT_FALSE(at_18.holds(Outcome::fused));
  // Something melts on both sides, less than a weld needs.
  EXPECT_GT(at_18.result.joints[0].fused_diameter, 0);
  EXPECT_LT(at_18.result.joints[0].fused_diameter, at_18.verdict.smallest_good_nugget);

  EXPECT_LT(at_12.result.joints[0].peak.value, at_15.result.joints[0].peak.value);
  EXPECT_LT(at_15.result.joints[0].peak.value, at_18.result.joints[0].peak.value);
  EXPECT_LT(at_12.result.joints[0].soft_diameter, at_15.result.joints[0].soft_diameter);
  EXPECT_LT(at_15.result.joints[0].soft_diameter, at_18.result.joints[0].soft_diameter);
  EXPECT_LT(at_12.result.ledger.expelled, at_15.result.ledger.expelled);
  EXPECT_LT(at_15.result.ledger.expelled, at_18.result.ledger.expelled);
}

TEST(TouchDown, landing_fast_and_pressing_better_the_bond) {
  const Outcomes slow = weld("18 V", on_cell, "0.1 mm", by_hand);
  const Outcomes fast = weld("18 V", on_cell, "0.1 mm", practised);
  // 1.28 to 1.44 on cells from 1.25 times larger to 3 times smaller.
  EXPECT_GT(fast.verdict.peel_strength, 1.2 * slow.verdict.peel_strength);
  EXPECT_GT(fast.result.joints[0].soft_diameter, slow.result.joints[0].soft_diameter);
  EXPECT_LT(fast.result.ledger.expelled, slow.result.ledger.expelled);
  // The same energy was there in both.
  EXPECT_NEAR(fast.result.ledger.stored_before, slow.result.ledger.stored_before, 1e-9);
}

// Neither spot of a slow pair with one tip late comes near a practised landing of both together.
TEST(TouchDown, landing_fast_together_beats_a_slow_late_second_tip) {
  const Outcomes together = weld("18 V", on_cell, "0.1 mm", practised);
  for (const std::string& tip : {one_late, early_tip}) {
    const Outcomes late = weld("18 V", on_cell, "0.1 mm", by_hand + tip);
    EXPECT_GT(together.verdict.peel_strength, 1.2 * late.verdict.peel_strength);
    EXPECT_GT(together.result.joints[0].soft_diameter, 1.1 * late.result.joints[0].soft_diameter);
    EXPECT_LT(together.result.ledger.expelled, 0.6 * late.result.ledger.expelled);
    EXPECT_FALSE(late.verdict.good);
  }
}

// Fast, but one late: the pair is as good as its weaker spot.
TEST(TouchDown, a_late_second_tip_leaves_one_spot_of_a_fast_landing_weaker) {
  const Outcomes together = weld("18 V", on_cell, "0.1 mm", practised);
  const Outcomes second = weld("18 V", on_cell, "0.1 mm", practised + one_late);
  const Outcomes first = weld("18 V", on_cell, "0.1 mm", practised + early_tip);
  EXPECT_LT(std::min(first.verdict.peel_strength, second.verdict.peel_strength),
            0.97 * together.verdict.peel_strength);
  // It presses with 2 N before the current and throws no sparks; the late one throws them all.
  ASSERT_EQ(second.result.landings.size(), 2U);
  EXPECT_NEAR(second.result.landings[1].force_at_start, 2, 1e-9);
  EXPECT_GT(second.result.landings[0].expelled, 10 * second.result.landings[1].expelled);
}

TEST(TouchDown, a_late_second_tip_sparks_more_and_the_first_heats_its_joint_further) {
  double sparks = 0;
  for (const char* voltage : {"12 V", "15 V"}) {
    const Outcomes second = weld(voltage, on_strip, "0.15 mm", by_hand + one_late);
    const Outcomes first = weld(voltage, on_strip, "0.15 mm", by_hand + early_tip);
    EXPECT_TRUE(second.holds(Outcome::surface_sparking));
    EXPECT_GT(second.result.landings[0].expelled, second.result.landings[1].expelled);
    EXPECT_GT(first.result.joints[0].peak.value, second.result.joints[0].peak.value + 100);
    EXPECT_EQ(first.result.joints[0].fused_diameter, 0);
    EXPECT_GT(second.result.ledger.expelled, sparks);
    sparks = second.result.ledger.expelled;
  }
}

// A tip that strikes presses while the current rises: hardly any sparks. What it melts is less than
// a weld needs, and part of the energy goes where it bounces.
TEST(TouchDown, tips_that_strike_and_bounce_hardly_spark) {
  const Outcomes light = weld("18 V", on_cell, "0.1 mm", by_hand);
  const Outcomes heavy = weld("18 V", on_cell, "0.1 mm", by_hand + bouncing);
  EXPECT_FALSE(heavy.holds(Outcome::expulsion));
  EXPECT_FALSE(heavy.holds(Outcome::fused));
  EXPECT_GT(heavy.result.joints[0].fused_diameter, 0);
  EXPECT_LT(heavy.verdict.peel_strength, light.verdict.peel_strength);
  EXPECT_LT(heavy.result.ledger.expelled, 0.1 * light.result.ledger.expelled);
  EXPECT_GT(heavy.result.interruptions, 0);
  EXPECT_GT(heavy.result.ledger.tip_lift, 0.05 * heavy.result.ledger.from_source);
}

// The demo of bouncing tips, with the same bank behind a switch.
TEST(MowerLanding, nothing_burns_or_sticks_to_the_tips_once_they_are_down_first) {
  Case asked = read_case(TABMELT_SOURCE_DIR "/cases/mower-landing/case.toml");
  asked.problem.pressing.closing = Closing::switched;
  const Result held = solve(asked.problem);
  const Verdict verdict = judge(asked.problem, held);
  for (const Finding& f : verdict.findings) {
    if (f.outcome == Outcome::strip_burn_through || f.outcome == Outcome::electrode_sticking ||
        f.outcome == Outcome::surface_sparking || f.outcome == Outcome::fused) {
      EXPECT_FALSE(f.holds) << words(f.outcome);
    }
  }
  EXPECT_TRUE(held.landings.empty());
}

TEST(TouchDown, held_down_behind_a_switch_nothing_melts_and_nothing_sparks) {
  const Outcomes switched = weld("12.6 V", on_cell, "0.1 mm", held_down, true);
  for (const Outcome outcome : {Outcome::fused, Outcome::surface_sparking, Outcome::expulsion,
                                Outcome::strip_burn_through, Outcome::electrode_sticking})
    EXPECT_FALSE(switched.holds(outcome)) << words(outcome);
  EXPECT_EQ(switched.result.joints[0].fused_diameter, 0);
  EXPECT_EQ(switched.verdict.peel_strength, 0);
  // The same bank touched down by hand at less than this already throws sparks.
  EXPECT_TRUE(weld("12 V", on_cell, "0.1 mm", by_hand).holds(Outcome::surface_sparking));
}

// C dV/I: 54.4 mF to 18 V at 0.5 A takes 2 s at constant current; a supply with a resistor takes
// longer towards the end. About 3 s in practice: within a factor of 1.6 of the ideal supply's time.
TEST(TouchDown, half_an_ampere_recharges_in_seconds) {
  const circuit::Charge charge = circuit::full_charge({0.5, 18, 0}, 8 * 6.8e-3, 0);
  EXPECT_NEAR(charge.time, 0.99 * 18 * 0.0544 / 0.5, 1e-9);
  EXPECT_GT(charge.time, 3.0 / 1.6);
  EXPECT_LT(charge.time, 3.0);
  EXPECT_GT(circuit::full_charge({0.5, 18, 10}, 8 * 6.8e-3, 0).time, charge.time);
}

}  // namespace
}  // namespace tabmelt
