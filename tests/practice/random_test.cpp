// Random cases end, with contacts that came to rest and an energy balance that closes.
// Catches: rounds that chase each other; steps without end; energy lost at a burst or a landing.
#include <gtest/gtest.h>

#include "io/case/read_case.h"
#include "solver/solve.h"
#include "tests/practice/random_cases.h"

namespace tabmelt::practice {
namespace {

TEST(RandomCases, end_with_settled_contacts_and_closed_energy) {
  constexpr int cases = 60;
  std::size_t steps = 0, unsettled = 0;
  int number = 0;
  for (const std::string& text : random_cases(cases, 0.3)) {
    const Result r = solve(read_case_text(text, TABMELT_SOURCE_DIR "/cases/random.toml").problem);
    // A run that leaves what the model describes ends early and says so.
    EXPECT_TRUE(r.ending == Ending::finished || !r.beyond_model.empty())
        << "case " << number << ": " << r.ending_reason;
    EXPECT_LT(r.worst_energy_residual, 1e-9) << "case " << number;
    EXPECT_LT(r.history.size(), 3000u) << "case " << number;
    steps += r.history.size();
    unsettled += static_cast<std::size_t>(r.unsettled_steps);
    ++number;
  }
  EXPECT_LT(static_cast<double>(unsettled), 0.003 * static_cast<double>(steps));
}

}  // namespace
}  // namespace tabmelt::practice
