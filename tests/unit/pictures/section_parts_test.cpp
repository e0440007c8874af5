// The pieces behind the pictures, without drawing.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/regions.h"
#include "tests/support/synthetic_run.h"
#include "viz/pictures/current_lines.h"
#include "viz/pictures/outlines.h"
#include "viz/pictures/section_mesh.h"
#include "viz/pictures/section_panel.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {
namespace {

using testing::synthetic_run;

TEST(Scale, BandsCoverTheRunAndAreFinerWhereTheCellIsJudged) {
  const Scale hot = temperature_scale(20, 1900);
  EXPECT_DOUBLE_EQ(hot.edges.front(), 20);
  EXPECT_GE(hot.edges.back(), 1900);
  EXPECT_TRUE(std::is_sorted(hot.edges.begin(), hot.edges.end()));
  EXPECT_LE(hot.edges[1] - hot.edges[0], 20);
  EXPECT_EQ(hot.colours.size() + 1, hot.edges.size());
  for (const double hottest : {20.0, 20.5, 47.0, 249.0, 7000.0}) {
    const Scale scale = temperature_scale(20, hottest);
    EXPECT_GE(scale.edges.size(), 2U) << hottest;
    EXPECT_LE(scale.edges.size(), 24U) << hottest;
  }
}

TEST(Mesh, RegionsKeepTheirOwnValuesAtTheirInterface) {
  StoredRun run = synthetic_run({.frames = 1});
  std::vector<float> field(run.region.size());
  std::transform(run.region.begin(), run.region.end(), field.begin(),
                 [](std::uint8_t region) { return region == regions::strip ? 1.0F : 0.0F; });
  const Window window{2e-3, -1e-3, 1e-3};
  for (const auto& [region, value] : {std::pair{regions::strip, 1.0F}, {regions::can, 0.0F}}) {
    const SectionMesh section = section_mesh(run, {region}, window);
    EXPECT_GT(section.mesh.cells.size(), 100U);
    for (const float at_node : section.at_nodes(field)) {
      EXPECT_EQ(at_node, value);
    }
  }
}

TEST(Mesh, ConeStoredInStepsIsStraightAgain) {
  const StoredRun run = synthetic_run({.frames = 1});
  const Polyline outline = silhouette(run, regions::electrode);
  ASSERT_GE(outline.size(), 3U);
  for (const Point& p : outline) {
    const double cone = std::min(1.5e-3, 0.75e-3 + 1.1 * (p.y - 0.15e-3));
    const auto next = std::upper_bound(run.r_edges.begin(), run.r_edges.end(), cone + 1e-9);
    const double cell = *next - *(next - 1);
    EXPECT_NEAR(p.x, cone, 0.6 * cell) << "at height " << p.y;
  }
  EXPECT_TRUE(silhouette(run, regions::can).empty());
}

TEST(Mesh, IsolineOfALinearFieldLiesWhereItShould) {
  StoredRun run = synthetic_run({.frames = 1});
  std::vector<float> field(run.region.size());
  const std::size_t nr = columns(run);
  for (std::size_t cell = 0; cell < field.size(); ++cell) {
    field[cell] = static_cast<float>(0.5e3 * (run.r_edges[cell % nr] + run.r_edges[cell % nr + 1]));
  }
  const SectionMesh section = section_mesh(run, {regions::can}, {0.7e-3, -0.3e-3, 0});
  const auto lines = Contours(section.mesh).lines_at(section.at_nodes(field), 0.4);
  ASSERT_EQ(lines.size(), 1U);
  for (const Point& p : lines[0]) {
    EXPECT_NEAR(p.x, 0.4, 1e-3);  // [mm]; even spacing: node averages are exact
  }
}

TEST(Mesh, OutlineOfMeltClosesAlongAnInterfaceThatMeltsOnOneSideOnly) {
  StoredRun run = synthetic_run({.frames = 1});
  std::vector<float> liquid(run.region.size(), 0);
  for (std::size_t cell = 0; cell < liquid.size(); ++cell) {
    const double r = run.r_edges[cell % columns(run) + 1];
    liquid[cell] = run.region[cell] == regions::strip && r < 0.31e-3 ? 1.0F : 0.0F;
  }
  const Window window{1e-3, -0.5e-3, 0.5e-3};
  const auto lines = set_outline(run, liquid, 0.5, {regions::strip, regions::can}, window);
  double along_joint = 0;
  for (const Polyline& line : lines) {
    if (std::abs(line.front().y) < 1e-9 && std::abs(line.back().y) < 1e-9) {
      along_joint += std::abs(line.back().x - line.front().x);
    }
  }
  EXPECT_NEAR(along_joint, 0.3, 0.026);  // [mm], one cell
}

TEST(Current, LinesCarryEqualSharesOfTheCurrent) {
  const StoredRun run = synthetic_run();
  const Frame frame = run.frame(nearest_frame(run, 1e-3));
  const Window window{2e-3, -1e-3, 3e-3};
  const CurrentLines flow = current_lines(run, frame, 4, window);
  EXPECT_NEAR(flow.total, *value_at(run, "current", frame.time), 5);
  EXPECT_GE(flow.lines.size(), 3U);
  // High in the body the current density is even: a quarter flows inside half the radius.
  const double half = 0.75;  // [mm]
  bool found = false;
  for (const Polyline& line : flow.lines) {
    for (const Point& p : line) {
      found = found || (p.y > 2.5 && std::abs(p.x - half) < 0.02);
    }
  }
  EXPECT_TRUE(found);
  EXPECT_LT(current_direction(run, frame, {0.3, 2.5}).y, 0);
}

TEST(Moments, AreInOrderAndNameWhatHappens) {
  const StoredRun run = synthetic_run({.frames = 60});
  const auto moments = telling_moments(run);
  ASSERT_GE(moments.size(), 3U);
  std::string all;
  for (std::size_t n = 0; n < moments.size(); ++n) {
    EXPECT_TRUE(n == 0 || moments[n].frame > moments[n - 1].frame);
    all += moments[n].name + ";";
  }
  for (const char* const name :
       {"first heat", "peak current", "first melt", "largest nugget", "hottest inner wall"}) {
    EXPECT_NE(all.find(name), std::string::npos) << name;
  }
}

TEST(Moments, WithoutMeltTheHottestJointIsShown) {
  const auto moments = telling_moments(synthetic_run({.rise = 500}));
  std::string all;
  for (const Moment& moment : moments) {
    all += moment.name + ";";
  }
  EXPECT_NE(all.find("hottest joint"), std::string::npos);
  EXPECT_EQ(all.find("nugget"), std::string::npos);
}

TEST(Window, ShowsTipAndWarmPlaceAndStaysOnTheMesh) {
  const StoredRun run = synthetic_run();
  const Window window = window_around_spot(run, 1.34);
  EXPECT_GT(window.r_max, 0.75e-3);
  EXPECT_LE(window.r_max, 9e-3);
  EXPECT_LT(window.z_min, -0.3e-3);
  EXPECT_GT(window.z_max, 0.15e-3);
  EXPECT_NEAR(2 * window.r_max / (window.z_max - window.z_min), 1.34, 1e-9);
}

}  // namespace
}  // namespace tabmelt::pictures
