#include "solver/search/window.h"

#include <gtest/gtest.h>

#include "tests/unit/search/analytic.h"

namespace tabmelt::study {
namespace {

// Good from 24 to 37 in the first, up to 6 in the second, everywhere in the third.
Margins box(const Point& p) {
  return {{"cold", p[0] / 24 - 1}, {"hot", 1 - p[0] / 37}, {"parts", 6.5 - p[1]}};
}

const std::vector<KnobRange> ranges{
    {30, 15, 60, false, true}, {4, 1, 20, true, false}, {0.5, 0, 1, false, false}};

TEST(Window, halving_finds_both_edges_to_the_stated_width) {
  const auto found = windows(judged_by(box), {30, 4, 0.5}, ranges, 8);
  ASSERT_TRUE(found[0].known);
  EXPECT_LE(found[0].below.bad, 24);
  EXPECT_GE(found[0].below.good, 24);
  EXPECT_LE(found[0].above.good, 37);
  EXPECT_GE(found[0].above.bad, 37);
  // An octave halved eight times in the logarithm.
  EXPECT_NEAR(found[0].above.bad / found[0].above.good, std::pow(2.0, 1.0 / 256), 1e-9);
  EXPECT_EQ(found[0].below.verdict, "cold");
  EXPECT_EQ(found[0].above.verdict, "hot");
}

TEST(Window, whole_numbers_stop_at_neighbours) {
  const auto found = windows(judged_by(box), {30, 4, 0.5}, ranges, 8);
  EXPECT_EQ(found[1].above.good, 6);
  EXPECT_EQ(found[1].above.bad, 7);
  EXPECT_TRUE(found[1].below.open);
  EXPECT_EQ(found[1].below.good, 1);
}

TEST(Window, good_to_the_end_of_the_range_is_said) {
  const auto found = windows(judged_by(box), {30, 4, 0.5}, ranges, 3);
  EXPECT_TRUE(found[2].below.open && found[2].above.open);
  EXPECT_EQ(found[2].above.good, 1);
}

TEST(Window, needs_one_batch_for_each_halving) {
  int batches = 0;
  windows(
      [&](const std::vector<Point>& points) {
        ++batches;
        return judged_by(box)(points);
      },
      {30, 4, 0.5}, ranges, 5);
  EXPECT_EQ(batches, 7);  // the start, the ends, five halvings
}

TEST(Window, of_a_bad_start_or_a_stopped_study_is_not_known) {
  EXPECT_FALSE(windows(judged_by(box), {10, 4, 0.5}, ranges)[0].known);
  EXPECT_FALSE(windows(stopping_after(judged_by(box), 4), {30, 4, 0.5}, ranges)[0].known);
}

}  // namespace
}  // namespace tabmelt::study
