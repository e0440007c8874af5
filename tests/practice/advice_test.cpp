// Advice followed leads to a good weld; the long list is printed by practice_advice.
#include <gtest/gtest.h>

#include "tests/practice/advice_starts.h"

namespace tabmelt::practice {
namespace {

TEST(Advice, bad_starts_end_in_a_good_weld_or_in_a_proof) {
  int bad = 0, ended = 0;
  for (const std::string& text : starts(12)) {
    const Led one = led(text);
    if (one.start_good) continue;
    ++bad;
    ended += one.to_good || one.to_proof ? 1 : 0;
    for (const study::Remedy* remedy : one.study.offered()) EXPECT_TRUE(remedy->run.good);
    if (bad == 3) break;
  }
  EXPECT_EQ(bad, 3);
  EXPECT_EQ(ended, bad);
}

}  // namespace
}  // namespace tabmelt::practice
