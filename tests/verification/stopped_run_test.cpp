// A run that its observer stops: the same steps as the whole run up to there, books closed, and a
// last frame of where it stopped. Catches: a step counted twice or lost, a run that goes on.
#include <gtest/gtest.h>

#include <vector>

#include "solver/solve.h"
#include "weld_problem.h"

namespace tabmelt {
namespace {

class StopAfter : public Observer {
 public:
  explicit StopAfter(std::size_t steps) : steps_(steps) {}
  void begins(const Result&) override { ++begun; }
  bool step_done(const StepRecord& record, double) override {
    times.push_back(record.time);
    return times.size() < steps_;
  }
  void frame_taken(const Frame& frame) override { frames.push_back(frame.time); }

  int begun = 0;
  std::vector<double> times, frames;

 private:
  std::size_t steps_;
};

TEST(StoppedRun, is_the_beginning_of_the_whole_run) {
  Problem problem = lone_rod(conductor(400, 8900, 390, 1.7e-8), 0.5e-3, 3e-3);
  problem.circuit.source = circuit::TableCurrent{{0, 1}, {1500, 1500}};
  problem.numerics.end_time = 2e-3;
  problem.numerics.resolution = 0.5;
  const Result whole = solve(problem);
  ASSERT_EQ(whole.ending, Ending::finished);
  ASSERT_GT(whole.history.size(), 8U);
  for (const std::size_t steps : {1U, 7U}) {
    StopAfter observer(steps);
    const Result stopped = solve(problem, &observer);
    EXPECT_EQ(stopped.ending, Ending::stopped_by_observer);
    EXPECT_EQ(stopped.ending_reason, "stopped from outside");
    ASSERT_EQ(stopped.history.size(), steps);
    EXPECT_EQ(observer.begun, 1);
    EXPECT_EQ(observer.times.size(), steps);
    for (std::size_t n = 0; n < steps; ++n) {
      EXPECT_EQ(stopped.history[n].time, whole.history[n].time);
      EXPECT_EQ(stopped.history[n].current, whole.history[n].current);
      EXPECT_EQ(stopped.history[n].peak_temperature, whole.history[n].peak_temperature);
      EXPECT_EQ(stopped.history[n].energy_in, whole.history[n].energy_in);
    }
    ASSERT_GE(observer.frames.size(), 2U);
    EXPECT_EQ(observer.frames.front(), 0);
    EXPECT_EQ(observer.frames.back(), stopped.history.back().time);
    EXPECT_LT(stopped.worst_energy_residual, 1e-9);
  }
}

}  // namespace
}  // namespace tabmelt
