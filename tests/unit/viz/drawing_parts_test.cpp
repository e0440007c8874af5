// The pieces behind the pictures, without drawing.
#include <gtest/gtest.h>
#include <vtkPolyData.h>

#include <algorithm>
#include <cmath>

#include "synthetic_run.h"
#include "viz/annotations.h"
#include "viz/current_lines.h"
#include "viz/diagram.h"
#include "viz/outlines.h"
#include "viz/page.h"
#include "viz/palette.h"
#include "viz/section_panel.h"
#include "viz/stored_values.h"
#include "viz/structured_mesh.h"

namespace tabmelt::testing {
namespace {

// CIE lightness from relative luminance, Y = 0.2126 R + 0.7152 G + 0.0722 B of linear sRGB
// (IEC 61966-2-1), L* = 116 (Y)^(1/3) - 16 above Y = 0.008856 (CIE 15).
double lightness_by_formula(const Colour& colour) {
  const auto linear = [](double c) {
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
  };
  const double y =
      0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
  return y > 0.008856 ? 116 * std::cbrt(y) - 16 : 903.3 * y;
}

TEST(Palette, LightnessFollowsTheCieFormula) {
  for (const Colour& colour : heat_ramp(9)) {
    EXPECT_NEAR(lightness(colour), lightness_by_formula(colour), 0.2);
  }
}

TEST(Palette, RampsRiseInLightnessByVisibleSteps) {
  for (const std::size_t bands : {5U, 12U, 20U}) {
    for (const auto& ramp : {heat_ramp(bands), potential_ramp(bands)}) {
      ASSERT_EQ(ramp.size(), bands);
      for (std::size_t k = 1; k < bands; ++k) {
        // A difference of 1 in L* is about the smallest one sees side by side.
        EXPECT_GT(lightness_by_formula(ramp[k]) - lightness_by_formula(ramp[k - 1]), 1.0)
            << "band " << k << " of " << bands;
      }
    }
  }
}

TEST(Palette, TextIsReadableOnPaper) {
  for (const Colour& colour : {palette::ink, palette::quiet_ink, palette::good, palette::bad}) {
    EXPECT_GT(lightness(palette::paper) - lightness(colour), 45);
  }
}

TEST(Labels, AreSpreadApartInsideTheirRoomAndKeepTheirOrder) {
  const std::vector<double> wanted{50, 52, 49, 90, 5};
  const auto placed = spread(wanted, 20, 0, 100);
  for (std::size_t a = 0; a < wanted.size(); ++a) {
    EXPECT_GE(placed[a], -1e-9);
    EXPECT_LE(placed[a], 100 + 1e-9);
    for (std::size_t b = 0; b < wanted.size(); ++b) {
      if (wanted[a] < wanted[b]) {
        EXPECT_GE(placed[b] - placed[a], 20 - 1e-9);
      }
    }
  }
  EXPECT_EQ(spread({10, 60}, 20, 0, 100), (std::vector<double>{10, 60}));
  const auto crowded = spread({1, 1, 1}, 80, 0, 100);
  EXPECT_NEAR(crowded[2] - crowded[0], 100, 1e-9);
}

TEST(Labels, NumbersAndTimesReadAsOnPaper) {
  EXPECT_EQ(short_number(0), "0");
  EXPECT_EQ(short_number(0.5), "0.5");
  EXPECT_EQ(short_number(1349.7), "1350");
  EXPECT_EQ(short_number(-0.01234), "-0.0123");
  EXPECT_EQ(time_words(0), "0 ms");
  EXPECT_EQ(time_words(3.2e-3), "3.2 ms");
  EXPECT_EQ(time_words(2.5e-6), "2.5 \u00b5s");
  EXPECT_EQ(time_words(1.5), "1.5 s");
  EXPECT_DOUBLE_EQ(round_length(0.7), 0.5);
  EXPECT_DOUBLE_EQ(round_length(1.9), 1);
  EXPECT_DOUBLE_EQ(round_length(20), 20);
}

TEST(Labels, LongWordsAreBrokenAndCut) {
  const TextStyle style{.size = 16};
  const std::string words = "the current returns through the strip so slit it or use thinner strip";
  for (const std::string& line : wrapped(words, style, 200, 9)) {
    EXPECT_LE(Page::text_width(line, style), 200);
  }
  const auto cut = wrapped(words, style, 200, 2);
  ASSERT_EQ(cut.size(), 2U);
  EXPECT_NE(cut[1].find("\u2026"), std::string::npos);
}

TEST(Labels, LongVerdictIsSetSmallerInsteadOfCut) {
  std::string words;
  for (int n = 0; n < 90; ++n) {
    words += "word" + std::to_string(n) + " ";
  }
  constexpr double width = 1250, height = 56;
  for (const std::size_t length : {60UL, 300UL, words.size()}) {
    const FittedText text = fitted(words.substr(0, length), {.size = 16}, width, height, 12);
    ASSERT_FALSE(text.lines.empty());
    EXPECT_LE(text.pitch * static_cast<double>(text.lines.size()), height);
    EXPECT_EQ(text.lines.back().find("\u2026"), std::string::npos) << length;
    for (const std::string& line : text.lines) {
      EXPECT_LE(Page::text_width(line, text.style), width);
    }
  }
  EXPECT_EQ(fitted("short", {.size = 16}, width, height, 12).style.size, 16);
  const FittedText cut = fitted(words + words + words, {.size = 16}, width, height, 12);
  EXPECT_EQ(cut.style.size, 12);
  EXPECT_NE(cut.lines.back().find("\u2026"), std::string::npos);
}

TEST(Axis, StepsAreRoundAndCoverTheRange) {
  const RoundAxis axis = round_axis(0, 1496, 6);
  EXPECT_DOUBLE_EQ(axis.step, 500);
  EXPECT_DOUBLE_EQ(axis.high, 1500);
  const RoundAxis negative = round_axis(-0.3, 0.3, 4);
  EXPECT_LE(negative.low, -0.3);
  EXPECT_GE(negative.high, 0.3);
}

TEST(Axis, LongCoolingIsShownOnALogarithmicTimeScale) {
  EXPECT_TRUE(Abscissa::over_run({0, 0.06}, 5e-3).logarithmic());
  EXPECT_FALSE(Abscissa::over_run({0, 0.03}, 5e-3).logarithmic());
  const Abscissa axis = Abscissa::over_run({0, 1}, 5e-3);
  EXPECT_LT(axis.share(0), 0);
  EXPECT_DOUBLE_EQ(axis.share(1), 1);
  EXPECT_EQ(axis.title(), "time [ms], logarithmic");
}

TEST(Axis, ShareAndValueAreInverse) {
  for (const Abscissa& axis :
       {Abscissa(0, 0.03, false), Abscissa(1e-4, 0.2, true), Abscissa::along(1.7)}) {
    for (const double share : {0.0, 0.25, 0.9, 1.0}) {
      EXPECT_NEAR(axis.share(axis.at(share)), share, 1e-12);
    }
    EXPECT_DOUBLE_EQ(axis.at(1), axis.last());
  }
  EXPECT_EQ(Abscissa::along(1.7).title(), "along the line [mm]");
}

TEST(Axis, LabelsDoNotTouchAndDecadesStay) {
  const Abscissa axis(2e-5, 0.2, true);
  const TextStyle style{.size = 14};
  std::size_t wide_ones = 0;
  for (const double width : {520.0, 220.0, 120.0}) {
    double free_from = -1e9;
    std::size_t named = 0;
    for (const Abscissa::Tick& tick : with_room(axis.ticks(), width)) {
      if (tick.words.empty()) {
        EXPECT_TRUE(tick.minor) << "a decade at " << tick.share << " lost its name";
        continue;
      }
      const double half = 0.5 * Page::text_width(tick.words, style);
      EXPECT_GT(tick.share * width - half, free_from) << tick.words << " of " << width;
      free_from = tick.share * width + half;
      ++named;
    }
    EXPECT_GE(named, 4U);
    wide_ones = std::max(wide_ones, named);
  }
  EXPECT_GE(wide_ones, 10U) << "where there is room, steps between decades are named as well";
}

TEST(Dashes, KeepTheirLengthAroundCorners) {
  const auto parts = dashes({{0, 0}, {10, 0}, {10, 10}}, 4, 2);
  double length = 0;
  for (const Polyline& part : parts) {
    for (std::size_t k = 1; k < part.size(); ++k) {
      length += std::hypot(part[k].x - part[k - 1].x, part[k].y - part[k - 1].y);
    }
  }
  EXPECT_EQ(parts.size(), 4U);  // 0..4, 6..10, 12..16, 18..20
  EXPECT_NEAR(length, 3 * 4 + 2, 1e-9);
}

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
                 [](std::uint8_t region) { return region == region::strip ? 1.0F : 0.0F; });
  const Window window{2e-3, -1e-3, 1e-3};
  for (const auto& [region, value] : {std::pair{region::strip, 1.0}, {region::can, 0.0}}) {
    const auto mesh = region_mesh(run, field, region, window);
    double range[2];
    mesh->GetScalarRange(range);
    EXPECT_DOUBLE_EQ(range[0], value);
    EXPECT_DOUBLE_EQ(range[1], value);
    EXPECT_GT(mesh->GetNumberOfCells(), 100);
  }
}

