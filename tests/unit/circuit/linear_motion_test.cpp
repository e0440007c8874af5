// Exact answers for the motion of a series loop: one store or none, all three kinds of damping,
// and their limits.
#include "solver/circuit/linear_motion.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <numbers>
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

// L di/dt = u - R i,  C du/dt = -i.
LinearMotion discharge(double R, double L, double C, double current, double drive) {
  return {{0, -R / L, 1 / L}, {0, -1 / C, 0}, {current, drive}};
}

// Likewise without inductance: i = u/R.
LinearMotion resistive(double R, double C, double drive) {
  return {{0, -1 / (R * C), 0}, {0, -1 / C, 0}, {drive / R, drive}};
}

// L di/dt = V - R i.
LinearMotion battery(double R, double L, double current, double V) {
  return {{0, -R / L, 1 / L}, {}, {current, V}};
}

const Affine current{0, 1, 0}, drive{0, 0, 1};

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

TEST(LinearMotion, matches_the_exact_response_and_its_integrals) {
  for (const Case& c : discharges) {
    const LinearMotion loop =
        discharge(c.resistance, c.inductance, c.capacitance, c.current, c.drive);
    const Moments step = loop.moments(c.time);
    const double current_scale = std::max({std::abs(c.current), std::abs(c.end_current)});
    const double drive_scale = std::max(std::abs(c.drive), std::abs(c.end_drive));
    // Many swings multiply the round-off of the angle; none here needs more than this.
    const double tolerance = 2e-14;
    const std::string name = c.name;
    expect_close(c.current + step.gain.a, c.end_current, current_scale, tolerance, name + ", i");
    expect_close(c.drive + step.gain.b, c.end_drive, drive_scale, tolerance, name + ", u");
    expect_close(loop.value(current, c.time), c.end_current, current_scale, tolerance,
                 name + ", i");
    expect_close(loop.value(drive, c.time), c.end_drive, drive_scale, tolerance, name + ", u");
    expect_close(step.a, c.charge, c.charge, 1e-13, name + ", charge");
    expect_close(step.aa, c.square_current, c.square_current, 1e-13, name + ", square current");
    expect_close(step.gain.a, c.current_change, c.current_change, 1e-13,
                 name + ", change of current");
    // C (u0 - u1) = int i dt,  C (u0^2 - u1^2)/2 = int u i dt
    const double u1 = c.drive + step.gain.b;
    expect_close(-c.capacitance * step.gain.b, c.charge, c.charge, 1e-13, name + ", charge lost");
    const double turnover = 0.5 * c.capacitance * (c.drive * c.drive + u1 * u1);
    expect_close(step.ab, 0.5 * c.capacitance * (c.drive - u1) * (c.drive + u1), turnover, 1e-14,
                 name + ", energy lost");
  }
}

// Through critical damping nothing jumps: i at fixed time against the critical formula
// i = (u0/L - alpha i0) t exp(-alpha t) + i0 exp(-alpha t), to first order in the detuning.
TEST(LinearMotion, is_smooth_through_critical_damping) {
  const double resistance = 0.02, inductance = 1e-6;
  const double critical = 4 * inductance / (resistance * resistance);
  for (const double t : {1e-9, 1e-5, 1e-4, 2e-3}) {
    const double alpha = resistance / (2 * inductance);
    const double exact = 12.0 / inductance * t * std::exp(-alpha * t);
    double before = 0;
    for (double detuning = -1e-7; detuning <= 1e-7; detuning += 1e-9) {
      const double i =
          discharge(resistance, inductance, critical * (1 + detuning), 0, 12).value(current, t);
      EXPECT_NEAR(i, exact, exact * (1e-14 + alpha * t * alpha * t * std::abs(detuning)));
      if (detuning > -1e-7) {
        EXPECT_NEAR(i, before, exact * (1e-14 + 2e-9 * alpha * t * alpha * t));
      }
      before = i;
    }
  }
}

