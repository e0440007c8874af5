// Colours, numbers, the placing of labels, axes.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "viz/drawing/colour.h"
#include "viz/drawing/diagram.h"
#include "viz/drawing/words.h"

namespace tabmelt::drawing {
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

}  // namespace
}  // namespace tabmelt::drawing
