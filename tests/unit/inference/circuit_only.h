// Records of a plain circuit into a constant load, with noise of known size, and the model that
// fits them: no field is solved.
#pragma once

#include <cmath>
#include <memory>
#include <random>

#include "solver/inference/trace_fit.h"
#include "solver/study/pulse_trace.h"

namespace tabmelt::test {

using inference::Channel;
using inference::Signal;

struct Loading {
  double resistance = 0.002;  // [ohm]
  double end = 6e-3;          // [s]
};

// A bank that is switched on for `on` seconds.
inline circuit::Circuit bank(double capacitance, double voltage, double esr, double rest,
                             double inductance, double on = 3e-3) {
  circuit::CapacitorBank source;
  source.part_capacitance = capacitance;
  source.charge_voltage = voltage;
  source.part_esr = esr;
  circuit::Circuit circuit;
  circuit.source.emplace<circuit::CapacitorBank>(source);
  circuit.extra_resistance = rest;
  circuit.extra_inductance = inductance;
  circuit.power_switch.train = {{on, 0}};
  return circuit;
}

inline std::shared_ptr<const PulseTrace> curve(const circuit::Circuit& circuit, Loading load) {
  return std::make_shared<PulseTrace>(circuit, bridged(circuit, load.resistance, load.end));
}

// As a recorder would store it: the pulse begins at `shift`, on a zero of `zero`.
inline Signal record(const PulseTrace& curve, Channel channel, std::size_t points, double spacing,
                     double shift, double noise, std::uint64_t seed, double zero = 0) {
  std::mt19937_64 engine(seed);
  std::normal_distribution<double> bell(0, 1);
  Signal s;
  for (std::size_t n = 0; n < points; ++n) {
    const double t = spacing * static_cast<double>(n);
    s.time.push_back(t);
    s.value.push_back(curve.means(channel, {{t - shift, t - shift}}).front() + zero +
                      noise * bell(engine));
  }
  return s;
}

}  // namespace tabmelt::test
