// Laws of the catalogue for every shipped case: keys once, units and words given, numbers finite.
// Catches: two quantities under one key; a number that is asked of a part the case does not have;
// what a study keeps of a run being another number than the run's own.
#include "solver/catalogue/catalogue.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <set>

#include "io/case/read_case.h"
#include "solver/solve.h"
#include "solver/study/crown.h"
#include "solver/study/judged_run.h"

namespace tabmelt {
namespace {

std::vector<std::filesystem::path> shipped_cases() {
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(TABMELT_SOURCE_DIR "/cases"))
    if (exists(entry.path() / "case.toml")) files.push_back(entry.path() / "case.toml");
  return files;
}

Problem coarse(const std::filesystem::path& file) {
  Problem problem = read_case(file).problem;
  problem.numerics.resolution = 0.25;
  problem.numerics.frames = 1;
  return problem;
}

void expect_laws(const std::vector<Quantity>& list) {
  std::set<std::string> keys;
  for (const Quantity& q : list) {
    EXPECT_TRUE(keys.insert(q.key).second) << q.key << " twice";
    EXPECT_FALSE(q.unit.empty() || q.words.empty()) << q.key;
    EXPECT_FALSE(std::isnan(q.value)) << q.key;
  }
}

void expect_laws_of_series(const Result& run) {
  std::set<std::string> keys;
  for (const Series& s : series_of_steps(run)) {
    EXPECT_TRUE(keys.insert(s.key).second) << s.key << " twice";
    EXPECT_FALSE(s.unit.empty() || s.words.empty()) << s.key;
    for (const StepRecord& step : run.history) ASSERT_FALSE(std::isinf(s.value(step))) << s.key;
  }
}

// Grid cells and surfaces are two sets of temperatures; whoever reads "hottest" means both.
void expect_no_surface_hotter_than_its_sheet(const Result& run) {
  const Extreme of_all = hottest_of_all(run);
  for (const StepRecord& step : run.history) {
    ASSERT_GE(hottest_of_sheet(step, 0), step.top_temperature);
    ASSERT_GE(hottest_of_all(step), std::max(step.tip_temperature, hottest_of_sheet(step, 0)));
    ASSERT_GE(of_all.value, hottest_of_all(step));
  }
  for (std::size_t n = 0; n < run.joints.size(); ++n) {
    EXPECT_GE(hottest_of_sheet(run, n).value, run.joints[n].peak.value);
    EXPECT_GE(hottest_of_sheet(run, n + 1).value, run.joints[n].peak.value);
  }
}

TEST(Catalogue, of_every_shipped_case_has_each_key_once_and_finite_numbers) {
  ASSERT_GT(shipped_cases().size(), 15u);
  for (const std::filesystem::path& file : shipped_cases()) {
    SCOPED_TRACE(file.string());
    const Problem problem = coarse(file);
    const Result run = solve(problem);
    const Verdict verdict = judge(problem, run);
    const std::vector<Quantity> list =
        quantities(problem, run, verdict, bench_figures(problem, run));
    expect_laws(list);
    expect_laws_of_series(run);
    expect_no_surface_hotter_than_its_sheet(run);
    double sinks = 0, source = 0;
    for (const Quantity& q : ledger_sinks(run.parts, run.ledger)) sinks += q.value;
    for (const Quantity& q : list)
      if (q.key == "ledger_from_source") source = q.value;
    EXPECT_NEAR(sinks, source, 1e-6 * std::abs(source) + 1e-12);
  }
}

TEST(Catalogue, a_study_keeps_the_numbers_of_the_run) {
  const Problem problem = coarse(TABMELT_SOURCE_DIR "/cases/trimmer-negative/case.toml");
  const study::Judged kept = computed_run(problem);
  const Verdict verdict = judge(problem, solve(problem));
  ASSERT_EQ(kept.numbers.size(), studied_quantities().size());
  ASSERT_EQ(studied_quantities().front().key, "nugget_diameter");
  EXPECT_DOUBLE_EQ(kept.numbers.front(), verdict.nugget_diameter);
  EXPECT_EQ(kept.good, verdict.good);
}

// A rounded tip needs no warning; whether a nearly flat one does is found by two runs.
TEST(Catalogue, crowns_that_decide_are_looked_for_only_under_flat_tips) {
  Problem problem = coarse(TABMELT_SOURCE_DIR "/cases/trimmer-negative/case.toml");
  EXPECT_GT(crown(problem.electrode), 10e-6);
  EXPECT_FALSE(crown_warning(problem));
  problem.electrode.face_radius = 1;
  EXPECT_LT(crown(problem.electrode), 3e-6);
  const auto warning = crown_warning(problem);
  if (warning) {
    EXPECT_NE(warning->find("Round the tips"), std::string::npos);
  }
}

}  // namespace
}  // namespace tabmelt
