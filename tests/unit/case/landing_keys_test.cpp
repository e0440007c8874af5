// How the tips land: keys of [pressing] that count without a switch only.
#include <gtest/gtest.h>

#include <string>

#include "solver/pressing/landing.h"
#include "tests/unit/case/sample_cases.h"

namespace tabmelt::testing {
namespace {

std::string with_pressing(const std::string& keys) {
  return with(bank_case, "[pressing]\n", "[pressing]\n" + keys);
}

const std::string unswitched = "closing = \"unswitched\"\n";

TEST(LandingKeys, arrive_in_si) {
  const Pressing p =
      read(with_pressing(unswitched + "height_difference = \"0.1 mm\"\nmoving_mass = \"15 g\"\n"
                                      "restitution = 0.4\nimpact_time = \"0.25 ms\"\n"
                                      "judged_tip = \"first\"\n"))
          .problem.pressing;
  EXPECT_DOUBLE_EQ(p.height_difference, 1e-4);
  EXPECT_DOUBLE_EQ(p.moving_mass, 0.015);
  EXPECT_DOUBLE_EQ(p.restitution, 0.4);
  EXPECT_DOUBLE_EQ(p.impact_time, 2.5e-4);
  EXPECT_EQ(p.judged, JudgedTip::lands_first);
}

TEST(LandingKeys, left_out_the_tips_land_together_and_without_impact) {
  const Case c = read(with_pressing(unswitched));
  EXPECT_EQ(c.problem.pressing.height_difference, 0);
  EXPECT_EQ(c.problem.pressing.moving_mass, 0);
  EXPECT_FALSE(c.problem.pressing.unlike_tips());
  EXPECT_TRUE(contains(c.full_text, "moving_mass"));
  EXPECT_FALSE(contains(c.full_text, "restitution"));
}

TEST(LandingKeys, a_mass_brings_restitution_and_hertz_time) {
  const Case c = read(with_pressing(unswitched + "moving_mass = \"15 g\"\n"));
  const Pressing& p = c.problem.pressing;
  EXPECT_EQ(p.restitution, 0.5);
  EXPECT_NEAR(p.impact_time /
                  hertz_impact_time(0.015, c.problem.electrode.tip_radius, 84e9, p.approach_speed),
              1, 1e-3);
}

TEST(LandingKeys, what_cannot_be_is_complained_about) {
  const struct {
    std::string keys, words;
  } slips[] = {
      {unswitched + "height_difference = \"-0.1 mm\"\n", "height_difference"},
      {unswitched + "moving_mass = \"-5 g\"\nrestitution = 0.5\n", "moving_mass"},
      {unswitched + "moving_mass = \"5 g\"\nrestitution = 1.0\n", "restitution"},
      {unswitched + "moving_mass = \"5 g\"\nimpact_time = \"0 ms\"\n", "impact_time"},
      {unswitched + "restitution = 0.5\n", "pressing.moving_mass is above zero"},
      {unswitched + "judged_tip = \"first\"\n", "pressing.height_difference is above zero"},
      {"moving_mass = \"5 g\"\n", "it applies if pressing.closing = \"unswitched\""},
      {"height_difference = \"0.1 mm\"\n", "it applies if pressing.closing = \"unswitched\""},
  };
  for (const auto& slip : slips) {
    const auto list = complaints_about(with_pressing(slip.keys));
    ASSERT_EQ(list.size(), 1u) << slip.keys << (list.size() > 1 ? list[1].message : "");
    EXPECT_TRUE(contains(list[0].message, slip.words)) << list[0].message;
  }
  std::string alone = with_pressing(unswitched + "height_difference = \"0.1 mm\"\n");
  alone += "[arrangement]\nkind = \"opposed\"\n";
  const auto list = complaints_about(alone);
  ASSERT_EQ(list.size(), 1u);
  EXPECT_TRUE(contains(list[0].message, "no second tip")) << list[0].message;
}

}  // namespace
}  // namespace tabmelt::testing
