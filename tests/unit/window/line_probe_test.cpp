// Places and lines through a section, against fields whose values along a line are known.
#include "viz/window/line_probe.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/regions.h"
#include "tests/support/synthetic_run.h"

namespace tabmelt::window {
namespace {

using testing::synthetic_run;

constexpr std::size_t count = 201;

// a + b r + c z [mm]
std::vector<float> linear_field(const StoredRun& run, double a, double b, double c) {
  return testing::field_of(
      run, [=](const testing::Middle& at) { return a + 1e3 * b * at.r + 1e3 * c * at.z; });
}

TEST(Place, knows_its_part_in_both_halves) {
  const StoredRun run = synthetic_run({.frames = 1});
  EXPECT_EQ(part_at(run, {0.1, 0.05}), "strip");
  EXPECT_EQ(part_at(run, {-0.1, 0.05}), "strip");
  EXPECT_EQ(part_at(run, {0.1, -0.1}), "can");
  EXPECT_EQ(part_at(run, {0.1, -0.4}), "insulating disc");
  EXPECT_EQ(part_at(run, {0.1, 3}), "electrode");
  EXPECT_EQ(part_at(run, {4, 3}), "") << "beside the electrode";
  EXPECT_EQ(part_at(run, {0.1, 50}), "");
  EXPECT_EQ(cell_at(run, {-0.1, -0.1}), cell_at(run, {0.1, -0.1}));
}

TEST(Line, passes_the_cells_of_a_row_in_order_and_covers_them) {
  const StoredRun run = synthetic_run({.frames = 1});
  const auto stretches = stretches_along(run, {{0, -0.1}, {0.5, -0.1}});
  ASSERT_GT(stretches.size(), 10U);
  double covered = 0;
  for (std::size_t k = 0; k < stretches.size(); ++k) {
    covered += stretches[k].end - stretches[k].begin;
    EXPECT_EQ(stretches[k].part, regions::can);
    EXPECT_EQ(stretches[k].cell, stretches.front().cell + k) << "radius runs fastest";
  }
  EXPECT_NEAR(covered, 1, 1e-9);
}

// Along a radius in a field linear in r, between the middles of the first and last cell.
TEST(Line, profile_of_a_linear_field_is_exact) {
  const StoredRun run = synthetic_run({.frames = 1});
  const auto values = linear_field(run, 20, 3, 0);
  const ProbeLine line{{0.1, -0.1}, {0.6, -0.1}};
  const auto along = profile(stretches_along(run, line), values, count);
  ASSERT_EQ(along.size(), count);
  for (std::size_t n = 10; n + 10 < count; ++n) {
    const double r = std::lerp(0.1, 0.6, static_cast<double>(n) / (count - 1));
    EXPECT_NEAR(along[n], 20 + 3 * r, 1e-5);
  }
}

TEST(Line, profile_is_mirrored_at_the_axis_and_turns_round_with_the_line) {
  const StoredRun run = synthetic_run({.frames = 1});
  const auto values = linear_field(run, 0, 1, 2);
  const auto across = profile(stretches_along(run, {{-0.4, -0.1}, {0.4, -0.1}}), values, count);
  const auto there = profile(stretches_along(run, {{0.3, 0.4}, {0.1, -0.6}}), values, count);
  const auto back = profile(stretches_along(run, {{0.1, -0.6}, {0.3, 0.4}}), values, count);
  for (std::size_t n = 0; n < count; ++n) {
    EXPECT_NEAR(across[n], across[count - 1 - n], 1e-6);
    // At the very edge of two cells the one or the other may answer.
    EXPECT_NEAR(there[n], back[count - 1 - n], 0.05) << n;
  }
}

TEST(Line, keeps_the_jump_across_a_contact) {
  const StoredRun run = synthetic_run({.frames = 1});
  std::vector<float> values(run.region.size());
  std::transform(run.region.begin(), run.region.end(), values.begin(),
                 [](std::uint8_t part) { return part == regions::strip ? 1000.0F : 100.0F; });
  const auto along = profile(stretches_along(run, {{0.2, 0.1}, {0.2, -0.1}}), values, count);
  for (std::size_t n = 0; n < count; ++n) {
    EXPECT_EQ(along[n], n < count / 2 ? 1000 : n > count / 2 ? 100 : along[n]) << n;
  }
}

TEST(Line, beside_the_parts_there_is_nothing) {
  const StoredRun run = synthetic_run({.frames = 1});
  const std::vector<float> values(run.region.size(), 1);
  const auto along = profile(stretches_along(run, {{0, 3}, {3, 3}}), values, count);
  EXPECT_EQ(along.front(), 1);
  EXPECT_TRUE(std::isnan(along.back()));
  EXPECT_TRUE(stretches_along(run, {{20, 3}, {30, 3}}).empty());
  const auto point = stretches_along(run, {{0.1, -0.1}, {0.1, -0.1}});
  EXPECT_EQ(profile(point, values, 2).size(), 2U);
}

}  // namespace
}  // namespace tabmelt::window
