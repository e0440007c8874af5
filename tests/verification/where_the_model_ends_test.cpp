// Far above boiling there is no metal left to compute: the run ends there and says so. Catches: a
// verdict on temperatures that no metal ever had, minutes of steps through vapour.
#include <gtest/gtest.h>

#include "solver/cost.h"
#include "solver/solve.h"
#include "solver/verdict/verdict.h"
#include "weld_problem.h"

namespace tabmelt {
namespace {

std::shared_ptr<Material> melting_metal() {
  auto m = std::make_shared<Material>(*conductor(90, 8900, 450, 7e-8));
  m->melting = Melting{1700, 1730, 3e5};
  return m;
}

Problem strongly_heated(MaterialPtr metal) {
  Problem p = lone_rod(std::move(metal), 0.5e-3, 3e-3);
  p.circuit.source = circuit::TableCurrent{{0, 1}, {20000, 20000}};
  p.numerics.end_time = 20e-3;
  p.numerics.resolution = 0.5;
  return p;
}

TEST(WhereTheModelEnds, a_metal_without_a_boiling_point_ends_the_run) {
  const Problem p = strongly_heated(melting_metal());
  const Result r = solve(p);
  EXPECT_EQ(r.ending, Ending::failed);
  EXPECT_NE(r.ending_reason.find("the model does not hold here: electrode"), std::string::npos)
      << r.ending_reason;
  EXPECT_LT(r.history.back().time, 20e-3);
  EXPECT_GT(r.peak_temperature_any.value, 3500);
  EXPECT_LT(r.peak_temperature_any.value, 6000) << "not much further than the limit";
  EXPECT_EQ(judge(p, r).sentence.rfind("The model does not hold here", 0), 0U);
}

TEST(WhereTheModelEnds, more_boiled_away_than_the_sheet_under_the_tip_holds_ends_the_run) {
  auto metal = melting_metal();
  metal->boiling = Boiling{3100, 6e6};
  Problem p = strongly_heated(metal);
  auto sheet = std::make_shared<Material>(*p.top().material);
  sheet->melting = metal->melting;
  sheet->boiling = metal->boiling;
  p.top().material = sheet;
  const Result r = solve(p);
  EXPECT_EQ(r.ending, Ending::failed);
  EXPECT_NE(r.ending_reason.find("boiled"), std::string::npos) << r.ending_reason;
  EXPECT_LE(r.peak_temperature_any.value, 3100 + 21);
}

TEST(WhereTheModelEnds, a_weld_that_stays_below_goes_to_its_end) {
  Problem p = strongly_heated(melting_metal());
  p.circuit.source = circuit::TableCurrent{{0, 1}, {1000, 1000}};
  const Result r = solve(p);
  EXPECT_EQ(r.ending, Ending::finished);
  EXPECT_EQ(r.beyond_model, "");
}

// A run is too large by its cells, by its memory, by its time.
TEST(WhereTheModelEnds, runs_too_large_to_begin_are_refused) {
  Problem p = strongly_heated(melting_metal());
  EXPECT_TRUE(cost_complaints(p).empty());
  const Cost cost = cost_of(p);
  EXPECT_EQ(cost.cells, solve(p).grid.cells());
  ASSERT_EQ(cost_complaints(p, 0.5 * cost.memory).size(), 1U);
  EXPECT_NE(cost_complaints(p, 0.5 * cost.memory)[0].find("GB of memory"), std::string::npos);
  p.numerics.longest_step = 1e-7;
  p.numerics.first_step = 1e-8;
  p.numerics.end_time = 1000;
  ASSERT_EQ(cost_complaints(p, 0).size(), 1U);
  EXPECT_NE(cost_complaints(p, 0)[0].find("hours"), std::string::npos);
  p = strongly_heated(melting_metal());
  p.numerics.resolution = 400;
  ASSERT_FALSE(cost_complaints(p, 0).empty());
  EXPECT_NE(cost_complaints(p, 0)[0].find("million cells"), std::string::npos);
  EXPECT_THROW(solve(p), std::invalid_argument);
}

class StopsAt : public Observer {
 public:
  explicit StopsAt(int ask) : left_(ask) {}
  bool prepared() override { return left_-- > 0; }

 private:
  int left_;
};

TEST(WhereTheModelEnds, a_wish_to_stop_is_heard_while_the_run_is_prepared) {
  for (int ask = 0; ask < 3; ++ask) {
    StopsAt observer(ask);
    const Result r = solve(strongly_heated(melting_metal()), &observer);
    EXPECT_EQ(r.ending, Ending::stopped_by_observer) << ask;
    EXPECT_TRUE(r.history.empty());
  }
}

}  // namespace
}  // namespace tabmelt
