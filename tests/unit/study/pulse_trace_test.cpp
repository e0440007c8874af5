// What an oscilloscope shows of a run is what the run says of itself.
#include "solver/study/pulse_trace.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "tests/unit/inference/circuit_only.h"

namespace tabmelt {
namespace {

using inference::Channel;
using test::bank;

// A run's history as solve() records it, of a load that heats up.
Result run_of(const circuit::Circuit& circuit, std::vector<StepRecord>& records) {
  const circuit::Loop loop(circuit);
  circuit::LoopState state = loop.close_switch(loop.initial_state());
  Result result;
  for (int n = 0; n < 60; ++n) {
    const double resistance = 1e-3 * (1 + 0.01 * n), dt = 5e-5;
    state = loop.advance(state, dt, resistance).state;
    StepRecord r;
    r.time = state.time;
    r.current = state.current;
    r.source_voltage = state.source_voltage;
    r.load_resistance = resistance;
    r.load_voltage = resistance * state.current;
    result.history.push_back(r);
  }
  double dumped = 0;
  state = loop.advance(loop.open_switch(state, dumped), 1e-3, 1e-3).state;
  StepRecord rest;
  rest.time = state.time;
  rest.source_voltage = state.source_voltage;
  result.history.push_back(rest);
  records = result.history;
  return result;
}

TEST(PulseTrace, shows_the_run_at_its_steps) {
  const circuit::Circuit circuit = bank(0.8, 6.5, 0.7e-3, 1.3e-3, 0.6e-6);
  std::vector<StepRecord> records;
  const PulseTrace trace(circuit, load_history(run_of(circuit, records)));
  std::vector<inference::Sample> moments;
  for (const StepRecord& r : records) moments.push_back({r.time - 1e-13, r.time - 1e-13});
  const auto current = trace.means(Channel::current, moments);
  const auto tips = trace.means(Channel::tip_voltage, moments);
  const auto source = trace.means(Channel::source_voltage, moments);
  for (std::size_t n = 0; n < records.size(); ++n) {
    EXPECT_NEAR(current[n], records[n].current, 1e-5) << n;
    EXPECT_NEAR(tips[n], records[n].load_voltage, 1e-8) << n;
    EXPECT_NEAR(source[n], records[n].source_voltage - 0.7e-3 * records[n].current, 1e-7) << n;
  }
}

TEST(PulseTrace, is_at_rest_before_and_after) {
  const circuit::Circuit circuit = bank(0.8, 6.5, 0.7e-3, 1.3e-3, 0.6e-6);
  const PulseTrace trace(circuit, bridged(circuit, 1e-3, 5e-3));
  EXPECT_EQ(trace.means(Channel::current, {{-1e-3, -1e-3}, {4e-3, 4e-3}, {9e-3, 9e-3}}),
            (std::vector<double>{0, 0, 0}));
  const auto voltage = trace.means(Channel::source_voltage, {{-1e-3, -1e-3}, {9e-3, 9e-3}});
  EXPECT_DOUBLE_EQ(voltage[0], 6.5);
  EXPECT_LT(voltage[1], 5.5);
  ASSERT_EQ(trace.blind().size(), 1u);
  EXPECT_DOUBLE_EQ(trace.blind()[0].from, 3e-3);
}

// Simpson's means of short intervals against the exact charge of the whole pulse.
TEST(PulseTrace, means_hold_the_charge) {
  const circuit::Circuit circuit = bank(0.8, 6.5, 0.7e-3, 1.3e-3, 0.6e-6);
  const PulseTrace trace(circuit, bridged(circuit, 1e-3, 5e-3));
  std::vector<inference::Sample> bins;
  for (int n = 0; n < 700; ++n) bins.push_back({n * 1e-5 - 1.003e-3, (n + 1) * 1e-5 - 1.003e-3});
  double charge = 0;
  for (const double mean : trace.means(Channel::current, bins)) charge += mean * 1e-5;
  const circuit::Loop loop(circuit);
  const double exact =
      loop.advance(loop.close_switch(loop.initial_state()), 3e-3, 1e-3).energy.charge;
  EXPECT_NEAR(charge, exact, 1e-7 * exact);
}

TEST(PulseTrace, knows_what_it_does_not_know) {
  circuit::Circuit circuit = bank(0.8, 6.5, 0.7e-3, 1.3e-3, 0);
  circuit.power_switch.train.clear();
  const PulseTrace endless(circuit, bridged(circuit, 1e-3, 5e-3));
  // The jump of a loop without inductance, and all beyond the end of the run.
  ASSERT_EQ(endless.blind().size(), 2u);
  EXPECT_EQ(endless.blind()[0].to, 0);
  EXPECT_DOUBLE_EQ(endless.blind()[1].from, 5e-3);
}

TEST(PulseTrace, loads_go_through_one_list) {
  const LoadHistory load{{1e-3, 2e-3}, {1e-3, -1}};
  const LoadHistory back = LoadHistory::of_flat(load.flat());
  EXPECT_EQ(back.end, load.end);
  EXPECT_EQ(back.resistance, load.resistance);
  EXPECT_THROW(LoadHistory::of_flat({1}), std::invalid_argument);
}

}  // namespace
}  // namespace tabmelt
