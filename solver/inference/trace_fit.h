// Unknowns of a pulse from what an oscilloscope recorded of it.
//
//   residual  r = (y_k - b - (1 + g) m(t_k - s; x)) / sigma       of each sample of each channel
//
//   y_k  recorded value      b  zero of the channel, where the record shows it before the pulse
//   m  what the model shows at the unknowns x      s  [s] time of the record at which the model's
//   pulse begins      sigma  noise of the sample
//   g  [1] of a current: by how much the recorder's scale is off, the same in all records; known
//   beforehand as 0 +- sigma_g, which counts as one more residual g / sigma_g. Else 0.
//
// x, every s, every b and g are fitted together: first by least squares (least_squares.h) with
// slopes from central differences over 2 % of each unknown, then on the model averaged over a small
// box around the best point (averaged.h), because a computed weld jumps by some tenths of a per
// cent from one set of time steps to another. The jumps count as a second noise, in weights, errors
// and in whether the model matches.
//
// s starts where the record passes its trigger level and the model the same share of its own
// height; after the first fit it is looked for again over the neighbouring samples. Samples within
// which the model jumps in time, or that it says it does not describe, are left out.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "solver/inference/goodness.h"
#include "solver/inference/least_squares.h"
#include "solver/inference/signal.h"

namespace tabmelt::inference {

enum class Channel { current, tip_voltage, source_voltage };

struct Interval {
  double from = 0, to = 0;  // [s]
};

// What a model shows over its own time.
class Curve {
 public:
  virtual ~Curve() = default;
  // The means over these samples' intervals, which come in the order of time [SI].
  virtual std::vector<double> means(Channel, const std::vector<Sample>&) const = 0;
  // Where it jumps, or does not describe what happens.
  virtual std::vector<Interval> blind() const = 0;
};

// For each point one curve for each record; null where it cannot be computed.
using Curves = std::function<std::vector<std::vector<std::shared_ptr<const Curve>>>(
    const std::vector<std::vector<double>>& points)>;

struct RecordedChannel {
  Channel channel = Channel::current;
  Trigger trigger;
  double noise = 0;        // standard deviation of one value
  std::size_t points = 0;  // before they were drawn together
  double spacing = 0;      // [s] usual distance of samples
  std::vector<Sample> samples;
};

struct Record {
  std::string name;
  std::vector<RecordedChannel> channels;  // at least one; the first is the one that triggers
};

// Noise, trigger and samples of a signal. Throws std::invalid_argument as trigger_of() does.
RecordedChannel recorded(Channel, const Signal&, std::size_t most_samples = 4000);

struct FittedChannel {
  double zero = 0;                // taken off the record
  bool zero_known = false;        // from before the pulse
  std::vector<double> model;      // at each sample
  std::vector<double> residuals;  // [1] likewise; 0 where left out
  std::size_t left_out = 0;
  Goodness goodness;
  double departure = 0;  // root mean square of record less model
  double jumps = 0;      // likewise of the model's own jumps
};

struct FittedRecord {
  double shift = 0, shift_error = 0;  // [s]
  std::vector<FittedChannel> channels;
};

struct TraceFit {
  bool computed = false;  // the model could be computed at all
  bool converged = false;
  std::string message;
  std::vector<double> values;  // of the unknowns
  std::vector<double> errors;  // standard; infinite if the records say nothing
  std::vector<bool> at_bound;
  Eigen::MatrixXd correlation;                        // of the unknowns
  std::vector<std::vector<std::size_t>> cannot_tell;  // among the unknowns
  std::vector<FittedRecord> records;
  double scale = 0, scale_error = 0;  // [1] g of the current
  bool matches = true;                // all channels do
  double stretch = 1;  // [1] errors were multiplied by it because the model does not match
  int iterations = 0;
};

// `scale_error`: sigma_g of the current [1]; 0: its scale is right. Throws std::invalid_argument
// for no unknowns, no records or fewer samples than unknowns.
TraceFit fit_traces(const Curves&, const std::vector<Unknown>&, const std::vector<Record>&,
                    double scale_error = 0);

}  // namespace tabmelt::inference
