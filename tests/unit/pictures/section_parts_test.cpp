// The pieces behind the pictures, without drawing.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "tests/support/regions.h"
#include "tests/support/seen.h"
#include "tests/support/synthetic_run.h"
#include "viz/pictures/current_lines.h"
#include "viz/pictures/outlines.h"
#include "viz/pictures/section_mesh.h"
#include "viz/pictures/section_panel.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {
namespace {

using namespace tabmelt::testing;

TEST(Scale, is_the_same_for_every_run_and_tells_melts_apart) {
  const Scale hot = temperature_scale(synthetic_run());
  const Scale cold = temperature_scale(synthetic_run({.rise = 8}));
  EXPECT_EQ(hot.edges, cold.edges);
  for (const double degrees : {25.0, 300.0, 1100.0, 2400.0}) {
    EXPECT_EQ(lightness(hot.colour_of(degrees)), lightness(cold.colour_of(degrees)));
  }
  EXPECT_DOUBLE_EQ(hot.edges.front(), 20);
  EXPECT_DOUBLE_EQ(hot.edges.back(), 3000);
  EXPECT_TRUE(std::is_sorted(hot.edges.begin(), hot.edges.end()));
  EXPECT_EQ(hot.colours.size() + 1, hot.edges.size());
  // Copper (1085), nickel (1455), steel (about 1500) and what is hotter each have their own band.
  std::vector<double> seen;
  for (const double degrees : {950.0, 1085.0, 1250.0, 1455.0, 1501.0, 1700.0, 1900.0, 2600.0}) {
    seen.push_back(lightness(hot.colour_of(degrees)));
  }
  for (std::size_t n = 1; n < seen.size(); ++n) EXPECT_GT(seen[n], seen[n - 1] + 1) << n;
}

TEST(Scale, lukewarm_does_not_glow) {
  const Scale scale = temperature_scale();
  const Colour ambient = scale.colour_of(20), warm = scale.colour_of(55);
  EXPECT_LT(lightness(warm) - lightness(ambient), 6);
  EXPECT_LT(lightness(warm), 35);
  EXPECT_LT(warm.red, warm.blue) << "not a warm hue";
}

TEST(Scale, marks_melting_boiling_and_limits_once) {
  const Scale scale = temperature_scale(synthetic_run());
  std::vector<std::string> words;
  for (const ScaleMark& mark : scale.marks) words.push_back(mark.words);
  const auto marked = [&](const std::string& name) {
    return std::count(words.begin(), words.end(), name);
  };
  for (const char* const metal : {"strip", "can", "electrode"}) {
    EXPECT_EQ(marked(metal + std::string(" melts")), 1);
    EXPECT_EQ(marked(metal + std::string(" boils")), 1);
  }
  EXPECT_EQ(marked("inner can wall limit"), 1);
  EXPECT_EQ(marked("insulating disc limit"), 1);
  EXPECT_EQ(words.size(), 8U);
}

TEST(Scale, a_chosen_range_has_even_bands_in_round_numbers) {
  const Scale scale = temperature_scale(TemperatureRange{20, 400});
  EXPECT_LE(scale.edges.front(), 20);
  EXPECT_GE(scale.edges.back(), 400);
  EXPECT_GE(scale.colours.size(), 8U);
  for (std::size_t k = 1; k < scale.edges.size(); ++k) {
    EXPECT_NEAR(scale.edges[k] - scale.edges[k - 1], scale.edges[1] - scale.edges[0], 1e-9);
  }
}

TEST(Mesh, regions_keep_their_own_values_at_their_interface) {
  StoredRun run = synthetic_run({.frames = 1});
  std::vector<float> field(run.region.size());
  std::transform(run.region.begin(), run.region.end(), field.begin(),
                 [](std::uint8_t region) { return region == regions::strip ? 1.0F : 0.0F; });
  const Window window{2e-3, -1e-3, 1e-3};
  for (const auto& [region, value] : {std::pair{regions::strip, 1.0F}, {regions::can, 0.0F}}) {
    const Section section(run, {region}, window);
    EXPECT_GT(section.mesh.cells.size(), 100U);
    for (const float at_node : section.at_nodes(field)) {
      EXPECT_NEAR(at_node, value, 1e-6);
    }
  }
}

// T = a + b r^2 is the regular field at the axis, T = c z the one across a sheet: both reach the
// part's edges without a step.
TEST(Mesh, nodes_on_surfaces_go_on_where_the_cells_lead) {
  const StoredRun run = synthetic_run({.frames = 1});
  const auto field = field_of(run, [](const Middle& at) { return 2e6 * at.z + 1e9 * at.r * at.r; });
  const Section section(run, {regions::strip, regions::can}, {0.5e-3, -0.3e-3, 0.15e-3});
  const std::vector<float> values = section.at_nodes(field);
  for (std::size_t n = 0; n < values.size(); ++n) {
    const double r = 1e-3 * section.mesh.nodes[n].x, z = 1e-3 * section.mesh.nodes[n].y;
    if (r > 0.45e-3) continue;
    // Between columns r^2 is taken as straight: up to a quarter of the square of their distance.
    EXPECT_NEAR(values[n], 2e6 * z + 1e9 * r * r, 1e9 * 0.25 * 25e-6 * 25e-6 + 0.01)
        << "r " << r << " z " << z;
    if (r == 0) {
      EXPECT_NEAR(values[n], 2e6 * z, 0.01);
    }
  }
}

// lift = (r^2 - b^2) / (2 R)
TEST(Mesh, domed_tip_lifts_off_beside_what_touches) {
  const StoredRun run = synthetic_run();
  const auto tip = tip_of(run);
  ASSERT_TRUE(tip && tip->curvature);
  EXPECT_DOUBLE_EQ(tip->lift(0.4e-3, 0.5e-3), 0);
  EXPECT_NEAR(tip->lift(0.7e-3, 0.5e-3), (0.49e-6 - 0.25e-6) / 10e-3, 1e-12);
  Section section(run, {regions::electrode}, {1e-3, 0, 0.5e-3}, 5e-3);
  const double touching = touching_radius(run, 5e-3);
  EXPECT_NEAR(touching, 0.55e-3, 1e-5);
  double highest = 0;
  for (std::size_t n = 0; n < section.mesh.nodes.size(); ++n) {
    const Point &node = section.mesh.nodes[n], &flat = section.flat[n];
    if (flat.y > 0.1501) continue;
    EXPECT_NEAR(node.y, 0.15 + 1e3 * tip->lift(1e-3 * flat.x, touching), 1e-9);
    EXPECT_LE(node.x, 1e3 * tip->cone(1e-3 * node.y) + 1e-9) << "inside the cone";
    highest = std::max(highest, node.y);
  }
  EXPECT_GT(highest, 0.15 + 0.02);
  // The first time it touches over less.
  EXPECT_LT(touching_radius(run, 0), 0.45e-3);
  // A truly flat face stays flat.
  StoredRun flat = run;
  flat.scalars.erase("electrode_face_radius");
  EXPECT_TRUE(tip_of(flat)->arc(touching).empty());
}

TEST(Mesh, cone_stored_in_steps_is_straight_again) {
  StoredRun run = synthetic_run({.frames = 1});
  run.scalars.erase("tip_radius");  // a run that does not say what its tip is like
  const Polyline outline = silhouette(run, regions::electrode);
  ASSERT_GE(outline.size(), 3U);
  for (const Point& p : outline) {
    const double cone = std::min(1.5e-3, 0.75e-3 + 1.1 * (p.y - 0.15e-3));
    const auto next = std::upper_bound(run.r_edges.begin(), run.r_edges.end(), cone + 1e-9);
    const double cell = *next - *(next - 1);
    EXPECT_NEAR(p.x, cone, 0.6 * cell) << "at height " << p.y;
  }
  for (const Point& p : silhouette(synthetic_run({.frames = 1}), regions::electrode)) {
    EXPECT_NEAR(p.x, std::min(1.5e-3, 0.75e-3 + 1.1 * (p.y - 0.15e-3)), 1e-9);
  }
  EXPECT_TRUE(silhouette(run, regions::can).empty());
}

TEST(Mesh, isoline_of_a_linear_field_lies_where_it_should) {
  StoredRun run = synthetic_run({.frames = 1});
  const auto field = field_of(run, [](const Middle& at) { return 1e3 * at.r; });
  const Section section(run, {regions::can}, {0.7e-3, -0.3e-3, 0});
  const auto lines = section.contours.lines_at(section.at_nodes(field), 0.4);
  ASSERT_EQ(lines.size(), 1U);
  for (const Point& p : lines[0]) {
    EXPECT_NEAR(p.x, 0.4, 1e-3);  // [mm]; even spacing: node averages are exact
  }
}

TEST(Mesh, outline_of_melt_closes_along_an_interface_that_melts_on_one_side_only) {
  StoredRun run = synthetic_run({.frames = 1});
  run.scalars.clear();  // no melting temperatures: the liquid fraction tells
  std::vector<float> liquid(run.region.size(), 0);
  for (std::size_t cell = 0; cell < liquid.size(); ++cell) {
    const double r = run.r_edges[cell % columns(run) + 1];
    liquid[cell] = run.region[cell] == regions::strip && r < 0.31e-3 ? 1.0F : 0.0F;
  }
  const Window window{1e-3, -0.5e-3, 0.5e-3};
  const Section section(run, {regions::strip, regions::can}, window);
  const auto lines = melt_outline(run, section, std::vector<float>(liquid.size(), 300), liquid);
  double along_joint = 0;
  for (const Polyline& line : lines) {
    if (std::abs(line.front().y) < 1e-9 && std::abs(line.back().y) < 1e-9) {
      along_joint += std::abs(line.back().x - line.front().x);
    }
  }
  EXPECT_NEAR(along_joint, 0.3, 0.026);  // [mm], one cell
}

// Each metal at half melted by its own temperatures: on T = T0 - s r the edge lies at (T0 - Tm) /
// s.
TEST(Mesh, outline_of_melt_follows_each_metals_own_melting) {
  StoredRun run = synthetic_run({.frames = 1});
  run.scalars["strip_solidus"] = run.scalars["strip_liquidus"] = 1700;
  run.scalars["can_solidus"] = 1780;
  run.scalars["can_liquidus"] = 1820;
  const auto kelvin = field_of(run, [](const Middle& at) { return 2000 - 1e6 * at.r; });
  const Section section(run, {regions::strip, regions::can}, {0.6e-3, -0.3e-3, 0.15e-3});
  const auto lines = melt_outline(run, section, kelvin, std::vector<float>(kelvin.size(), 0));
  int strip = 0, can = 0;
  for (const Polyline& line : lines) {
    for (const Point& p : line) {
      if (p.y > 1e-6 && p.y < 0.149) {
        EXPECT_NEAR(p.x, 0.3, 1e-3);
        ++strip;
      } else if (p.y < -1e-6 && p.y > -0.299) {
        EXPECT_NEAR(p.x, 0.2, 1e-3);
        ++can;
      }
    }
  }
  EXPECT_GT(strip, 5);
  EXPECT_GT(can, 5);
}

// A circle cut into cells is drawn as a circle: no corner of it turns by more than a few degrees.
TEST(Mesh, isotherms_have_no_corners_that_come_from_the_cells) {
  const StoredRun run = synthetic_run({.frames = 1});
  const auto field =
      field_of(run, [](const Middle& at) { return 1e3 * std::hypot(at.r, at.z + 0.3e-3); });
  const Section section(run, {regions::can}, {0.5e-3, -0.3e-3, 0});
  const auto lines = section.contours.lines_at(section.at_nodes(field), 0.2);
  ASSERT_EQ(lines.size(), 1U);
  const Polyline& line = lines[0];
  for (std::size_t k = 1; k + 1 < line.size(); ++k) {
    const double before = std::atan2(line[k].y - line[k - 1].y, line[k].x - line[k - 1].x);
    const double after = std::atan2(line[k + 1].y - line[k].y, line[k + 1].x - line[k].x);
    EXPECT_LT(std::abs(std::remainder(after - before, 2 * M_PI)), 6 * M_PI / 180) << k;
    EXPECT_NEAR(std::hypot(line[k].x, line[k].y + 0.3), 0.2, 2e-3);
  }
}

TEST(Current, lines_carry_equal_shares_of_the_current) {
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

std::string names_of(const std::vector<Moment>& moments) {
  std::string all;
  for (const Moment& moment : moments) all += moment.name + ";";
  return all;
}

TEST(Moments, are_in_order_and_name_what_happens) {
  const auto moments = telling_moments(synthetic_run({.frames = 60}));
  ASSERT_GE(moments.size(), 3U);
  for (std::size_t n = 1; n < moments.size(); ++n) {
    EXPECT_GT(moments[n].frame, moments[n - 1].frame);
  }
  for (const char* const name :
       {"first heat", "peak current", "first melt", "largest nugget", "hottest inner wall"}) {
    EXPECT_NE(names_of(moments).find(name), std::string::npos) << name;
  }
}

TEST(Moments, without_melt_the_hottest_joint_is_shown) {
  const std::string all = names_of(telling_moments(synthetic_run({.rise = 500})));
  EXPECT_NE(all.find("hottest joint"), std::string::npos);
  EXPECT_EQ(all.find("nugget"), std::string::npos);
}

TEST(Window, shows_tip_and_warm_place_and_stays_on_the_mesh) {
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
