// The peak current of a whole run, found inside a step.
//
// Exact: the series RLC loop with constant elements, i = V (exp(-a t) - exp(-b t))/(L (b - a)) at
// t = ln(b/a)/(b - a), or V sqrt(C/L) exp(-d t) at tan(w t) = w/d (textbooks on circuits, e.g.
// Nilsson and Riedel, Electric Circuits, "Natural and step responses of RLC circuits"). Catches: a
// peak taken at the ends of steps, a time that is not that of the peak.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "io/case/read_case.h"
#include "solver/solve.h"
#include "tests/support/near.h"

namespace tabmelt {
namespace {

// Constant properties: the load stays what it is. A bank of 2 mF at 4 V, invented.
Problem bank_case(const std::string& inductance) {
  return read_case_text(R"([cell]
end = "none"
[electrode]
material = "plain"
tip_diameter = "1.5 mm"
taper_angle = "0 deg"
length = "3 mm"
[strip]
material = "plain"
thickness = "0.15 mm"
rim_radius = "4 mm"
[can]
material = "plain"
thickness = "0.3 mm"
rim_radius = "4 mm"
[arrangement]
kind = "opposed"
[pressing]
force = "20 N"
[source]
kind = "capacitor bank"
part_capacitance = "2 mF"
part_esr = "9 mohm"
charge_voltage = "4 V"
[leads]
resistance = "3 mohm"
inductance = ")" + inductance +
                            R"("
[contact.tip]
law = "fixed"
area_resistance = "2e-9 ohm m2"
area_conductance = "1e5 W/m2/K"
[contact.faying]
law = "fixed"
area_resistance = "8e-9 ohm m2"
area_conductance = "5e4 W/m2/K"
[numerics]
end_time = "0.4 ms"
[materials.plain]
density = "8000 kg/m3"
specific_heat = "450 J/kg/K"
thermal_conductivity = "80 W/m/K"
resistivity = "8e-8 ohm m"
)",
                        TABMELT_SOURCE_DIR "/cases/peak.toml")
      .problem;
}

TEST(PeakCurrent, is_that_of_the_loop_and_not_of_the_nearest_step) {
  for (const std::string inductance : {"0.02 uH", "1.5 uH"}) {
    const Problem p = bank_case(inductance);
    const Result run = solve(p);
    ASSERT_EQ(run.ending, Ending::finished);
    const double load = run.history.front().load_resistance;
    ASSERT_NEAR_RELATIVE(run.history.back().load_resistance, load, 1e-6);
    const double C = 2e-3, V = 4, R = 0.012 + load, L = *p.circuit.leads.inductance;
    const double d = R / (2 * L), discriminant = d * d - 1 / (L * C);
    double exact = 0, time = 0;
    if (discriminant > 0) {
      const double a = d - std::sqrt(discriminant), b = d + std::sqrt(discriminant);
      time = std::log(b / a) / (b - a);
      exact = V * (std::exp(-a * time) - std::exp(-b * time)) / (L * (b - a));
    } else {
      const double w = std::sqrt(-discriminant);
      time = std::atan2(w, d) / w;
      exact = V * std::sqrt(C / L) * std::exp(-d * time);
    }
    EXPECT_NEAR_RELATIVE(run.peak_current.value, exact, 1e-6);
    EXPECT_NEAR_RELATIVE(run.peak_current.time, time, 1e-4);
    double seen = 0;
    for (const StepRecord& step : run.history) seen = std::max(seen, std::abs(step.current));
    EXPECT_LE(seen, run.peak_current.value * (1 + 1e-12));
  }
}

}  // namespace
}  // namespace tabmelt
