#include "solver/circuit/discharge.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <vector>

namespace tabmelt::circuit {
namespace {

// |value - exact| within `tolerance` of the size of `scale`.
void expect_close(double value, double exact, double scale, double tolerance,
                  const std::string& what) {
  EXPECT_LE(std::abs(value - exact), tolerance * std::abs(scale))
      << what << ": " << value << " instead of " << exact;
}

struct Case {
  const char* name;
  double resistance, inductance, capacitance, drive, current, time;
  double end_current, end_drive, charge, square_current, current_change;
};

// Natural response of a series RLC loop (closed form, e.g. Nilsson and Riedel, Electric Circuits,
// "Natural and step responses of RLC circuits"), evaluated in 60-digit arithmetic (mpmath) from
// the matrix exponential of the loop's equations; int i^2 dt from that of the equations of i^2,
// i u and u^2, or for the stiffest loops from the sum of two exponentials.
const std::vector<Case> discharges{
    {"oscillating, short step", 0.004, 2e-06, 0.05, 20.0, 300.0, 1e-09, 300.00939998909999,
     19.999993999906, 3.0000469999636668e-7, 9.0002820027273286e-5, 0.009399989099991601},
    {"oscillating, long step", 0.004, 2e-06, 0.05, 20.0, -300.0, 0.002, -168.81420483354337,
     2.2711702988755631, 0.88644148505622189, 2483.136600271014, 131.18579516645663},
    {"weakly damped, long step", 1e-05, 1e-06, 0.1, 10.0, 50.0, 0.005, -366.85200664580261,
     -9.6866763576242251, 1.9686676357624226, 24237.485974216782, -416.85200664580261},
    {"hardly damped, long step", 1e-09, 1e-06, 0.1, 10.0, 50.0, 0.005, -376.20778452034597,
     -9.9302155133078616, 1.9930215513307863, 24844.396140575952, -426.20778452034597},
    {"weakly damped, short step", 1e-05, 1e-06, 0.1, 10.0, 0.0, 1e-07, 0.99999948333350842,
     9.9999995000001708, 4.9999982916670999e-8, 3.3333307666678894e-8, 0.99999948333350842},
    {"just below critical", 0.02, 1e-06, 0.009999999990000001, 12.0, 100.0, 0.001,
     0.50393921181326307, 0.0055387913200960083, 0.11994461196685444, 36.249985945579459,
     -99.496060788186737},
    {"critical", 0.02, 1e-06, 0.01, 12.0, 100.0, 0.0001, 441.45532940573078, 8.4612271469431732,
     0.035387728530568268, 13.479838595439916, 341.45532940573078},
    {"just above critical", 0.02, 1e-06, 0.010000000010000001, 12.0, 100.0, 0.0003,
     169.27603271958763, 2.2404180818562013, 0.097595819279033816, 34.278772358036007,
     69.27603271958763},
    {"above critical, short step", 0.02, 1e-06, 0.0100001, 12.0, 100.0, 1e-08, 100.09998950053832,
     11.99989995100399, 1.00049996500135e-6, 0.00010010002632835377, 0.099989500538316706},
    {"damped", 0.004, 1e-06, 1.0, 8.0, 0.0, 0.00228104, 1252.8428244794468, 4.6772798668584689,
     3.3227201331415311, 5069.179738028848, 1252.8428244794468},
    {"strongly damped, slow time", 0.003, 3e-09, 2.0, 6.0, 0.0, 0.001, 1693.480995769099,
     5.0795961056389355, 1.840807788722129, 3397.8005289177379, 1693.480995769099},
    {"strongly damped, fast time", 0.003, 3e-09, 2.0, 6.0, 0.0, 5e-07, 786.93323836962368,
     5.999893469697402, 0.00021306060519590837, 0.11648546666457471, 786.93323836962368},
    {"strongly damped, very short step", 0.003, 3e-09, 2.0, 6.0, 1900.0, 1e-12, 1900.0000999999498,
     5.99999999905, 1.9000000499999832e-9, 3.6100001899999397e-6, 9.9999949841683342e-5},
    {"L/(R^2 C) = 1e-12", 0.01, 1e-16, 1.0, 5.0, 0.0, 0.001, 452.41870901883937, 4.5241870901838696,
     0.47581290981613037, 226.58655864965711, 452.41870901883937},
    {"L/(R^2 C) = 1e-12, current from before", 0.01, 1e-16, 1.0, 5.0, 800.0, 1e-14,
     610.36383235116947, 4.9999999999931036, 6.8963616764847014e-12, 4.78546079902794e-9,
     -189.63616764883053},
    {"supercapacitors", 0.02, 1e-06, 58.0, 16.0, 0.0, 0.0001, 691.71310663160946,
     15.999217019760724, 0.045412853877985196, 24.367718621059459, 691.71310663160946},
    {"current driven against the voltage", 0.01, 5e-06, 1.0, -2.0, 900.0, 0.0004,
     286.26183806381832, -2.221626110762374, 0.22162611076237397, 135.23241121602348,
     -613.73816193618168}};

TEST(Discharge, matches_the_exact_response_and_its_integrals) {
  for (const Case& c : discharges) {
    const CapacitorDischarge loop(c.resistance, c.inductance, c.capacitance, {c.current, c.drive});
    const StepIntegrals step = loop.integrals(c.time);
    const double current_scale = std::max({std::abs(c.current), std::abs(c.end_current)});
    const double drive_scale = std::max(std::abs(c.drive), std::abs(c.end_drive));
    // Many swings multiply the round-off of the angle; none here needs more than this.
    const double tolerance = 2e-14;
    expect_close(step.end.current, c.end_current, current_scale, tolerance,
                 std::string(c.name) + ", i");
    expect_close(step.end.drive, c.end_drive, drive_scale, tolerance, std::string(c.name) + ", u");
    expect_close(loop.at(c.time).current, c.end_current, current_scale, tolerance,
                 std::string(c.name) + ", i");
    expect_close(loop.at(c.time).drive, c.end_drive, drive_scale, tolerance,
                 std::string(c.name) + ", u");
    expect_close(step.charge, c.charge, c.charge, 1e-13, std::string(c.name) + ", charge");
    expect_close(step.square_current, c.square_current, c.square_current, 1e-13,
                 std::string(c.name) + ", square current");
    // (u - R i) itself loses digits where the resistance takes nearly all of u.
    expect_close(step.current_change, c.current_change, c.current_change, 1e-13,
                 std::string(c.name) + ", change of current");
  }
}

// Through critical damping nothing jumps: i at fixed time against the critical formula
// i = (u0/L - alpha i0) t exp(-alpha t) + i0 exp(-alpha t), to first order in the detuning.
TEST(Discharge, is_smooth_through_critical_damping) {
  const double resistance = 0.02, inductance = 1e-6;
  const double critical = 4 * inductance / (resistance * resistance);
  for (const double t : {1e-9, 1e-5, 1e-4, 2e-3}) {
    const double alpha = resistance / (2 * inductance);
    const double exact = 12.0 / inductance * t * std::exp(-alpha * t);
    double before = 0;
    for (double detuning = -1e-7; detuning <= 1e-7; detuning += 1e-9) {
      const CapacitorDischarge loop(resistance, inductance, critical * (1 + detuning), {0, 12});
      const double i = loop.at(t).current;
      EXPECT_NEAR(i, exact, exact * (1e-14 + alpha * t * alpha * t * std::abs(detuning)));
      if (detuning > -1e-7) {
        EXPECT_NEAR(i, before, exact * (1e-14 + 2e-9 * alpha * t * alpha * t));
      }
      before = i;
    }
  }
}

TEST(Discharge, tends_to_the_resistive_one_as_the_inductance_vanishes) {
  const double resistance = 0.0025, capacitance = 2;
  const CapacitorDischarge without(resistance, 0, capacitance, {0, 6});
  EXPECT_NEAR(without.at(1e-3).current, 6 / resistance * std::exp(-1e-3 / 0.005), 1e-10);
  for (const double t : {1e-6, 1e-3, 0.02}) {
    const StepIntegrals limit = without.integrals(t);
    for (const double ratio : {1e-6, 1e-9, 1e-12, 1e-15, 1e-18, 1e-310}) {
      const double inductance = ratio * resistance * resistance * capacitance;
      const double settling = inductance / resistance / t;  // rise time over step
      if (settling > 0.01) continue;
      const CapacitorDischarge with(resistance, inductance, capacitance, {0, 6});
      const StepIntegrals step = with.integrals(t);
      expect_close(step.end.drive, limit.end.drive, limit.end.drive,
                   3 * ratio * (1 + t / 0.005) + 1e-15, "u");
      expect_close(step.end.current, limit.end.current, limit.end.current,
                   3 * ratio * (1 + t / 0.005) + 1e-15, "i");
      expect_close(step.charge, limit.charge, limit.charge, 3 * settling + 1e-14, "charge");
      expect_close(step.square_current, limit.square_current, limit.square_current,
                   3 * settling + 1e-14, "square current");
    }
  }
}

// Both ways of integrating must meet where one takes over from the other.
TEST(Discharge, short_and_long_steps_agree_where_they_meet) {
  struct Elements {
    double resistance, inductance, capacitance;
  };
  for (const Elements& c : std::vector<Elements>{{0.004, 2e-6, 0.05},
                                                 {1e-4, 2e-6, 0.05},
                                                 {0.0126, 2e-6, 0.05},
                                                 {0.0127, 2e-6, 0.05},
                                                 {0.05, 2e-6, 0.05}}) {
    const double natural = 1 / std::sqrt(c.inductance * c.capacitance);
    const double alpha = c.resistance / (2 * c.inductance);
    const double fastest =
        alpha > natural ? alpha + std::sqrt(alpha * alpha - natural * natural) : natural;
    const CapacitorDischarge loop(c.resistance, c.inductance, c.capacitance, {150, 20});
    const StepIntegrals below = loop.integrals((1 - 1e-13) / fastest);
    const StepIntegrals above = loop.integrals((1 + 1e-13) / fastest);
    expect_close(below.charge, above.charge, above.charge, 2e-12, "charge");
    expect_close(below.square_current, above.square_current, above.square_current, 2e-12,
                 "square current");
    expect_close(below.end.current, above.end.current, above.end.current, 2e-12, "current");
    expect_close(below.end.drive, above.end.drive, 20, 2e-12, "drive");
  }
}

TEST(Discharge, square_current_is_never_negative) {
  const CapacitorDischarge at_rest(0.004, 2e-6, 0.05, {0, 0});
  EXPECT_EQ(at_rest.integrals(1e-3).square_current, 0);
  for (double t = 1e-18; t < 1; t *= 3) {
    for (const double i : {0.0, 1e-9, -1e-3, 500.0}) {
      for (const double inductance : {0.0, 1e-15, 1e-9, 1e-6, 1e-3}) {
        const CapacitorDischarge loop(0.004, inductance, 0.05, {i, 1e-6});
        EXPECT_GE(loop.integrals(t).square_current, 0) << t << " " << i << " " << inductance;
      }
    }
  }
}

TEST(Discharge, current_is_zero_at_its_first_reversal_and_has_one_sign_before) {
  struct Start {
    double resistance, inductance, capacitance, current, drive;
  };
  for (const Start& c : std::vector<Start>{{0.004, 2e-6, 0.05, 0, 20},
                                           {0.004, 2e-6, 0.05, 300, 20},
                                           {0.004, 2e-6, 0.05, -300, 20},
                                           {0.004, 2e-6, 0.05, 300, -20},
                                           {0.02, 1e-6, 0.01, 100, -12},
                                           {0.05, 2e-6, 0.05, 300, -3},
                                           {0.05, 2e-6, 0.05, -300, 3},
                                           {0.003, 3e-9, 2, 900, -1e-5},
                                           {0.01, 1e-16, 1, 900, -5}}) {
    const CapacitorDischarge loop(c.resistance, c.inductance, c.capacitance, {c.current, c.drive});
    const double zero = loop.first_reversal();
    ASSERT_TRUE(std::isfinite(zero) && zero > 0);
    const double largest = std::abs(c.current) + std::abs(c.drive) / c.resistance;
    EXPECT_LT(std::abs(loop.at(zero).current), 1e-13 * largest);
    for (double share = 0.05; share < 1; share += 0.05) {
      EXPECT_GT(loop.at(share * zero).current * loop.at(0.5 * zero).current, 0);
    }
    EXPECT_LT(loop.at(1.001 * zero).current * loop.at(0.5 * zero).current, 0);
  }
}

TEST(Discharge, damped_loops_from_rest_never_reverse) {
  EXPECT_TRUE(std::isinf(CapacitorDischarge(0.05, 2e-6, 0.05, {0, 20}).first_reversal()));
  EXPECT_TRUE(std::isinf(CapacitorDischarge(0.05, 2e-6, 0.05, {100, 20}).first_reversal()));
  EXPECT_TRUE(std::isinf(CapacitorDischarge(0.05, 0, 0.05, {100, 20}).first_reversal()));
  EXPECT_TRUE(std::isinf(CapacitorDischarge(0.004, 2e-6, 0.05, {0, 0}).first_reversal()));
  EXPECT_TRUE(std::isinf(BatteryDischarge(0.004, 2e-6, {10, 12}).first_reversal()));
}

// i = V/R (1 - exp(-R t/L)), int i dt = V/R (t - tau (1 - exp)), int i^2 dt likewise.
TEST(Discharge, battery_rises_to_its_short_circuit_current) {
  const double resistance = 0.006, inductance = 1.2e-6, drive = 12.6;
  const double tau = inductance / resistance;
  const BatteryDischarge loop(resistance, inductance, {0, drive});
  for (const double x : {1e-9, 0.3, 0.999, 1.001, 2.0, 30.0, 1e5}) {
    const double t = x * tau;
    const long double once = -std::expm1(-static_cast<long double>(x));
    const long double twice = -std::expm1(-2 * static_cast<long double>(x));
    const double final_current = drive / resistance;
    const StepIntegrals step = loop.integrals(t);
    const double end_current = static_cast<double>(final_current * once);
    expect_close(step.end.current, end_current, end_current, 1e-14, "i");
    if (x < 0.01) {  // first term of the series; the next is smaller by x

      expect_close(step.charge, drive / inductance * t * t / 2, step.charge, 1e-9, "charge");
      expect_close(step.square_current, std::pow(drive / inductance, 2) * t * t * t / 3,
                   step.square_current, 1e-9, "square current");
    } else {
      const long double charge = final_current * tau * (x - once);
      const long double square = static_cast<long double>(final_current) * final_current * tau *
                                 (x - 2 * once + twice / 2);
      expect_close(step.charge, static_cast<double>(charge), static_cast<double>(charge), 1e-14,
                   "charge");
      expect_close(step.square_current, static_cast<double>(square), static_cast<double>(square),
                   2e-14, "square current");
    }
  }
}

TEST(Discharge, battery_without_resistance_rises_on_a_straight_line) {
  const BatteryDischarge loop(0, 2e-6, {5, 12});
  const StepIntegrals step = loop.integrals(1e-4);
  EXPECT_DOUBLE_EQ(step.end.current, 605);
  EXPECT_NEAR(step.charge, 305e-4, 1e-16);
  EXPECT_NEAR(step.square_current, (605.0 * 605 * 605 - 125) / 3 / 6e6, 1e-13);
}

// L di/dt + R i = -u dies at (L/R) ln(1 + R i0/u).
TEST(Discharge, battery_current_against_a_counter_voltage_dies) {
  const BatteryDischarge loop(1e-3, 1.5e-6, {1200, -0.7});
  EXPECT_NEAR(loop.first_reversal(), 1.5e-3 * std::log1p(1.2 / 0.7), 1e-15);
  EXPECT_NEAR(loop.at(loop.first_reversal()).current, 0, 1e-10);
  EXPECT_NEAR(BatteryDischarge(0, 1.5e-6, {1200, -0.7}).first_reversal(), 1.5e-6 * 1200 / 0.7,
              1e-15);
}

TEST(Discharge, refuses_loops_without_a_limit) {
  EXPECT_THROW(CapacitorDischarge(0, 1e-6, 1, {0, 1}), std::invalid_argument);
  EXPECT_THROW(CapacitorDischarge(1, -1e-6, 1, {0, 1}), std::invalid_argument);
  EXPECT_THROW(CapacitorDischarge(1, 1e-6, 0, {0, 1}), std::invalid_argument);
  EXPECT_THROW(CapacitorDischarge(NAN, 1e-6, 1, {0, 1}), std::invalid_argument);
  EXPECT_THROW(BatteryDischarge(0, 0, {0, 1}), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::circuit
