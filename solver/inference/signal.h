// A recorded signal before anything is fitted to it: how noisy it is, where the pulse begins, and
// the same in fewer samples.
//
//   noise of white noise from second differences  d = y[n-1] - 2 y[n] + y[n+1]:  sigma^2 = E d^2 /
//   6 (a parabola through the signal drops out but for its bend), by the median of |d| so that
//   edges do not count:  sigma = 1.4826 median|d| / sqrt 6
//
//   a mean over [a, b] of the straight lines between points:  1/(b - a) int_a^b y dt
//
// so that sum (b - a) mean = int y dt: fewer samples hold the same charge. The factor 1.4826 is
// that of the normal distribution, 1 / Phi^-1(3/4).
#pragma once

#include <cstddef>
#include <vector>

namespace tabmelt::inference {

// Times [s] rise strictly; values of any unit.
struct Signal {
  std::vector<double> time;
  std::vector<double> value;
};

// The mean of a signal from one time to another; its value at a moment if they are equal.
struct Sample {
  double from = 0, to = 0;  // [s]
  double value = 0;
  double deviation = 0;  // standard, of its noise
  double middle() const { return 0.5 * (from + to); }
};

// int y dt over all of it.
double integral(const Signal&);

// Standard deviation of the noise of one value: by second differences, at least what the steps of
// the recorder leave (the smallest difference over sqrt 12). 0 for fewer than three points.
double noise_of(const Signal&);

// Where a pulse begins: the signal leaves its base for good.
struct Trigger {
  bool has_base = false;   // enough points before it to know where zero is
  double base = 0;         // mean before the pulse
  double base_noise = 0;   // standard deviation there
  double level = 0;        // of the signal, half of the way to where it counts as a pulse
  double on = 0, off = 0;  // [s] first and last time beyond the level
  double height = 0;       // largest departure from the base, with its sign
};

// The level: a tenth of the largest departure from the base, at least six times the noise. A signal
// that rests at zero has no base if it begins further from zero than 0.3 of its height: the record
// then begins within the pulse. Throws std::invalid_argument if nothing stands out of the noise.
Trigger trigger_of(const Signal&, bool rests_at_zero);

// At most about `most` samples, finest over the pulse; a signal that is short enough keeps its
// points. Means are taken between gaps, never across: a gap is a pause longer than ten times the
// median distance of points. `noise` of one value.
std::vector<Sample> samples_of(const Signal&, const Trigger&, double noise, std::size_t most);

// [s] pauses longer than ten times the median distance, as their two ends.
std::vector<std::pair<double, double>> gaps(const Signal&);

}  // namespace tabmelt::inference
