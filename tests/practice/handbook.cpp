#include "tests/practice/handbook.h"

#include <fmt/format.h>

#include <cmath>

#include "io/case/read_case.h"
#include "solver/material/constants.h"
#include "solver/solve.h"

namespace tabmelt::practice {

const std::vector<Handbook>& handbook() {
  static const char* const rwma_steel =
      "RWMA Resistance Welding Manual, low-carbon steel (table also in AWS C1.1); from memory";
  static const char* const rwma_stainless =
      "RWMA Resistance Welding Manual, stainless steel; from memory";
  static const char* const asm_nickel = "ASM Handbook 6, nickel sheet; from memory";
  static const std::vector<Handbook> list{
      {"steel 0.25", "low-carbon-steel", 0.254, 3.18, 890, 4000, 66.7, 60, 2.54, 578, rwma_steel,
       false},
      {"steel 0.53", "low-carbon-steel", 0.533, 4.76, 1335, 6500, 100, 60, 3.30, 1423, rwma_steel,
       true},
      {"steel 0.79", "low-carbon-steel", 0.787, 4.76, 1780, 8000, 133.3, 60, 4.06, 2357, rwma_steel,
       true},
      {"stainless 0.15", "stainless-304", 0.152, 2.38, 800, 2000, 33.3, 60, 1.14, 0, rwma_stainless,
       true},
      {"stainless 0.20", "stainless-304", 0.203, 2.38, 890, 2000, 50, 60, 1.40, 0, rwma_stainless,
       false},
      {"stainless 0.25", "stainless-304", 0.254, 3.18, 1023, 2000, 50, 60, 1.65, 0, rwma_stainless,
       false},
      {"stainless 0.50", "stainless-304", 0.5, 4, 1800, 3600, 80, 50, 2.5, 0,
       "two-sided bench table for 18/8 sheet, read", true},
      {"nickel 0.53", "nickel-200", 0.533, 4.06, 1780, 7800, 66.7, 60, 3.0, 0, asm_nickel, true},
      {"nickel 0.79", "nickel-200", 0.787, 4.57, 4000, 15400, 66.7, 60, 4.6, 0, asm_nickel, true,
       true}};
  return list;
}

Problem half_model(const Handbook& h, double factor, bool flat) {
  std::string table;
  const double half_wave = 500 / h.frequency;
  const int points = static_cast<int>(std::lround(8 * h.duration / half_wave));
  for (int n = 0; n <= points; ++n) {
    const double t = h.duration * n / points;
    const double amps =
        factor * h.current * std::sqrt(2.0) * std::abs(std::sin(constants::pi * t / half_wave));
    table += fmt::format("[\"{:.4f} ms\", \"{:.3f} A\"],", t, amps);
  }
  const double radius = std::max(8.0, 3 * h.tip);
  const std::string text = fmt::format(
      "title = \"{0}\"\ncell.end = \"none\"\narrangement.kind = \"opposed\"\n"
      "strip.material = \"{1}\"\nstrip.thickness = \"{2} mm\"\nstrip.slit = true\n"
      "strip.radius = \"{3} mm\"\ncan.material = \"twin\"\ncan.thickness = \"0.02 mm\"\n"
      "can.radius = \"{3} mm\"\ncan.rim_radius = \"{3} mm\"\nelectrode.tip_diameter = \"{4} mm\"\n"
      "electrode.tip_shape = \"{5}\"\nelectrode.body_diameter = \"9.5 mm\"\n"
      "electrode.length = \"15 mm\"\nelectrode.taper_angle = \"45 deg\"\n"
      "pressing.force = \"{6} N\"\nsource.kind = \"measured current\"\nsource.table = [{7}]\n"
      "numerics.end_time = \"{8} ms\"\nnumerics.longest_step = \"1 ms\"\nnumerics.frames = 1\n"
      "[materials.twin]\nbase = \"{1}\"\nresistivity = \"1e-12 ohm m\"\n"
      "resistivity_liquid = \"1e-12 ohm m\"\n",
      h.name, h.material, h.thickness, radius, h.tip, flat ? "flat" : "domed", h.force, table,
      h.duration + 2);
  Problem p = read_case_text(text, TABMELT_SOURCE_DIR "/cases/handbook.toml").problem;
  p.joint(0).film_resistance /= 2;
  // The model is to be judged here, not the default grid.
  p.numerics.resolution = 1.5;
  return p;
}

// Electrode 1, then the sheets from the top.
constexpr std::uint8_t strip_region = 2;

double nugget(const Result& result) {
  const mesh::AxisymmetricGrid& grid = result.grid;
  std::size_t row = 0;
  while (grid.region(grid.index(0, row)) != strip_region) ++row;
  const auto molten = [&](std::size_t i) {
    return static_cast<double>(result.peak_liquid_fraction[grid.index(i, row)]) - 0.5;
  };
  double area = 0;
  for (std::size_t i = 0; i + 1 < grid.nr(); ++i) {
    const double a = grid.r_centre(i), b = grid.r_centre(i + 1), va = molten(i), vb = molten(i + 1);
    const double from = va > 0 ? a : a + (b - a) * va / (va - vb);
    const double to = vb > 0 ? b : a + (b - a) * va / (va - vb);
    if (va > 0 || vb > 0) area += to * to - from * from;
  }
  if (molten(0) > 0) area += grid.r_centre(0) * grid.r_centre(0);
  return 2e3 * std::sqrt(area);
}

double needed_current(const Handbook& h, bool flat) {
  const auto made = [&](double factor) { return nugget(solve(half_model(h, factor, flat))); };
  double low = 0.4, high = 2.2;
  if (made(high) < h.nugget) return 0;
  for (int n = 0; n < 8; ++n) {
    const double middle = std::sqrt(low * high);
    (made(middle) < h.nugget ? low : high) = middle;
  }
  return std::sqrt(low * high);
}

}  // namespace tabmelt::practice
