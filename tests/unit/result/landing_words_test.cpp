// What is told and stored about tips that landed on a connected source.
#include "io/report/landing_words.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>

#include "io/report/report.h"
#include "io/report/summary.h"
#include "io/store/history_table.h"
#include "tests/support/contains.h"
#include "tests/unit/result/sample_run.h"

namespace tabmelt {

using namespace report;
namespace {

Case landed() {
  Case asked = sample::asked();
  asked.problem.pressing = {Closing::unswitched, 10, 0.05, 2000, 1e-4, 0.015, 0.5, 2e-4};
  return asked;
}

Result one_after_the_other() {
  Result run = sample::finished();
  run.landings = {{0, 0.25, 1.5, 2, 3, 0.5, 900}, {2e-3, 0.75, 2.5, 1, 4, 0.125, 700}};
  run.interruptions = 2;
  run.ledger.tip_lift = 0.03125;
  for (StepRecord& step : run.history) {
    step.spots.push_back(step.spots[0]);
    step.spots[1] = {step.time * 1000, 0, 0, {{}, {}}};
  }
  return run;
}

TEST(LandingWords, tell_who_pressed_how_firmly) {
  const std::string report = report_text(landed(), one_after_the_other(), sample::verdict(), "out");
  EXPECT_TRUE(contains(report, "## How the tips landed"));
  for (const char* words : {"second tip (judged)", "first tip", "2 ms", "0.25 N", "0.75 N",
                            "2 times", "once", "opened the loop 2 times", "31.2 mJ", "bounced"})
    EXPECT_TRUE(contains(report, words)) << words;
  const std::string lines = landing_text(landed().problem, one_after_the_other());
  EXPECT_EQ(std::count(lines.begin(), lines.end(), '\n'), 2);
  EXPECT_TRUE(contains(lines, "second tip (judged): 0.25 N as the current begins, 1.5 N"));
}

TEST(LandingWords, name_the_judged_tip_first) {
  Case asked = landed();
  asked.problem.pressing.judged = JudgedTip::lands_first;
  EXPECT_EQ(tip_names(asked.problem, one_after_the_other()).front(), "first tip");
  Result together = one_after_the_other();
  together.landings.resize(1);
  EXPECT_EQ(tip_names(asked.problem, together).front(), "both tips");
  EXPECT_TRUE(
      contains(report_text(asked, together, sample::verdict(), "out"), "taken to land together"));
}

TEST(LandingWords, nothing_is_said_behind_a_switch) {
  const Result run = sample::finished();
  EXPECT_FALSE(landing_section(sample::asked().problem, run));
  EXPECT_EQ(landing_text(sample::asked().problem, run), "");
  const auto json =
      nlohmann::json::parse(summary_json(sample::asked(), run, sample::verdict(), sample::frames));
  EXPECT_FALSE(json["quantities"].contains("landing"));
}

TEST(LandingWords, summary_holds_both_tips) {
  const auto json = nlohmann::json::parse(
      summary_json(landed(), one_after_the_other(), sample::verdict(), sample::frames));
  const auto& landing = json["quantities"]["landing"];
  EXPECT_EQ(landing["tip_0_force_at_start"]["value"], 0.25);
  EXPECT_EQ(landing["tip_1_force_at_peak"]["value"], 2.5);
  EXPECT_EQ(landing["tip_1_ahead"]["value"], 2e-3);
  EXPECT_EQ(landing["tip_0_bounces"]["value"], 2);
  EXPECT_EQ(landing["tip_1_bounces"]["value"], 1);
  EXPECT_EQ(landing["tip_0_expelled"]["value"], 0.5);
  EXPECT_EQ(landing["interruptions"]["value"], 2);
  EXPECT_EQ(json["quantities"]["energy"]["ledger_tip_lift"]["value"], 0.03125);
}

TEST(LandingWords, history_has_the_other_tip_only_where_there_is_one) {
  const auto named = [](const Result& run, const std::string& name) {
    const auto columns = series_of_steps(run);
    const auto found = std::find_if(columns.begin(), columns.end(),
                                    [&](const Series& c) { return c.key == name; });
    return found == columns.end() ? -1.0 : found->value(run.history.back());
  };
  const Result run = one_after_the_other();
  EXPECT_EQ(named(run, "other_force"), run.history.back().spots[1].force);
  for (const char* name : {"other_resistance", "other_tip_resistance", "other_tip_voltage",
                           "other_tip_true_area", "other_energy_expelled"})
    EXPECT_EQ(named(run, name), 0) << name;
  EXPECT_EQ(named(sample::finished(), "other_force"), -1);
}

}  // namespace
}  // namespace tabmelt
