// Every shipped case gives the verdict its story promises, for any machine and any order. The
// stories and expectations stand beside the cases; this test only compares.
#include <gtest/gtest.h>
#include <toml++/toml.h>

#include <algorithm>
#include <filesystem>

#include "io/case/read_case.h"
#include "solver/solve.h"
#include "solver/verdict/verdict.h"

namespace tabmelt {
namespace {

std::vector<std::string> cases_with_expectation() {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(TABMELT_SOURCE_DIR "/cases"))
    if (std::filesystem::exists(entry.path() / "expected.toml"))
      names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());
  return names;
}

class DemoCase : public testing::TestWithParam<std::string> {};

TEST_P(DemoCase, gives_the_verdict_its_story_promises) {
  const std::filesystem::path folder =
      std::filesystem::path(TABMELT_SOURCE_DIR "/cases") / GetParam();
  const toml::table expected = toml::parse_file((folder / "expected.toml").string());
  const Case asked = read_case(folder / "case.toml");
  const Result result = solve(asked.problem);
  const Verdict verdict = judge(asked.problem, result);

  EXPECT_EQ(result.ending, Ending::finished) << result.ending_reason;
  EXPECT_EQ(key(verdict.leading), expected["leading"].value<std::string>());
  EXPECT_EQ(verdict.good, expected["good"].value<bool>());
  EXPECT_EQ(verdict.cell_safe, expected["cell_safe"].value<bool>());
  const auto holds = [&](const std::string& outcome) {
    return std::any_of(verdict.findings.begin(), verdict.findings.end(),
                       [&](const Finding& f) { return f.holds && key(f.outcome) == outcome; });
  };
  for (const auto& outcome : *expected["holds"].as_array())
    EXPECT_TRUE(holds(*outcome.value<std::string>())) << *outcome.value<std::string>();
  for (const auto& outcome : *expected["not"].as_array())
    EXPECT_FALSE(holds(*outcome.value<std::string>())) << *outcome.value<std::string>();

  // Books: heat of one spot, and the whole loop.
  EXPECT_LE(result.worst_energy_residual, 1e-9);
  EXPECT_LE(std::abs(result.ledger.residual), 1e-9 * result.ledger.from_source);
}

INSTANTIATE_TEST_SUITE_P(all, DemoCase, testing::ValuesIn(cases_with_expectation()),
                         [](const auto& named) {
                           std::string name = named.param;
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

// The slit is the only difference between the two bike strips.
TEST(BikeStrip, a_slit_sends_more_current_through_the_joint_and_heats_it_more) {
  const auto run = [](const char* name) {
    return solve(
        read_case(std::string(TABMELT_SOURCE_DIR "/cases/") + name + "/case.toml").problem);
  };
  const Result slit = run("bike-strip-slit"), unslit = run("bike-strip-unslit");
  EXPECT_NEAR(slit.base_share_mean, 1.0, 1e-6);
  EXPECT_LT(unslit.base_share_mean, 0.8);
  EXPECT_GT(slit.joints[0].peak.value, unslit.joints[0].peak.value + 50);
  EXPECT_GT(unslit.peak_current.value, slit.peak_current.value);
}

// The strip of bike-strip-unslit has no slit line of its own but must differ in nothing else.
TEST(BikeStrip, twins_differ_in_the_slit_alone) {
  Case slit = read_case(TABMELT_SOURCE_DIR "/cases/bike-strip-slit/case.toml");
  const Case unslit = read_case(TABMELT_SOURCE_DIR "/cases/bike-strip-unslit/case.toml");
  EXPECT_TRUE(slit.problem.top().slit);
  EXPECT_FALSE(unslit.problem.top().slit);
  EXPECT_EQ(slit.problem.top().thickness, unslit.problem.top().thickness);
  EXPECT_EQ(slit.problem.pressing.force, unslit.problem.pressing.force);
}

// An unswitched bank sparks; the same bank with the tips held down first does not.
TEST(MowerUnswitched, sparks_go_away_when_the_tips_are_down_before_the_current) {
  Case asked = read_case(TABMELT_SOURCE_DIR "/cases/mower-unswitched/case.toml");
  const Result touched = solve(asked.problem);
  asked.problem.pressing.closing = Closing::switched;
  const Result held = solve(asked.problem);
  EXPECT_GT(touched.ledger.expelled, 0.1 * touched.ledger.from_source);
  EXPECT_LT(held.ledger.expelled, 1e-3 * held.ledger.from_source);
}

}  // namespace
}  // namespace tabmelt
