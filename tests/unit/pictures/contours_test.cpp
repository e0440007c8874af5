// Contours against areas and lengths known by hand.
#include "viz/pictures/contours.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>

namespace tabmelt::pictures {
namespace {

// n x n cells over the square from -1 to 1; `hole` leaves out the cell in the middle of each
// quarter.
Mesh square(int n, bool hole = false) {
  Mesh mesh;
  for (int j = 0; j <= n; ++j) {
    for (int i = 0; i <= n; ++i) {
      mesh.nodes.push_back({-1 + 2.0 * i / n, -1 + 2.0 * j / n});
    }
  }
  for (int j = 0; j < n; ++j) {
    for (int i = 0; i < n; ++i) {
      const bool left_out = hole && i % (n / 2) == n / 4 && j % (n / 2) == n / 4;
      const int corner = j * (n + 1) + i;
      if (!left_out) {
        mesh.cells.push_back({corner, corner + 1, corner + n + 2, corner + n + 1});
      }
    }
  }
  return mesh;
}

std::vector<float> values(const Mesh& mesh, const std::function<double(Point)>& field) {
  std::vector<float> at_nodes;
  for (const Point& node : mesh.nodes) {
    at_nodes.push_back(static_cast<float>(field(node)));
  }
  return at_nodes;
}

// Positive where the inside lies at the left.
double area(const std::vector<Polyline>& outlines) {
  double twice = 0;
  for (const Polyline& line : outlines) {
    EXPECT_EQ(line.front(), line.back()) << "open";
    for (std::size_t k = 1; k < line.size(); ++k) {
      twice += line[k - 1].x * line[k].y - line[k].x * line[k - 1].y;
    }
  }
  return 0.5 * twice;
}

TEST(Contours, plane_is_cut_along_a_straight_line) {
  const Mesh mesh = square(10);
  const auto field = values(mesh, [](Point p) { return p.x + 0.5 * p.y; });
  const Contours contours(mesh);
  const auto lines = contours.lines_at(field, 0.123);
  ASSERT_EQ(lines.size(), 1U);
  for (const Point& p : lines.front()) {
    EXPECT_NEAR(p.x + 0.5 * p.y, 0.123, 1e-6);
  }
  EXPECT_NEAR(lines.front().front().y, 1, 1e-6) << "higher at the left of its way down";
  EXPECT_NEAR(area(contours.outlines(field, 0.123)), 2 * (1 - 0.123), 1e-6);
}

TEST(Contours, all_or_nothing_of_a_mesh_with_holes) {
  const Mesh mesh = square(20, true);
  const auto field = values(mesh, [](Point p) { return p.x; });
  const Contours contours(mesh);
  EXPECT_EQ(contours.outlines(field, -2).size(), 5U);
  EXPECT_NEAR(area(contours.outlines(field, -2)), 4 - 4 * 0.01, 1e-9);
  EXPECT_TRUE(contours.outlines(field, 2).empty());
  EXPECT_TRUE(contours.lines_at(field, -2).empty());
}

TEST(Contours, circle_is_met_to_second_order) {
  double before = 0;
  for (const int n : {20, 40, 80}) {
    const Mesh mesh = square(n);
    const auto field = values(mesh, [](Point p) { return 0.64 - p.x * p.x - p.y * p.y; });
    const Contours contours(mesh);
    EXPECT_EQ(contours.lines_at(field, 0).size(), 1U);
    const double error = std::abs(area(contours.outlines(field, 0)) - M_PI * 0.64);
    // Linear along a side of length h, the field is off by h^2/6 in the mean, which moves the line
    // by h^2/(12 r). Chords about as long as h lie as far inside, and half as far again the smooth
    // curve that touches their middles, h^2/(8 r): 2 pi h^2 (1/12 + 1/8) in all.
    const double h = 2.0 / n;
    EXPECT_LT(error, 2 * M_PI * h * h * (1.0 / 12 + 1.0 / 8));
    if (before > 0) {
      EXPECT_GT(before / error, 3);
    }
    before = error;
  }
}

// Two opposite corners high: hills apart where the middle is low, a ridge where it is high.
TEST(Contours, saddle_follows_its_middle) {
  const Mesh mesh = square(1);
  const Contours contours(mesh);
  EXPECT_EQ(contours.outlines({1, 0, 0, 1}, 0.6).size(), 2U);
  EXPECT_EQ(contours.outlines({1, 0, 0, 1}, 0.4).size(), 1U);
  EXPECT_NEAR(area(contours.outlines({1, 0, 0, 1}, 0.6)), 2 * 0.5 * 0.8 * 0.8, 1e-6);
  EXPECT_NEAR(area(contours.outlines({1, 0, 0, 1}, 0.4)), 4 - 2 * 0.5 * 0.8 * 0.8, 1e-6);
}

}  // namespace
}  // namespace tabmelt::pictures