TEST(LinearMotion, tends_to_the_resistive_one_as_the_inductance_vanishes) {
  const double R = 0.0025, C = 2;
  const LinearMotion without = resistive(R, C, 6);
  EXPECT_NEAR(without.value(current, 1e-3), 6 / R * std::exp(-1e-3 / 0.005), 1e-10);
  for (const double t : {1e-6, 1e-3, 0.02}) {
    const Moments limit = without.moments(t);
    for (const double ratio : {1e-6, 1e-9, 1e-12, 1e-15, 1e-18, 1e-100}) {
      const double L = ratio * R * R * C;
      const double settling = L / R / t;  // rise time over step
      if (settling > 0.01) continue;
      const LinearMotion with = discharge(R, L, C, 0, 6);
      const Moments step = with.moments(t);
      const double near = 3 * ratio * (1 + t / 0.005) + 1e-15;
      expect_close(with.value(drive, t), without.value(drive, t), 6, near, "u");
      expect_close(with.value(current, t), without.value(current, t), 6 / R, near, "i");
      expect_close(step.a, limit.a, limit.a, 3 * settling + 1e-13, "charge");
      expect_close(step.aa, limit.aa, limit.aa, 3 * settling + 1e-13, "square current");
    }
  }
}

// The series must meet the closed form, and a doubled time an undivided one.
TEST(LinearMotion, short_and_long_steps_agree_where_they_meet) {
  const double L = 2e-6, C = 0.05;
  for (const double R : {1e-4, 0.004, 0.0126, 0.0127, 0.05}) {
    const double fastest = R / L + 1 / std::sqrt(L * C);
    const LinearMotion loop = discharge(R, L, C, 150, 20);
    for (const double x : {0.25, 0.5, 1.0, 4.0}) {
      const Moments below = loop.moments((1 - 1e-13) * x / fastest);
      const Moments above = loop.moments((1 + 1e-13) * x / fastest);
      expect_close(below.a, above.a, above.a, 2e-12, "charge");
      expect_close(below.aa, above.aa, above.aa, 2e-12, "square current");
      expect_close(below.gain.a, above.gain.a, 20 * std::sqrt(C / L), 2e-12, "current");
      expect_close(below.gain.b, above.gain.b, 20, 2e-12, "drive");
    }
  }
}

// Against the values themselves, integrated by quadrature; also a law with constants, such as a
// supply that holds its voltage beside a capacitor that fills.
TEST(LinearMotion, integrals_of_all_products_are_those_of_the_values) {
  const Affine one{1, 0, 0}, f{0.3, -2, 1}, g{-1, 0.5, 3};
  for (const LinearMotion& motion :
       {discharge(0.004, 2e-6, 0.05, 300, 20), discharge(0.05, 2e-6, 0.05, -300, 20),
        battery(0.006, 1.2e-6, 900, 12.6), battery(0, 1.2e-6, 5, 12),
        LinearMotion({2e6, -5e3, 0}, {0, 0, -800}, {20, -3}),
        LinearMotion({}, {4e3, 0, 0}, {0, -7}), LinearMotion({7e4, 0, 0}, {}, {-20, 0})}) {
    for (const double t : {3e-8, 2e-5, 4e-4, 3e-3}) {
      const Moments sum = motion.moments(t);
      for (const auto& [p, q] : {std::pair(f, g), std::pair(f, f), std::pair(one, g),
                                 std::pair(current, drive), std::pair(drive, drive)}) {
        double size = 0;
        const auto product = [&, &p = p, &q = q](double x) {
          return motion.value(p, x) * motion.value(q, x);
        };
        const double exact = boost::math::quadrature::gauss_kronrod<double, 61>::integrate(
            product, 0.0, t, 8, 1e-12, nullptr, &size);
        expect_close(sum.product(p, q), exact, size, 1e-12, "integral of a product");
      }
    }
  }
}

