// What a person sees on a page: its words, and how light its colours are.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "viz/drawing/page.h"

namespace tabmelt::testing {

// Red, green, blue and opacity; origin at the lower left.
inline const std::uint8_t* pixel(const drawing::Raster& raster, int x, int y) {
  return &raster.rgba.at(4 * static_cast<std::size_t>((raster.height - 1 - y) * raster.width + x));
}

// A line for each label.
inline std::string words_of(const drawing::Page& page) {
  std::string all;
  for (const drawing::Label& label : page.labels()) all += label.words + "\n";
  return all;
}

// Whether these are all the words of a label.
inline bool has_label(const drawing::Page& page, const std::string& words) {
  return std::any_of(page.labels().begin(), page.labels().end(),
                     [&](const drawing::Label& label) { return label.words == words; });
}

// Whether some words of the page hold these.
inline bool says(const drawing::Page& page, const std::string& words) {
  return std::any_of(page.labels().begin(), page.labels().end(), [&](const drawing::Label& label) {
    return label.words.find(words) != std::string::npos;
  });
}

// No words lie on others or closer to the edge of the page than `rim`.
inline void expect_readable(const drawing::Page& page, const std::string& what, double rim) {
  const std::vector<drawing::Label>& labels = page.labels();
  for (std::size_t a = 0; a < labels.size(); ++a) {
    const drawing::Box& box = labels[a].box;
    EXPECT_TRUE(box.x >= rim && box.y >= rim && box.right() <= page.width() - rim &&
                box.top() <= page.height() - rim)
        << labels[a].words << " leaves the page, " << what;
    for (std::size_t b = 0; b < a; ++b) {
      const drawing::Box& other = labels[b].box;
      EXPECT_FALSE(box.x < other.right() && other.x < box.right() && box.y < other.top() &&
                   other.y < box.top())
          << labels[a].words << " lies on " << labels[b].words << ", " << what;
    }
  }
}

// Linear sRGB (IEC 61966-2-1).
inline std::array<double, 3> linear_of(const drawing::Colour& colour) {
  const auto linear = [](double c) {
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
  };
  return {linear(colour.red), linear(colour.green), linear(colour.blue)};
}

// CIELAB of D65 (CIE 15), by the formulas of the standards.
inline std::array<double, 3> lab_of(const std::array<double, 3>& linear) {
  const auto f = [](double t) { return t > 0.008856 ? std::cbrt(t) : 7.787 * t + 16.0 / 116; };
  const double x = f((0.4124 * linear[0] + 0.3576 * linear[1] + 0.1805 * linear[2]) / 0.9505);
  const double y = f(0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]);
  const double z = f((0.0193 * linear[0] + 0.1192 * linear[1] + 0.9505 * linear[2]) / 1.089);
  return {116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

// L*, 0..100.
inline double lightness(const drawing::Colour& colour) { return lab_of(linear_of(colour))[0]; }

}  // namespace tabmelt::testing