TEST(Mesh, ConeStoredInStepsIsStraightAgain) {
  const StoredRun run = synthetic_run({.frames = 1});
  const Polyline outline = silhouette(run, region::electrode);
  ASSERT_GE(outline.size(), 3U);
  for (const Point& p : outline) {
    const double cone = std::min(1.5e-3, 0.75e-3 + 1.1 * (p.y - 0.15e-3));
    const auto next = std::upper_bound(run.r_edges.begin(), run.r_edges.end(), cone + 1e-9);
    const double cell = *next - *(next - 1);
    EXPECT_NEAR(p.x, cone, 0.6 * cell) << "at height " << p.y;
  }
  EXPECT_TRUE(silhouette(run, region::can).empty());
}

TEST(Mesh, IsolineOfALinearFieldLiesWhereItShould) {
  StoredRun run = synthetic_run({.frames = 1});
  std::vector<float> field(run.region.size());
  const std::size_t nr = columns(run);
  for (std::size_t cell = 0; cell < field.size(); ++cell) {
    field[cell] = static_cast<float>(0.5e3 * (run.r_edges[cell % nr] + run.r_edges[cell % nr + 1]));
  }
  const auto mesh = region_mesh(run, field, region::can, {0.7e-3, -0.3e-3, 0});
  const auto lines = isolines(mesh, 0.4);
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
    liquid[cell] = run.region[cell] == region::strip && r < 0.31e-3 ? 1.0F : 0.0F;
  }
  const Window window{1e-3, -0.5e-3, 0.5e-3};
  const auto lines = set_outline(run, liquid, 0.5, {region::strip, region::can}, window);
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
}  // namespace tabmelt::testing