TEST(LinearMotion, square_current_is_never_negative) {
  EXPECT_EQ(discharge(0.004, 2e-6, 0.05, 0, 0).moments(1e-3).aa, 0);
  for (double t = 1e-18; t < 1; t *= 3)
    for (const double i : {0.0, 1e-9, -1e-3, 500.0})
      for (const double inductance : {1e-15, 1e-9, 1e-6, 1e-3})
        EXPECT_GE(discharge(0.004, inductance, 0.05, i, 1e-6).moments(t).aa, 0)
            << t << " " << i << " " << inductance;
}

// The drive turns where the current is zero.
TEST(LinearMotion, a_value_turns_first_where_its_rate_is_first_zero) {
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
    const LinearMotion loop =
        discharge(c.resistance, c.inductance, c.capacitance, c.current, c.drive);
    const double zero = loop.first_turn(drive);
    ASSERT_TRUE(std::isfinite(zero) && zero > 0);
    const auto i = [&](double t) { return loop.value(current, t); };
    const double largest = std::abs(c.current) + std::abs(c.drive) / c.resistance;
    EXPECT_LT(std::abs(i(zero)), 1e-13 * largest);
    for (double share = 0.05; share < 1; share += 0.05)
      EXPECT_GT(i(share * zero) * i(0.5 * zero), 0);
    EXPECT_LT(i(1.001 * zero) * i(0.5 * zero), 0);
  }
}

TEST(LinearMotion, damped_loops_from_rest_never_reverse) {
  for (const LinearMotion& loop :
       {discharge(0.05, 2e-6, 0.05, 0, 20), discharge(0.05, 2e-6, 0.05, 100, 20),
        resistive(0.05, 0.05, 20), discharge(0.004, 2e-6, 0.05, 0, 0),
        battery(0.004, 2e-6, 10, 12)})
    EXPECT_TRUE(std::isinf(loop.first_turn(drive)));
  EXPECT_TRUE(std::isinf(battery(0.01, 1e-6, 0, 12).first_turn(current)));
}

TEST(LinearMotion, next_turn_is_half_a_period_after_the_last) {
  const double C = 0.04, V = 14, R = 2e-3, L = 1.2e-6;
  const LinearMotion loop = discharge(R, L, C, 0, V);
  const double first = loop.first_turn(current), after = 1.01 * first;
  const LinearMotion later =
      discharge(R, L, C, loop.value(current, after), loop.value(drive, after));
  const double w = std::sqrt(1 / (L * C) - R * R / (4 * L * L));
  EXPECT_NEAR(loop.between_turns(), std::numbers::pi / w, 1e-15);
  EXPECT_NEAR(later.first_turn(current), std::numbers::pi / w - 0.01 * first, 1e-10);
  EXPECT_TRUE(std::isinf(discharge(0.4, L, C, 0, V).between_turns()));
}

