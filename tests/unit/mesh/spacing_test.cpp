// Graded edges: what must be there is there, sizes follow the wish, refinement divides one map.
// Catches: a fixed edge missed by rounding, neighbours of very different size, a finer grid that is
// a different map (which would spoil every order study).
#include "mesh/spacing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <random>
#include <stdexcept>

namespace tabmelt::mesh {
namespace {

Spacing example(double resolution) {
  Spacing s;
  s.fixed = {0, 0.75e-3, 1.1e-3, 4e-3};
  s.features = {{0, 0.08e-3}, {0.75e-3, 0.03e-3}};
  s.growth = 0.2;
  s.largest = 0.8e-3;
  s.resolution = resolution;
  return s;
}

TEST(Spacing, every_fixed_edge_is_hit_exactly) {
  for (const double resolution : {0.5, 1.0, 1.7, 2.0, 4.0}) {
    const auto edges = graded_edges(example(resolution));
    for (const double fixed : example(1).fixed)
      EXPECT_NE(std::find(edges.begin(), edges.end(), fixed), edges.end()) << fixed;
    EXPECT_EQ(edges.front(), 0);
    EXPECT_EQ(edges.back(), 4e-3);
  }
}

TEST(Spacing, edges_increase_and_neighbours_are_alike) {
  const auto edges = graded_edges(example(2));
  for (std::size_t n = 2; n < edges.size(); ++n) {
    const double before = edges[n - 1] - edges[n - 2], size = edges[n] - edges[n - 1];
    ASSERT_GT(size, 0);
    // Growth 0.2 per length lets a cell be about 1.22 times its neighbour, less at resolution 2.
    // Whole numbers of cells between fixed edges add their rounding at those edges.
    EXPECT_LT(std::max(size / before, before / size), 1.35) << edges[n];
  }
}

TEST(Spacing, cells_have_the_wanted_size_at_a_feature) {
  const auto edges = graded_edges(example(1));
  const auto at = std::find(edges.begin(), edges.end(), 0.75e-3);
  // The first cell on either side; its mean wanted size is a little above the feature's.
  EXPECT_NEAR(*(at + 1) - *at, 0.03e-3, 0.15 * 0.03e-3);
  EXPECT_NEAR(*at - *(at - 1), 0.03e-3, 0.15 * 0.03e-3);
}

TEST(Spacing, doubling_the_resolution_halves_every_cell) {
  const auto coarse = graded_edges(example(1)), fine = graded_edges(example(2)),
             finer = graded_edges(example(4));
  ASSERT_EQ(fine.size() - 1, 2 * (coarse.size() - 1));
  ASSERT_EQ(finer.size() - 1, 4 * (coarse.size() - 1));
  for (std::size_t n = 0; n < coarse.size(); ++n) {
    EXPECT_NEAR(fine[2 * n], coarse[n], 1e-12);
    EXPECT_NEAR(finer[4 * n], coarse[n], 1e-12);
  }
}

// A smooth map: the ratio of neighbouring cells tends to one as the map is divided, like 1 + O(h).
TEST(Spacing, refinement_makes_neighbours_more_alike) {
  const auto worst = [](double resolution) {
    Spacing s = example(resolution);
    s.fixed = {0, 4e-3};
    s.features = {{0, 0.05e-3}};
    const auto edges = graded_edges(s);
    double largest = 0;
    for (std::size_t n = 2; n < edges.size(); ++n)
      largest = std::max(largest, (edges[n] - edges[n - 1]) / (edges[n - 1] - edges[n - 2]) - 1);
    return largest;
  };
  const double one = worst(1), four = worst(4);
  EXPECT_GT(one, 0.1);
  EXPECT_NEAR(one / four, 4, 1);
}

TEST(Spacing, nothing_is_larger_than_the_largest) {
  Spacing s = example(1);
  s.largest = 0.2e-3;
  const auto edges = graded_edges(s);
  for (std::size_t n = 1; n < edges.size(); ++n) EXPECT_LT(edges[n] - edges[n - 1], 0.2e-3 * 1.1);
}

TEST(Spacing, an_interval_may_have_a_bound_of_its_own) {
  Spacing s = example(1);
  const auto free = graded_edges(s);
  s.largest_between = {1, 0.025e-3, 1};
  const auto edges = graded_edges(s);
  const auto in = [](const std::vector<double>& all, double from, double to) {
    return std::count_if(all.begin(), all.end(),
                         [&](double x) { return x > from - 1e-12 && x < to + 1e-12; });
  };
  // 0.35 mm in cells of 0.025 mm; as before on both sides of it.
  EXPECT_EQ(in(edges, 0.75e-3, 1.1e-3) - 1, 14);
  EXPECT_LT(in(free, 0.75e-3, 1.1e-3) - 1, 9);
  EXPECT_EQ(in(edges, 0, 0.75e-3), in(free, 0, 0.75e-3));
  EXPECT_EQ(in(edges, 1.1e-3, 4e-3), in(free, 1.1e-3, 4e-3));
  s.largest_between.pop_back();
  EXPECT_THROW(graded_edges(s), std::invalid_argument);
}

TEST(Spacing, interval_smaller_than_a_cell_gets_one_cell) {
  Spacing s = example(0.5);
  s.fixed = {0, 1e-6, 4e-3};
  const auto edges = graded_edges(s);
  EXPECT_EQ(edges[1], 1e-6);
}

TEST(Spacing, refuses_what_bounds_nothing) {
  Spacing s = example(1);
  s.fixed = {0};
  EXPECT_THROW(graded_edges(s), std::invalid_argument);
  s = example(1);
  s.features.clear();
  EXPECT_THROW(graded_edges(s), std::invalid_argument);
  s = example(1);
  s.fixed = {0, 1e-3, 1e-3};
  EXPECT_THROW(graded_edges(s), std::invalid_argument);
}

// Features of any sizes, in any order, some at one place: the edges are those of the least size
// that any of them wants, here asked of all of them.
TEST(Spacing, every_feature_counts_and_hidden_ones_change_nothing) {
  std::mt19937 random(7);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  for (int trial = 0; trial < 20; ++trial) {
    Spacing s = example(1);
    s.features.clear();
    for (int n = 0; n < 30; ++n) s.features.push_back({between(-1e-3, 5e-3), between(1e-5, 1e-3)});
    s.features.push_back({s.features.front().position, between(1e-5, 1e-3)});
    const auto wanted = [&](double x) {
      double size = s.largest;
      for (const Feature& f : s.features)
        size = std::min(size, f.size + s.growth * std::abs(x - f.position));
      return size;
    };
    const auto edges = graded_edges(s);
    for (std::size_t k = 1; k < s.fixed.size(); ++k) {
      // Each cell holds the same share of the integral of dx / size between two fixed edges.
      const auto first = std::find(edges.begin(), edges.end(), s.fixed[k - 1]);
      const auto last = std::find(edges.begin(), edges.end(), s.fixed[k]);
      const auto integral = [&](double a, double b) {
        double sum = 0;
        constexpr int parts = 4000;
        for (int m = 0; m < parts; ++m)
          sum += (b - a) / parts / wanted(a + (m + 0.5) * (b - a) / parts);
        return sum;
      };
      const double share = integral(*first, *last) / static_cast<double>(last - first);
      for (auto edge = first; edge != last; ++edge)
        EXPECT_NEAR(integral(*edge, *(edge + 1)), share, 2e-3 * share);
    }
  }
}

double seconds_to_mesh(int layers) {
  Spacing s = example(1);
  s.fixed.clear();
  s.features.clear();
  for (int n = 0; n <= layers; ++n) {
    s.fixed.push_back(1e-5 * n);
    s.features.push_back({1e-5 * n, 2e-6});
  }
  double least = 1e9;
  for (int trial = 0; trial < 3; ++trial) {
    const std::clock_t begun = std::clock();
    graded_edges(s);
    least = std::min(least, static_cast<double>(std::clock() - begun) / CLOCKS_PER_SEC);
  }
  return least;
}

// Ten times the layers: ten times the work, a hundred times if each asked all others.
TEST(Spacing, work_grows_with_the_number_of_layers) {
  EXPECT_LT(seconds_to_mesh(1000), 30 * seconds_to_mesh(100));
}

}  // namespace
}  // namespace tabmelt::mesh
