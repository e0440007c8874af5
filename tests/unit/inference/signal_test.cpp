// Records before anything is fitted: noise, trigger, fewer samples.
#include "solver/inference/signal.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>

namespace tabmelt::inference {
namespace {

// Zero, then a decaying pulse from `on` to 6 ms, in points 1 us apart and so much white noise.
Signal pulse(double on, std::size_t points, double noise, std::uint64_t seed = 1) {
  std::mt19937_64 engine(seed);
  std::normal_distribution<double> bell(0, 1);
  Signal s;
  for (std::size_t n = 0; n < points; ++n) {
    const double t = 1e-6 * static_cast<double>(n);
    const double clean = t < on || t > 6e-3 ? 0 : 1000 * std::exp(-(t - on) / 2e-3);
    s.time.push_back(t);
    s.value.push_back(clean + noise * bell(engine));
  }
  return s;
}

TEST(Signal, noise_is_found_under_a_pulse) {
  for (const double noise : {0.5, 5.0, 20.0})
    EXPECT_NEAR(noise_of(pulse(1e-3, 8000, noise)), noise, 0.04 * noise);
}

TEST(Signal, steps_of_the_recorder_are_noise_too) {
  Signal s;
  for (int n = 0; n < 1000; ++n) {
    s.time.push_back(n);
    s.value.push_back(8.0 * std::round(n / 100.0));
  }
  EXPECT_DOUBLE_EQ(noise_of(s), 8 / std::sqrt(12.0));
  EXPECT_EQ(noise_of({{0, 1}, {0, 1}}), 0);
}

TEST(Signal, trigger_is_where_the_pulse_begins) {
  const Trigger t = trigger_of(pulse(1e-3, 8000, 5), true);
  EXPECT_TRUE(t.has_base);
  EXPECT_NEAR(t.base, 0, 4 * 5 / std::sqrt(900.0));
  EXPECT_NEAR(t.on, 1e-3, 2e-6);
  // The last point beyond the level, which the noise may still reach some time later.
  EXPECT_NEAR(t.off, 1e-3 + 2e-3 * std::log(10.0), 0.35e-3);
  EXPECT_NEAR(t.height, 1000, 20);
  EXPECT_NEAR(t.level, 100, 3);
}

TEST(Signal, trigger_works_downwards_and_without_a_base) {
  Signal s = pulse(1e-3, 8000, 5);
  for (double& v : s.value) v = 12 - v / 500;
  const Trigger sag = trigger_of(s, false);
  EXPECT_NEAR(sag.height, -2, 0.05);
  EXPECT_NEAR(sag.base, 12, 0.01);
  const Trigger within = trigger_of(pulse(0, 8000, 5), true);
  EXPECT_FALSE(within.has_base);
  EXPECT_EQ(within.base, 0);
  EXPECT_NEAR(within.height, 1000, 20);
}

TEST(Signal, nothing_but_noise_is_refused) {
  EXPECT_THROW(trigger_of(pulse(1, 8000, 5), true), std::invalid_argument);
  EXPECT_THROW(trigger_of({{0, 1}, {0, 1}}, true), std::invalid_argument);
}

TEST(Signal, a_million_points_keep_their_charge) {
  Signal s = pulse(1e-3, 1'000'000, 5);
  const auto samples = samples_of(s, trigger_of(s, true), 5, 4000);
  EXPECT_LT(samples.size(), 4400u);
  EXPECT_GT(samples.size(), 3000u);
  double charge = 0;
  for (const Sample& one : samples) charge += (one.to - one.from) * one.value;
  EXPECT_NEAR(charge, integral(s), 1e-11 * std::abs(integral(s)));
  // Finest where the pulse is, and as much less noisy as there are points in each.
  const auto during = std::find_if(samples.begin(), samples.end(),
                                   [](const Sample& one) { return one.from > 1.5e-3; });
  EXPECT_LT(during->to - during->from, 3e-6);
  EXPECT_LT(samples.back().deviation, 0.2);
}

TEST(Signal, short_ones_stay_as_they_are) {
  const Signal s = pulse(1e-3, 3000, 5);
  const auto samples = samples_of(s, trigger_of(s, true), 5, 4000);
  ASSERT_EQ(samples.size(), s.time.size());
  EXPECT_EQ(samples[77].value, s.value[77]);
  EXPECT_EQ(samples[77].from, samples[77].to);
}

TEST(Signal, gaps_are_named_and_not_bridged) {
  Signal s = pulse(1e-3, 8000, 5);
  s.time.erase(s.time.begin() + 3000, s.time.begin() + 4000);
  s.value.erase(s.value.begin() + 3000, s.value.begin() + 4000);
  const auto missing = gaps(s);
  ASSERT_EQ(missing.size(), 1u);
  EXPECT_NEAR(missing[0].first, 2.999e-3, 1e-9);
  EXPECT_NEAR(missing[0].second, 4.0e-3, 1e-9);
  for (const Sample& one : samples_of(s, trigger_of(s, true), 5, 700))
    EXPECT_TRUE(one.to < 3.0e-3 || one.from > 3.99e-3) << one.from << ' ' << one.to;
}

}  // namespace
}  // namespace tabmelt::inference
