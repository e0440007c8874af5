#include "solver/inference/signal.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace tabmelt::inference {
namespace {

constexpr double of_normal = 1.4826;
constexpr std::size_t least_base = 10;   // points
constexpr double share_of_height = 0.1;  // of the trigger level
constexpr double times_noise = 6;
constexpr double most_of_height = 0.3;  // of a base that is zero but for an offset

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

double mean(const std::vector<double>& values, std::size_t count) {
  double sum = 0;
  for (std::size_t n = 0; n < count; ++n) sum += values[n];
  return sum / static_cast<double>(count);
}

double deviation(const std::vector<double>& values, std::size_t count, double around) {
  double sum = 0;
  for (std::size_t n = 0; n < count; ++n) sum += (values[n] - around) * (values[n] - around);
  return std::sqrt(sum / static_cast<double>(count - 1));
}

double smallest_step(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t n = 1; n < values.size(); ++n)
    if (values[n] > values[n - 1]) least = std::min(least, values[n] - values[n - 1]);
  return std::isfinite(least) ? least : 0;
}

double usual_distance(const Signal& s) {
  std::vector<double> distances;
  for (std::size_t n = 1; n < s.time.size(); ++n) distances.push_back(s.time[n] - s.time[n - 1]);
  return distances.empty() ? 0 : median(std::move(distances));
}

bool is_gap(const Signal& s, std::size_t n, double usual) {
  return s.time[n] - s.time[n - 1] > 10 * usual;
}

// The mean of the straight lines through points first .. last.
Sample mean_between(const Signal& s, std::size_t first, std::size_t last, double noise) {
  double area = 0;
  for (std::size_t n = first + 1; n <= last; ++n)
    area += 0.5 * (s.value[n] + s.value[n - 1]) * (s.time[n] - s.time[n - 1]);
  const double width = s.time[last] - s.time[first];
  return {s.time[first], s.time[last], area / width,
          noise / std::sqrt(static_cast<double>(last - first))};
}

}  // namespace

double integral(const Signal& s) {
  double area = 0;
  for (std::size_t n = 1; n < s.time.size(); ++n)
    area += 0.5 * (s.value[n] + s.value[n - 1]) * (s.time[n] - s.time[n - 1]);
  return area;
}

double noise_of(const Signal& s) {
  if (s.value.size() < 3) return 0;
  std::vector<double> second;
  for (std::size_t n = 1; n + 1 < s.value.size(); ++n)
    second.push_back(std::abs(s.value[n - 1] - 2 * s.value[n] + s.value[n + 1]));
  return std::max(of_normal * median(std::move(second)) / std::sqrt(6.0),
                  smallest_step(s.value) / std::sqrt(12.0));
}

Trigger trigger_of(const Signal& s, bool rests_at_zero) {
  if (s.value.size() < 3) throw std::invalid_argument("too few points");
  const double noise = noise_of(s);
  Trigger t;
  t.base =
      median({s.value.begin(),
              s.value.begin() + static_cast<std::ptrdiff_t>(std::min(s.value.size(), least_base))});
  const auto [low, high] = std::minmax_element(s.value.begin(), s.value.end());
  const bool begins_within =
      rests_at_zero &&
      std::abs(t.base) > most_of_height * std::max(std::abs(*low), std::abs(*high));
  if (begins_within) t.base = 0;
  t.height = *high - t.base > t.base - *low ? *high - t.base : *low - t.base;
  const double beyond = std::max(share_of_height * std::abs(t.height), times_noise * noise);
  if (std::abs(t.height) <= times_noise * noise)
    throw std::invalid_argument("no pulse stands out of the noise");
  const auto out = [&](std::size_t n) { return std::abs(s.value[n] - t.base) > beyond; };
  std::size_t first = 0, last = s.value.size() - 1;
  while (!out(first)) ++first;
  while (!out(last)) --last;
  t.on = s.time[first];
  t.off = s.time[last];
  t.level = t.base + std::copysign(beyond, t.height);
  // The last of the points before the level may be on their way up already.
  const std::size_t before = first - std::min(first, std::max<std::size_t>(first / 10, 2));
  t.has_base = !begins_within && before >= least_base;
  if (!t.has_base) return t;
  t.base = mean(s.value, before);
  t.base_noise = deviation(s.value, before, t.base);
  return t;
}

std::vector<std::pair<double, double>> gaps(const Signal& s) {
  const double usual = usual_distance(s);
  std::vector<std::pair<double, double>> list;
  for (std::size_t n = 1; n < s.time.size(); ++n)
    if (is_gap(s, n, usual)) list.emplace_back(s.time[n - 1], s.time[n]);
  return list;
}

std::vector<Sample> samples_of(const Signal& s, const Trigger& trigger, double noise,
                               std::size_t most) {
  std::vector<Sample> samples;
  if (s.time.size() <= most) {
    for (std::size_t n = 0; n < s.time.size(); ++n)
      samples.push_back({s.time[n], s.time[n], s.value[n], noise});
    return samples;
  }
  // A tenth of the samples before the pulse, two tenths behind it, the rest for what matters.
  const double usual = usual_distance(s), m = static_cast<double>(most);
  const double begin = s.time.front(), end = s.time.back(), length = trigger.off - trigger.on;
  const double on = std::max(begin, trigger.on - 0.05 * length);
  const double off = std::min(end, trigger.off + 0.05 * length);
  const auto width_at = [&](double t) {
    if (t < on) return (on - begin) / (0.1 * m);
    return t < off ? (off - on) / (0.7 * m) : (end - off) / (0.2 * m);
  };
  std::size_t first = 0;
  for (std::size_t n = 1; n < s.time.size(); ++n) {
    if (is_gap(s, n, usual)) {
      if (n - 1 > first) samples.push_back(mean_between(s, first, n - 1, noise));
      first = n;
    } else if (s.time[n] - s.time[first] >= width_at(s.time[first]) || n + 1 == s.time.size()) {
      samples.push_back(mean_between(s, first, n, noise));
      first = n;
    }
  }
  return samples;
}

}  // namespace tabmelt::inference
