// When rounds of contacts and field have come to rest.
// Catches: a pair of states that chase each other for ever; growth taken for rest.
#include "solver/coupling/rounds.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tabmelt {
namespace {

// Rounds until they settle, 0 if they get stuck first. `next` gives the load that the mixture of
// answers asks for, in logarithms.
template <class Next>
int rounds_needed(Next next, double tolerance, double& load) {
  Rounds rounds(tolerance);
  double log_load = 0;
  for (int k = 1; k < 500; ++k) {
    const double before = std::exp(log_load);
    log_load += rounds.weight() * (next(log_load) - log_load);
    load = std::exp(log_load);
    rounds.add(load, std::abs(load - before) / load, false);
    if (rounds.settled()) return k;
    if (rounds.stuck()) return 0;
  }
  return 0;
}

TEST(Rounds, find_the_fixed_point_of_a_steady_answer) {
  double load = 0;
  const int rounds = rounds_needed([](double x) { return 0.5 * x + 0.5; }, 1e-4, load);
  EXPECT_GT(rounds, 2);
  EXPECT_LT(rounds, 40);
  EXPECT_NEAR(load, std::exp(1.0), 1e-3);
}

// Above the load 1 the answer is 0.5, below it 2: only the mixture rests.
TEST(Rounds, come_to_rest_between_two_states_that_call_for_each_other) {
  double load = 0;
  const auto jump = [](double x) { return x > 0.1 ? std::log(0.5) : std::log(2.0); };
  EXPECT_GT(rounds_needed(jump, 5e-3, load), 10);
  EXPECT_NEAR(load, std::exp(0.1), 0.02);
}

TEST(Rounds, are_stuck_where_even_the_least_weight_does_not_help) {
  Rounds rounds(1e-6);
  int k = 0;
  for (; k < 200 && !rounds.stuck(); ++k) rounds.add(k % 2 == 0 ? 1 : 2, 0.5, false);
  EXPECT_TRUE(rounds.stuck());
  EXPECT_FALSE(rounds.settled());
  EXPECT_LT(k, 60);
}

// A face that is still held back hides how far it has to go: a small change does not suffice.
TEST(Rounds, ask_more_of_a_round_in_which_a_face_grows) {
  Rounds growing(1e-3), resting(1e-3);
  for (Rounds* rounds : {&growing, &resting}) rounds->add(1, 1, false);
  growing.add(1, 5e-4, true);
  resting.add(1, 5e-4, false);
  EXPECT_FALSE(growing.settled());
  EXPECT_TRUE(resting.settled());
  growing.add(1, 1e-5, true);
  EXPECT_TRUE(growing.settled());
}

}  // namespace
}  // namespace tabmelt
