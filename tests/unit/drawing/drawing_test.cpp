// Colours, numbers, the placing of labels, axes.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "tests/support/seen.h"
#include "viz/drawing/colour.h"
#include "viz/drawing/diagram.h"
#include "viz/drawing/legends.h"
#include "viz/drawing/words.h"

namespace tabmelt::drawing {
namespace {

using namespace tabmelt::testing;

TEST(Palette, ramps_rise_in_lightness_by_visible_steps) {
  for (const std::size_t bands : {5U, 12U, 20U}) {
    for (const auto& ramp : {heat_ramp(bands), potential_ramp(bands), current_density_ramp(bands),
                             liquid_ramp(bands)}) {
      ASSERT_EQ(ramp.size(), bands);
      for (std::size_t k = 1; k < bands; ++k) {
        // A difference of 1 in L* is about the smallest one sees side by side.
        EXPECT_GT(lightness(ramp[k]) - lightness(ramp[k - 1]), 1.0)
            << "band " << k << " of " << bands;
      }
    }
  }
}

double apart(const std::array<double, 3>& a, const std::array<double, 3>& b) {
  return std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

// What people without red or green cones see, on linear sRGB: Machado, Oliveira, Fernandes, IEEE
// Trans. Vis. Comput. Graph. 15 (2009) 1291, full severity (from memory).
TEST(Palette, bands_of_heat_stay_apart_for_every_eye) {
  using Matrix = std::array<std::array<double, 3>, 3>;
  constexpr Matrix same{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  constexpr Matrix no_red{{{0.152286, 1.052583, -0.204868},
                           {0.114503, 0.786281, 0.099216},
                           {-0.003882, -0.048116, 1.051998}}};
  constexpr Matrix no_green{{{0.367322, 0.860646, -0.227968},
                             {0.280085, 0.672501, 0.047413},
                             {-0.011820, 0.042940, 0.968881}}};
  const auto ramp = heat_ramp(20);
  for (const Matrix& eye : {same, no_red, no_green}) {
    std::vector<std::array<double, 3>> seen;
    for (const Colour& colour : ramp) {
      const auto linear = linear_of(colour);
      std::array<double, 3> cones{};
      for (std::size_t row = 0; row < 3; ++row) {
        for (std::size_t c = 0; c < 3; ++c) cones[row] += eye[row][c] * linear[c];
        cones[row] = std::clamp(cones[row], 0.0, 1.0);
      }
      seen.push_back(lab_of(cones));
    }
    for (std::size_t k = 1; k < seen.size(); ++k) {
      // A distance of 2.3 is just noticeable (Mahy et al. (1994), from memory).
      EXPECT_GT(apart(seen[k], seen[k - 1]), 2.3) << "band " << k;
      EXPECT_GT(seen[k][0], seen[k - 1][0]) << "band " << k;
    }
  }
}

TEST(Palette, unequal_steps_are_shares_of_the_whole_way) {
  std::vector<double> steps(10, 1);
  steps.resize(20, 3);
  const auto ramp = heat_ramp(steps);
  const auto way = [&](std::size_t k) {
    return apart(lab_of(linear_of(ramp[k])), lab_of(linear_of(ramp[k - 1])));
  };
  // Where the way runs straight.
  EXPECT_NEAR(way(19) / way(2), 3, 0.1);
}

TEST(Scale, places_values_in_their_band_and_at_its_ends) {
  const Scale scale{"T", {20, 100, 500}, heat_ramp(2)};
  EXPECT_DOUBLE_EQ(scale.place(60), 0.5);
  EXPECT_DOUBLE_EQ(scale.place(100), 1);
  EXPECT_DOUBLE_EQ(scale.place(300), 1.5);
  EXPECT_DOUBLE_EQ(scale.place(-40), 0);
  EXPECT_DOUBLE_EQ(scale.place(900), 2);
  EXPECT_EQ(&scale.colour_of(-40), &scale.colours[0]);
  EXPECT_EQ(&scale.colour_of(900), &scale.colours[1]);
}

TEST(Scale, marks_are_named_apart_and_only_on_the_bar) {
  Page page(600, 600);
  Scale scale{"T", {0, 100, 200}, heat_ramp(2)};
  scale.marks = {{"one", 100}, {"two", 101}, {"three", 102}, {"beyond", 300}};
  draw_upright_scale(page, scale, {100, 100, 20, 400}, 150);
  std::vector<Box> named;
  for (const Label& label : page.labels()) {
    EXPECT_NE(label.words, "beyond");
    for (const ScaleMark& mark : scale.marks) {
      if (label.words == mark.words) named.push_back(label.box);
    }
  }
  ASSERT_EQ(named.size(), 3U);
  for (std::size_t n = 1; n < named.size(); ++n) {
    EXPECT_GT(named[n].y, named[n - 1].top()) << "in the order of their values";
    EXPECT_NEAR(named[n].centre().y, 300, 40);
  }
}

TEST(Palette, text_is_readable_on_paper) {
  for (const Colour& colour : {palette::ink, palette::quiet_ink, palette::good, palette::bad}) {
    EXPECT_GT(lightness(palette::paper) - lightness(colour), 45);
  }
}

TEST(Labels, are_spread_apart_inside_their_room_and_keep_their_order) {
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

TEST(Labels, numbers_and_times_read_as_on_paper) {
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

TEST(Axis, steps_are_round_and_cover_the_range) {
  const RoundAxis axis = round_axis(0, 1496, 6);
  EXPECT_DOUBLE_EQ(axis.step, 500);
  EXPECT_DOUBLE_EQ(axis.high, 1500);
  const RoundAxis negative = round_axis(-0.3, 0.3, 4);
  EXPECT_LE(negative.low, -0.3);
  EXPECT_GE(negative.high, 0.3);
}

TEST(Axis, long_cooling_is_shown_on_a_logarithmic_time_scale) {
  EXPECT_EQ(Abscissa::over_run({0, 0.06}, 5e-3).title(), "time [ms], logarithmic");
  EXPECT_EQ(Abscissa::over_run({0, 0.03}, 5e-3).title(), "time [ms]");
  const Abscissa axis = Abscissa::over_run({0, 1}, 5e-3);
  EXPECT_LT(axis.share(0), 0);
  EXPECT_DOUBLE_EQ(axis.share(1), 1);
}

TEST(Axis, share_and_value_are_inverse) {
  for (const Abscissa& axis :
       {Abscissa(0, 0.03, false), Abscissa(1e-4, 0.2, true), Abscissa::along(1.7)}) {
    for (const double share : {0.0, 0.25, 0.9, 1.0}) {
      EXPECT_NEAR(axis.share(axis.at(share)), share, 1e-12);
    }
    EXPECT_DOUBLE_EQ(axis.at(1), axis.last());
  }
  EXPECT_EQ(Abscissa::along(1.7).title(), "along the line [mm]");
}

TEST(Axis, labels_do_not_touch_and_decades_stay) {
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

Panel panel_of(const std::vector<std::vector<double>>& curves) {
  Panel panel{.title = "Q", .abscissa = {}};
  for (std::size_t n = 0; n < curves[0].size(); ++n) {
    panel.abscissa.push_back(1e-3 * static_cast<double>(n));
  }
  for (std::size_t c = 0; c < curves.size(); ++c) {
    panel.curves.push_back({std::string(1, static_cast<char>('a' + c)),
                            curves[c],
                            {.colour = c == 0 ? palette::blue : palette::vermillion, .width = 2}});
  }
  return panel;
}

Box label_box(const Page& page, const std::string& words) {
  for (const Label& label : page.labels()) {
    if (label.words == words) return label.box;
  }
  ADD_FAILURE() << "no label " << words;
  return {};
}

constexpr Box plot{80, 60, 400, 200};

TEST(Diagram, names_stand_at_peaks_where_the_ends_coincide) {
  Page page(700, 320);
  std::vector<double> high(101, 0), low(101, 0);
  for (std::size_t n = 20; n < 60; ++n) {
    high[n] = 10;
    low[n] = 4;
  }
  draw_panel(page, panel_of({high, low}), Abscissa(0, 0.1, false), plot, true);
  EXPECT_NEAR(label_box(page, "a").centre().y, plot.top(), 8);
  EXPECT_NEAR(label_box(page, "b").centre().y, plot.y + 0.4 * plot.height, 8);
  Page apart(700, 320);
  draw_panel(apart, panel_of({std::vector<double>(101, 8), std::vector<double>(101, 2)}),
             Abscissa(0, 0.1, false), plot, true);
  EXPECT_NEAR(label_box(apart, "b").centre().y, plot.y + 0.25 * plot.height, 8);
}

TEST(Diagram, a_curve_without_values_has_no_name) {
  Page page(700, 320);
  draw_panel(page, panel_of({std::vector<double>(101, 1), std::vector<double>(101, std::nan(""))}),
             Abscissa(0, 0.1, false), plot, true);
  EXPECT_TRUE(has_label(page, "a"));
  EXPECT_FALSE(has_label(page, "b"));
}

TEST(Diagram, a_narrow_spike_ends_in_a_break_and_rules_no_axis) {
  std::vector<double> values(1001, 2);
  values[300] = 90;
  Panel panel = panel_of({values});
  Page page(700, 320);
  draw_panel(page, panel, Abscissa(0, 1, false), plot, true);
  EXPECT_TRUE(has_label(page, "up to 90"));
  EXPECT_FALSE(has_label(page, "100"));
  EXPECT_TRUE(has_label(page, "2"));
  // As wide as can be seen, it is a curve like any other.
  for (std::size_t n = 300; n < 340; ++n) panel.curves[0].values[n] = 90;
  Page wide(700, 320);
  draw_panel(wide, panel, Abscissa(0, 1, false), plot, true);
  EXPECT_FALSE(has_label(wide, "up to 90"));
  EXPECT_TRUE(has_label(wide, "100"));
}

TEST(Diagram, half_waves_below_zero_are_shaded) {
  std::vector<double> wave;
  for (int n = 0; n <= 100; ++n) wave.push_back(10 * std::sin(2 * M_PI * n / 100));
  Page page(700, 320);
  draw_panel(page, panel_of({wave}), Abscissa(0, 0.1, false), plot, true);
  const Raster raster = page.raster(700);
  const auto shaded = [&](double x, double y) {
    const std::uint8_t* const seen = pixel(raster, static_cast<int>(x), static_cast<int>(y));
    return seen[0] < 235 && seen[2] > seen[0];  // bluish
  };
  const double zero = plot.centre().y;
  EXPECT_TRUE(shaded(plot.x + 0.75 * plot.width + 7, zero - 40));
  EXPECT_FALSE(shaded(plot.x + 0.25 * plot.width + 7, zero + 40));
}

}  // namespace
}  // namespace tabmelt::drawing
