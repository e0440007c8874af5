// What is said about the grid of a run.
#include "io/report/grid_section.h"

#include <gtest/gtest.h>

#include "tests/support/contains.h"

namespace tabmelt {

using namespace report;
namespace {

// Of a temperature the rise counts: 9 K of a rise of 1000 K is below one per cent.
const FigureError sure{"hottest of the joint", "K", 1293, 293, 9};
const FigureError doubtful{"nugget diameter", "m", 0.5e-3, 0, 0.01e-3};

TEST(GridSection, errors_refer_to_the_rise) {
  EXPECT_DOUBLE_EQ(sure.relative(), 0.009);
  EXPECT_DOUBLE_EQ(doubtful.relative(), 0.02);
}

TEST(GridSection, names_what_is_not_promised_and_nothing_else) {
  const std::string words = own_error_words({sure, doubtful});
  EXPECT_TRUE(contains(words, "more than 1 % to: nugget diameter (2 %)")) << words;
  EXPECT_FALSE(contains(words, "joint"));
  EXPECT_TRUE(contains(own_error_words({sure}), "less than 1 %"));
}

TEST(GridSection, without_an_estimate_says_so) {
  const Section section = grid_section(Result{});
  ASSERT_EQ(section.blocks.size(), 1u);
  EXPECT_TRUE(
      contains(std::get<Prose>(section.blocks[0]).phrases().at(0).words, "was not estimated"));
}

}  // namespace
}  // namespace tabmelt
