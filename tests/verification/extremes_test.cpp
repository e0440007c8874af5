// Inputs at the ends of what a case may state.
// Catches: a contact without resistance that no linear solver can take; steps of a microsecond
// while metal boils away, since the prediction of a step runs past what boiling lets a cell hold.
#include <gtest/gtest.h>

#include <string>

#include "io/case/read_case.h"
#include "solver/solve.h"

namespace tabmelt {
namespace {

Result run(const std::string& more) {
  const std::string text =
      "[cell]\nsize = \"26650\"\nend = \"positive cap\"\n[electrode]\nmaterial = \"molybdenum\"\n"
      "tip_diameter = \"1 mm\"\ntip_shape = \"domed\"\n[strip]\nmaterial = \"stainless-304\"\n"
      "thickness = \"0.08 mm\"\nslit = true\n[numerics]\nresolution = 0.4\n" +
      more;
  return solve(read_case_text(text, TABMELT_SOURCE_DIR "/cases/extremes.toml").problem);
}

// A battery on a tip that hardly presses: its face boils for as long as the current flows.
TEST(Extremes, a_tip_that_boils_does_not_hold_up_the_run) {
  const Result r =
      run("end_time = \"3 ms\"\n[pressing]\nforce = \"0.07 N\"\n[source]\nkind = \"battery\"\n"
          "open_circuit_voltage = \"6.6 V\"\ninternal_resistance = \"3 mohm\"\n[switch]\n"
          "main = \"2.8 ms\"\n");
  EXPECT_EQ(r.ending, Ending::finished);
  EXPECT_GT(r.peak_temperature_any.value, 4000);
  EXPECT_LT(r.history.size(), 1500u);
  EXPECT_LT(r.worst_energy_residual, 1e-9);
}

TEST(Extremes, a_joint_without_resistance_is_the_limit_of_a_small_one) {
  const auto joint = [](const std::string& resistance) {
    return run(
        "end_time = \"1 ms\"\n[pressing]\nforce = \"20 N\"\n[contact.faying]\nlaw = \"fixed\"\n"
        "area_resistance = \"" +
        resistance +
        " ohm m2\"\narea_conductance = \"1e5 W/m2/K\"\n[source]\nkind = \"exponential current\"\n"
        "peak = \"800 A\"\ntime_constant = \"2 ms\"\n");
  };
  const Result none = joint("0"), small = joint("1e-15");
  ASSERT_EQ(none.ending, Ending::finished) << none.ending_reason;
  ASSERT_EQ(small.ending, Ending::finished);
  EXPECT_NEAR(none.history.back().load_resistance, small.history.back().load_resistance,
              1e-4 * small.history.back().load_resistance);
  EXPECT_NEAR(none.peak_temperature_any.value, small.peak_temperature_any.value, 1);
}

}  // namespace
}  // namespace tabmelt
