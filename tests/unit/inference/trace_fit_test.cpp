// Fits of circuit traces whose truth is known: made by the loop itself, and from the closed form of
// the series RLC circuit.
#include "solver/inference/trace_fit.h"

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <stdexcept>

#include "tests/unit/inference/circuit_only.h"

namespace tabmelt::inference {
namespace {

using namespace tabmelt::test;

constexpr double C = 0.8, V = 6.5, esr = 0.7e-3, rest = 1.3e-3, L = 0.6e-6, load = 0.9e-3;

// Capacitance, internal resistance, the rest of the loop, inductance.
Curves bank_model(const Loading& at = {load, 6e-3}, std::size_t records = 1) {
  return [=](const std::vector<std::vector<double>>& points) {
    std::vector<std::vector<std::shared_ptr<const Curve>>> all;
    for (const auto& x : points) {
      // Of two records the second is into a dead short.
      all.push_back({curve(bank(x[0], V, x[1], x[2], x[3]), at)});
      if (records > 1) all.back().push_back(curve(bank(x[0], V, x[1], x[2], x[3]), {0, at.end}));
    }
    return all;
  };
}

std::vector<Unknown> bank_unknowns() {
  return {{"capacitance", 1.0, 0.1, 10, 1.0},
          {"esr", 1e-3, 0, 0.1, 1e-3},
          {"rest", 1e-3, 0, 0.1, 1e-3},
          {"inductance", 0.4e-6, 0, 1e-5, 0.4e-6}};
}
const std::array<double, 4> truth{C, esr, rest, L};

Record both_channels(std::uint64_t seed, double noise = 1) {
  const auto clean = curve(bank(C, V, esr, rest, L), {load, 6e-3});
  return {"weld",
          {recorded(Channel::current,
                    record(*clean, Channel::current, 360, 12e-6, 0.7312e-3, noise * 8, seed, 15)),
           recorded(Channel::source_voltage, record(*clean, Channel::source_voltage, 360, 12e-6,
                                                    0.7312e-3, noise * 0.01, seed + 1000))}};
}

// 95 of 100 within 1.96 standard errors, 68 of 100 within one. Counts of 100 scatter by sqrt(100 p
// (1 - p)), 2.2 and 4.7; three of these are allowed.
TEST(TraceFit, truth_lies_within_the_stated_error_as_often_as_it_should) {
  std::array<int, 4> within_two{}, within_one{};
  int matching = 0, shifts = 0;
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    const std::vector<Record> records{both_channels(seed)};
    const TraceFit fit = fit_traces(bank_model(), bank_unknowns(), records);
    ASSERT_TRUE(fit.converged) << fit.message;
    matching += fit.matches ? 1 : 0;
    shifts += std::abs(fit.records[0].shift - 0.7312e-3) < 1.96 * fit.records[0].shift_error;
    for (std::size_t i = 0; i < 4; ++i) {
      within_two[i] += std::abs(fit.values[i] - truth[i]) < 1.96 * fit.errors[i] ? 1 : 0;
      within_one[i] += std::abs(fit.values[i] - truth[i]) < fit.errors[i] ? 1 : 0;
    }
  }
  for (std::size_t i = 0; i < 4; ++i) {
    std::printf("unknown %zu: %d of 100 within 1.96, %d within 1 standard error\n", i,
                within_two[i], within_one[i]);
    EXPECT_GE(within_two[i], 88) << i;
    EXPECT_GE(within_one[i], 54) << i;
    EXPECT_LE(within_one[i], 82) << i;
  }
  EXPECT_GE(shifts, 88);
  EXPECT_GE(matching, 98);
}

TEST(TraceFit, splits_of_one_sum_cannot_be_told) {
  const auto clean = curve(bank(C, V, esr, rest, L), {load, 6e-3});
  const Record only_current{
      "weld",
      {recorded(Channel::current, record(*clean, Channel::current, 900, 5e-6, 0.7e-3, 8, 3, 0))}};
  const TraceFit fit = fit_traces(bank_model(), bank_unknowns(), {only_current});
  ASSERT_EQ(fit.cannot_tell.size(), 1u);
  std::vector<std::size_t> group = fit.cannot_tell[0];
  std::sort(group.begin(), group.end());
  EXPECT_EQ(group, (std::vector<std::size_t>{1, 2}));
  EXPECT_NEAR(fit.values[1] + fit.values[2], esr + rest, 1e-5);
  EXPECT_LT(fit.correlation(1, 2), -0.99);
}

// With the load as one of the unknowns it takes the record into a short to tell it from the rest.
TEST(TraceFit, a_record_into_a_short_tells_the_load_from_the_loop) {
  const auto weld = curve(bank(C, V, esr, rest, L), {load, 6e-3});
  const auto bare = curve(bank(C, V, esr, rest, L), {0, 6e-3});
  const Curves model = [](const std::vector<std::vector<double>>& points) {
    std::vector<std::vector<std::shared_ptr<const Curve>>> all;
    for (const auto& x : points)
      all.push_back({curve(bank(C, V, esr, x[0], L), {x[1], 6e-3}),
                     curve(bank(C, V, esr, x[0], L), {0, 6e-3})});
    return all;
  };
  const auto one = [&](const PulseTrace& clean, const std::string& name, double shift) {
    return Record{
        name,
        {recorded(Channel::current, record(clean, Channel::current, 800, 5e-6, shift, 8, 5, -3))}};
  };
  const std::vector<Unknown> unknowns{{"rest", 1e-3, 0, 0.1, 1e-3}, {"load", 1e-3, 0, 0.1, 1e-3}};
  const TraceFit fit =
      fit_traces(model, unknowns, {one(*weld, "weld", 0.5e-3), one(*bare, "short", 0.9e-3)});
  EXPECT_TRUE(fit.matches);
  EXPECT_TRUE(fit.cannot_tell.empty());
  EXPECT_NEAR(fit.values[0], rest, 3 * fit.errors[0]);
  EXPECT_NEAR(fit.values[1], load, 3 * fit.errors[1]);
  EXPECT_LT(fit.errors[1], 0.02 * load);
  EXPECT_NEAR(fit.records[1].shift, 0.9e-3, 3 * fit.records[1].shift_error);
}

// i = V/(w L) exp(-a t) sin w t, a = R/(2L), w^2 = 1/(LC) - a^2: the series RLC circuit, any
// textbook of electric circuits (Nilsson and Riedel, "Natural and step responses of RLC circuits").
TEST(TraceFit, an_analytic_ringing_circuit_is_recovered) {
  const double c = 2e-3, l = 5e-6, r = 0.03, v = 40;
  const double a = r / (2 * l), w = std::sqrt(1 / (l * c) - a * a);
  std::mt19937_64 engine(7);
  std::normal_distribution<double> bell(0, 1);
  Signal s;
  for (int n = 0; n < 1200; ++n) {
    const double t = n * 1e-6 - 150e-6;
    s.time.push_back(n * 1e-6);
    s.value.push_back((t < 0 ? 0 : v / (w * l) * std::exp(-a * t) * std::sin(w * t)) +
                      1.5 * bell(engine));
  }
  const Curves model = [&](const std::vector<std::vector<double>>& points) {
    std::vector<std::vector<std::shared_ptr<const Curve>>> all;
    for (const auto& x : points) all.push_back({curve(bank(x[0], v, 0, x[1], x[2], 1), {0, 2e-3})});
    return all;
  };
  const TraceFit fit = fit_traces(
      model, {{"C", 1e-3, 1e-4, 1, 1e-3}, {"R", 0.05, 0, 1, 0.05}, {"L", 8e-6, 1e-7, 1e-4, 8e-6}},
      {{"ringing", {recorded(Channel::current, s)}}});
  EXPECT_TRUE(fit.converged);
  EXPECT_TRUE(fit.matches);
  EXPECT_NEAR(fit.values[0], c, 3 * fit.errors[0]);
  EXPECT_NEAR(fit.values[1], r, 3 * fit.errors[1]);
  EXPECT_NEAR(fit.values[2], l, 3 * fit.errors[2]);
  EXPECT_LT(fit.errors[2], 0.003 * l);
  EXPECT_NEAR(fit.records[0].shift, 150e-6, 3 * fit.records[0].shift_error);
}

// A battery, whose current does not sag, against the record of a bank: no resistance helps.
TEST(TraceFit, a_wrong_model_is_told_apart) {
  const auto clean = curve(bank(C, V, esr, rest, L), {load, 6e-3});
  const Curves battery = [](const std::vector<std::vector<double>>& points) {
    std::vector<std::vector<std::shared_ptr<const Curve>>> all;
    for (const auto& x : points) {
      circuit::Circuit c = bank(1, 1, 0, 0, L);
      c.source.emplace<circuit::Battery>(circuit::Battery{V, x[0], {}});
      all.push_back({curve(c, {load, 6e-3})});
    }
    return all;
  };
  const TraceFit fit = fit_traces(
      battery, {{"resistance", 2e-3, 0, 0.1, 2e-3}},
      {{"weld",
        {recorded(Channel::current, record(*clean, Channel::current, 900, 5e-6, 0.7e-3, 8, 3))}}});
  EXPECT_FALSE(fit.matches);
  EXPECT_GT(fit.stretch, 3);
  EXPECT_LT(fit.records[0].channels[0].goodness.by_order, 1e-6);
  EXPECT_GT(fit.records[0].channels[0].departure, 30);
}

// A current recorded 1 % too large is that of a loop with R and L 1 % smaller and C 1 % larger: the
// current alone cannot tell the two apart.
class ScaledCurrent : public ::testing::Test {
 protected:
  static Signal scaled(Signal s) {
    for (double& v : s.value) v *= 1.01;
    return s;
  }
  static TraceFit fitted(const Record& record, double scale_error) {
    const Curves model = [](const std::vector<std::vector<double>>& points) {
      std::vector<std::vector<std::shared_ptr<const Curve>>> all;
      for (const auto& x : points) all.push_back({curve(bank(x[0], V, 0, x[1], x[2]), at)});
      return all;
    };
    return fit_traces(
        model,
        {{"C", 1.0, 0.1, 10, 1.0}, {"R", 2e-3, 0, 0.1, 2e-3}, {"L", 0.5e-6, 0, 1e-5, 0.5e-6}},
        {record}, scale_error);
  }
  static constexpr Loading at{5e-5, 6e-3};
  static constexpr double R = esr + rest;
  const std::shared_ptr<const PulseTrace> clean = curve(bank(C, V, 0, R, L), at);
  const RecordedChannel current = recorded(
      Channel::current, scaled(record(*clean, Channel::current, 360, 12e-6, 0.73e-3, 0.5, 3)));
};

TEST_F(ScaledCurrent, moves_all_that_is_found_by_as_much) {
  const TraceFit fit = fitted({"bar", {current}}, 0);
  EXPECT_TRUE(fit.matches);
  EXPECT_NEAR(fit.values[0], 1.01 * C, 4 * fit.errors[0]);
  EXPECT_NEAR(fit.values[1] + at.resistance, (R + at.resistance) / 1.01, 4 * fit.errors[1]);
  EXPECT_NEAR(fit.values[2], L / 1.01, 4 * fit.errors[2]);
  EXPECT_GT(std::abs(fit.values[1] - R), 5 * fit.errors[1]);
  EXPECT_EQ(fit.scale_error, 0);
}

TEST_F(ScaledCurrent, within_its_own_error_the_errors_cover_the_truth) {
  const TraceFit fit = fitted({"bar", {current}}, 0.01);
  EXPECT_TRUE(fit.matches);
  const double known = std::hypot(0.01, fitted({"bar", {current}}, 0).errors[1] / R);
  EXPECT_NEAR(fit.errors[0] / C, 0.01, 0.001);
  EXPECT_NEAR(fit.errors[1] / (R + at.resistance), known, 0.001);
  EXPECT_NEAR(fit.errors[2] / L, 0.01, 0.001);
  const std::array<double, 3> true_values{C, R, L};
  for (std::size_t i = 0; i < 3; ++i)
    EXPECT_NEAR(fit.values[i], true_values[i], 1.5 * fit.errors[i]) << i;
  // Nothing tells the scale but what was known of it.
  EXPECT_NEAR(fit.scale, 0, 1e-3);
  EXPECT_NEAR(fit.scale_error, 0.01, 0.0005);
  EXPECT_TRUE(fit.cannot_tell.empty());
}

// Over a bar of known resistance the voltage tells how large the current really is.
TEST_F(ScaledCurrent, a_voltage_over_a_known_resistance_tells_the_scale) {
  const Record both{
      "bar",
      {current, recorded(Channel::tip_voltage,
                         record(*clean, Channel::tip_voltage, 360, 12e-6, 0.73e-3, 1e-4, 5))}};
  const TraceFit fit = fitted(both, 0.05);
  EXPECT_TRUE(fit.matches);
  EXPECT_NEAR(fit.scale, 0.01, 4 * fit.scale_error);
  EXPECT_LT(fit.scale_error, 0.001);
  EXPECT_NEAR(fit.values[1], R, 4 * fit.errors[1]);
  EXPECT_LT(fit.errors[1], 0.002 * R);
}

// A million points are drawn together first, and say the same.
TEST(TraceFit, more_points_than_are_needed_tell_the_same) {
  const auto clean = curve(bank(C, V, esr, rest, L), {load, 6e-3});
  const Signal many = record(*clean, Channel::current, 80'000, 5e-8, 0.7e-3, 8, 3);
  const TraceFit fit = fit_traces(bank_model(),
                                  {bank_unknowns()[0],
                                   {"esr", esr, esr, esr + 1e-9, 1e-3},
                                   bank_unknowns()[2],
                                   bank_unknowns()[3]},
                                  {{"weld", {recorded(Channel::current, many)}}});
  EXPECT_TRUE(fit.matches);
  EXPECT_NEAR(fit.values[2], rest, 4 * fit.errors[2]);
  EXPECT_NEAR(fit.values[3], L, 4 * fit.errors[3]);
}

TEST(TraceFit, model_that_cannot_be_computed_says_so) {
  const Curves none = [](const std::vector<std::vector<double>>& points) {
    return std::vector<std::vector<std::shared_ptr<const Curve>>>(points.size(), {nullptr});
  };
  EXPECT_FALSE(fit_traces(none, bank_unknowns(), {both_channels(1)}).computed);
  EXPECT_THROW(fit_traces(none, {}, {both_channels(1)}), std::invalid_argument);
  EXPECT_THROW(fit_traces(none, bank_unknowns(), {}), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt::inference
