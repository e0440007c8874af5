// What a verdict says must hold for the weld it is about.
#include <gtest/gtest.h>

#include "solver/catalogue/catalogue.h"
#include "solver/words/glossary.h"
#include "synthetic_weld.h"
#include "tests/support/contains.h"

namespace tabmelt {
namespace {

using namespace synthetic;

TEST(Words, every_verdict_is_in_the_glossary_by_word_and_key) {
  for (int o = 0; o <= static_cast<int>(Outcome::cell_overheated); ++o) {
    const Outcome outcome = static_cast<Outcome>(o);
    const Term* term = find_term(words(outcome));
    ASSERT_NE(term, nullptr) << words(outcome);
    EXPECT_EQ(term->word, words(outcome));
    EXPECT_EQ(find_term(key(outcome)), term) << key(outcome);
  }
}

// Following "more heat" would lead straight to the hazard that is near.
TEST(Words, a_good_weld_between_two_limits_is_not_told_to_heat_more) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  r.joints[0].nugget.value = r.joints[0].fused_diameter = 0.63e-3;
  r.sheets[1].penetration.value = 0.2e-3;  // 0.24 mm would be a puncture
  const Verdict near = judge(p, r);
  ASSERT_TRUE(near.good);
  EXPECT_TRUE(contains(near.sentence, "on both sides")) << near.sentence;
  EXPECT_TRUE(contains(near.sentence, "can puncture is 16.7 % short")) << near.sentence;
  for (const char* more : {"joint needs", "charge the bank higher", "lengthen the pulse"})
    EXPECT_FALSE(contains(near.sentence, more)) << near.sentence;
  r.sheets[1].penetration.value = 0.1e-3;
  EXPECT_FALSE(contains(judge(p, r).sentence, "on both sides"));
}

TEST(Words, a_good_weld_gets_no_advice_for_an_undersized_one) {
  const Verdict v = judge(nickel_on_can(), good_weld());
  ASSERT_TRUE(v.good);
  for (const Finding& f : v.findings)
    for (const char* more : {"needs", "larger", "higher", "lengthen", "of the energy"})
      EXPECT_FALSE(contains(f.advice, more)) << words(f.outcome) << ": " << f.advice;
}

TEST(Words, expulsion_names_the_area_that_its_limit_is_about) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  r.contacts[1].radius = 0.35e-3;  // what touched; the case's face is 1.1 mm
  const Verdict v = judge(p, r);
  const Finding* f = find(v, Outcome::expulsion);
  ASSERT_TRUE(f && f->holds);
  EXPECT_DOUBLE_EQ(f->limit, 0.7e-3);
  EXPECT_TRUE(contains(f->advice, "filled the area of 0.7 mm")) << f->advice;
  EXPECT_FALSE(contains(f->advice, "1.1 mm")) << f->advice;
}

TEST(Words, a_protection_that_opened_is_the_cause_of_too_little_heat) {
  Problem p = nickel_on_can();
  circuit::Battery battery{12, 5e-3, {}};
  battery.cut_off_current = 400;
  battery.cut_off_delay = 0.2e-3;
  p.circuit.source = battery;
  p.circuit.power_switch.train = {{12e-3, 0}};
  Result r = unmelted(600);
  for (StepRecord& step : r.history)
    if (step.time > 1e-3) step.current = 0;
  EXPECT_TRUE(contains(judge(p, r).sentence, "protection opened after 1 ms, it bears 400 A"))
      << judge(p, r).sentence;
  // A pulse that the switch ended, and a protection that was never reached, are no such cause.
  p.circuit.power_switch.train = {{1e-3, 0}};
  EXPECT_FALSE(contains(judge(p, r).sentence, "protection"));
  p.circuit.power_switch.train = {{12e-3, 0}};
  battery.cut_off_current = 2000;
  p.circuit.source = battery;
  EXPECT_FALSE(contains(judge(p, r).sentence, "protection"));
}

TEST(Words, heat_does_not_go_elsewhere_before_the_joint_melts_where_it_did_melt) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  r.joints[0].nugget.value = r.joints[0].fused_diameter = 0.3e-3;
  for (StepRecord& step : r.history)
    step.joints[0].nugget_diameter = std::min(step.joints[0].nugget_diameter, 0.3e-3);
  r.inner_wall_and_layers[0].peak.value = celsius(200);
  const std::string text = judge(p, r).sentence;
  EXPECT_FALSE(contains(text, "before the joint melts")) << text;
  EXPECT_TRUE(contains(text, "the nugget stays at 0.3 mm")) << text;
}

TEST(Words, a_ring_has_an_equivalent_diameter) {
  Result r = good_weld();
  r.joints[0].hole_diameter = 0.4e-3;
  EXPECT_TRUE(
      contains(judge(nickel_on_can(), r).sentence,
               "nugget of 0.8 mm equivalent diameter (at least 0.6 mm wanted), a ring around an "
               "unmelted middle of 0.4 mm"));
}

TEST(Words, no_surface_of_a_sheet_is_hotter_than_the_sheet) {
  Result r = good_weld();
  r.sheets[0].peak.value = 1300;  // its hottest cell; the faying surface reaches 1850 K
  EXPECT_EQ(hottest_of_sheet(r, 0).value, 1850);
  r.peak_top.value = 1900;
  EXPECT_EQ(hottest_of_sheet(r, 0).value, 1900);
  EXPECT_EQ(hottest_of_sheet(r, 1).value, 1850);
  r.peak_inner_wall.value = 2000;
  EXPECT_EQ(hottest_of_sheet(r, 1).value, 2000);
  EXPECT_EQ(hottest_of_sheet(r, 0).value, 1900);
}

TEST(Words, at_no_step_is_a_surface_hotter_than_its_sheet_or_than_the_hottest_point) {
  StepRecord step;
  step.sheets.resize(2);
  step.joints.resize(1);
  step.sheets[0].temperature = 1300;  // hottest cells
  step.sheets[1].temperature = 1400;
  step.peak_temperature = 1400;
  EXPECT_EQ(hottest_of_sheet(step, 0), 1300);
  step.joints[0].temperature = 1500;
  EXPECT_EQ(hottest_of_sheet(step, 0), 1500);
  EXPECT_EQ(hottest_of_sheet(step, 1), 1500);
  step.top_temperature = 1600;
  EXPECT_EQ(hottest_of_sheet(step, 0), 1600);
  EXPECT_EQ(hottest_of_sheet(step, 1), 1500);
  step.inner_wall_temperature = 1700;
  EXPECT_EQ(hottest_of_sheet(step, 1), 1700);
  EXPECT_EQ(hottest_of_all(step), 1700);
  step.tip_temperature = 1800;
  EXPECT_EQ(hottest_of_all(step), 1800);
}

TEST(Words, no_line_of_the_energies_is_negative_after_boiling_and_the_sum_stays) {
  Result r = good_weld();
  r.parts = {{"empty", Role::empty},
             {"electrode", Role::electrode},
             {"strip", Role::strip},
             {"can", Role::can}};
  r.ledger.sheets = {-1.2, -0.5};
  const double before = r.ledger.at_spots();
  double spots = 0;
  for (const Quantity& line : ledger_sinks(r.parts, r.ledger)) {
    EXPECT_GE(line.value, 0) << line.key;
    if (line.key.ends_with("_contacts") || line.key == "ledger_strip" || line.key == "ledger_can" ||
        line.key == "ledger_electrodes" || line.key == "ledger_expelled")
      spots += line.value;
  }
  EXPECT_NEAR(spots, before, 1e-12);
}

}  // namespace
}  // namespace tabmelt
