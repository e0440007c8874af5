// Of trace_fit.h: a signal made ready to be fitted.
#include <algorithm>
#include <cmath>

#include "solver/inference/trace_fit.h"

namespace tabmelt::inference {
namespace {

double usual_spacing(const std::vector<Sample>& samples) {
  std::vector<double> distances;
  for (std::size_t n = 1; n < samples.size(); ++n)
    distances.push_back(samples[n].middle() - samples[n - 1].middle());
  const auto middle = distances.begin() + static_cast<std::ptrdiff_t>(distances.size() / 2);
  std::nth_element(distances.begin(), middle, distances.end());
  return *middle;
}

}  // namespace

RecordedChannel recorded(Channel channel, const Signal& signal, std::size_t most_samples) {
  RecordedChannel c;
  c.channel = channel;
  c.trigger = trigger_of(signal, channel != Channel::source_voltage);
  c.noise = std::max(noise_of(signal), c.trigger.base_noise);
  // A record without any noise, such as one that a program wrote: as good as a 16-bit recorder.
  c.noise = std::max(c.noise, std::abs(c.trigger.height) * 1e-5);
  c.points = signal.time.size();
  c.samples = samples_of(signal, c.trigger, c.noise, most_samples);
  c.spacing = usual_spacing(c.samples);
  return c;
}

}  // namespace tabmelt::inference