// R-C, R-L and undamped L-C: the moments at which a level is passed, textbook forms.
TEST(LinearMotion, finds_when_a_value_rises_past_zero) {
  const LinearMotion emptying = resistive(0.005, 2, 6);  // u = 6 exp(-t/10 ms)
  EXPECT_NEAR(emptying.first_rise({2.5, 0, -1}, 1), 0.01 * std::log(6 / 2.5), 1e-16);
  EXPECT_TRUE(std::isinf(emptying.first_rise({2.5, 0, -1}, 8e-3)));
  EXPECT_TRUE(std::isinf(emptying.first_rise({-7, 0, 1}, 1)));

  const LinearMotion rising = battery(0.01, 4e-6, 0, 12);  // i = 1200 (1 - exp(-t/0.4 ms))
  EXPECT_NEAR(rising.first_rise({-600, 1, 0}, 1), 4e-4 * std::log(2), 1e-18);
  EXPECT_TRUE(std::isinf(rising.first_rise({-1200.001, 1, 0}, 1)));

  const double L = 2e-6, C = 0.05, w = 1 / std::sqrt(L * C);
  const LinearMotion swing = discharge(0, L, C, 0, 20);  // u = 20 cos w t
  EXPECT_NEAR(swing.first_rise({-10, 0, -1}, 1), std::acos(-0.5) / w, 1e-17);
  const LinearMotion back = discharge(0, L, C, -20 / (w * L), 0);  // u = 20 sin w t
  EXPECT_NEAR(back.first_rise({0, 0, -1}, 1), std::numbers::pi / w, 1e-17);
  EXPECT_NEAR(back.first_rise({-10, 0, 1}, 1), std::asin(0.5) / w, 1e-17);
  EXPECT_TRUE(std::isinf(back.first_rise({-10, 0, 1}, 0.9 * std::asin(0.5) / w)));

  const LinearMotion at_rest({}, {}, {5, 0});
  EXPECT_EQ(at_rest.first_rise({-4, 1, 0}, 1), 0);
  EXPECT_TRUE(std::isinf(at_rest.first_rise({-5, 1, 0}, 1)));
}

// i = V/R (1 - exp(-R t/L)), int i dt = V/R (t - tau (1 - exp)), int i^2 dt likewise.
TEST(LinearMotion, battery_rises_to_its_short_circuit_current) {
  const double resistance = 0.006, inductance = 1.2e-6, V = 12.6;
  const double tau = inductance / resistance, final_current = V / resistance;
  const LinearMotion loop = battery(resistance, inductance, 0, V);
  for (const double x : {1e-9, 0.3, 0.999, 1.001, 2.0, 30.0, 1e5}) {
    const double t = x * tau;
    const long double once = -std::expm1(-static_cast<long double>(x));
    const long double twice = -std::expm1(-2 * static_cast<long double>(x));
    const double end_current = static_cast<double>(final_current * once);
    const Moments step = loop.moments(t);
    expect_close(step.gain.a, end_current, end_current, 1e-14, "i");
    EXPECT_EQ(step.gain.b, 0);
    if (x < 0.01) {  // first term of the series; the next is smaller by x
      expect_close(step.a, V / inductance * t * t / 2, step.a, 1e-9, "charge");
      expect_close(step.aa, std::pow(V / inductance, 2) * t * t * t / 3, step.aa, 1e-9,
                   "square current");
    } else {
      const long double charge = final_current * tau * (x - once);
      const long double square = static_cast<long double>(final_current) * final_current * tau *
                                 (x - 2 * once + twice / 2);
      expect_close(step.a, static_cast<double>(charge), static_cast<double>(charge), 1e-14,
                   "charge");
      expect_close(step.aa, static_cast<double>(square), static_cast<double>(square), 2e-14,
                   "square current");
    }
  }
}

TEST(LinearMotion, battery_without_resistance_rises_on_a_straight_line) {
  const Moments step = battery(0, 2e-6, 5, 12).moments(1e-4);
  EXPECT_DOUBLE_EQ(5 + step.gain.a, 605);
  EXPECT_NEAR(step.a, 305e-4, 1e-16);
  EXPECT_NEAR(step.aa, (605.0 * 605 * 605 - 125) / 3 / 6e6, 1e-13);
}

// L di/dt + R i = -u dies at (L/R) ln(1 + R i0/u).
TEST(LinearMotion, battery_current_against_a_counter_voltage_dies) {
  const double zero = 1.5e-3 * std::log1p(1.2 / 0.7);
  EXPECT_NEAR(battery(1e-3, 1.5e-6, 1200, -0.7).first_rise({0, -1, 0}, 1), zero, 1e-15);
  EXPECT_NEAR(battery(0, 1.5e-6, 1200, -0.7).first_rise({0, -1, 0}, 1), 1.5e-6 * 1200 / 0.7, 1e-15);
}

}  // namespace
}  // namespace tabmelt::circuit
