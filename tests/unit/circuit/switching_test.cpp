// Switch trains, lead and joint resistances, and what a Loop makes of them.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>
#include <vector>

#include "solver/circuit/loop.h"

namespace tabmelt::circuit {
namespace {

Circuit with_train(std::vector<OnTime> train) {
  Circuit circuit;
  CapacitorBank bank;
  bank.part_capacitance = 0.1;
  bank.charge_voltage = 10;
  bank.part_esr = 1e-3;
  circuit.source = bank;
  circuit.power_switch.train = std::move(train);
  return circuit;
}

TEST(Switching, without_a_train_the_switch_closes_at_zero_and_stays) {
  const Loop loop(with_train({}));
  EXPECT_EQ(loop.event_times(), std::vector<double>{0});
  EXPECT_TRUE(loop.conducts_at(0));
  EXPECT_TRUE(loop.conducts_at(1e9));
  EXPECT_TRUE(std::isinf(loop.end_of_train()));
  EXPECT_TRUE(std::isinf(loop.end_of_pulse()));
}

TEST(Switching, pre_pulse_pause_and_main_pulse) {
  const Loop loop(with_train({{1e-3, 2e-3}, {5e-3, 7e-3}}));
  const std::vector<double> events = loop.event_times();
  ASSERT_EQ(events.size(), 4u);
  EXPECT_EQ(events[0], 0);
  EXPECT_DOUBLE_EQ(events[1], 1e-3);
  EXPECT_DOUBLE_EQ(events[2], 3e-3);
  EXPECT_DOUBLE_EQ(events[3], 8e-3);
  EXPECT_TRUE(loop.conducts_at(events[0]));
  EXPECT_FALSE(loop.conducts_at(events[1]));
  EXPECT_TRUE(loop.conducts_at(events[2]));
  EXPECT_FALSE(loop.conducts_at(events[3]));
  EXPECT_TRUE(loop.conducts_at(0.9999e-3));
  EXPECT_FALSE(loop.conducts_at(2.9999e-3));
  EXPECT_DOUBLE_EQ(loop.end_of_train(), 8e-3);
  EXPECT_DOUBLE_EQ(loop.end_of_pulse(), 8e-3);
  // A time reached by adding steps may fall short by round-off.
  EXPECT_TRUE(loop.conducts_at(std::nextafter(events[2], 0)));
  EXPECT_FALSE(loop.conducts_at(std::nextafter(events[3], 0)));
}

TEST(Switching, pulses_without_a_pause_are_one_and_empty_pulses_only_delay) {
  const Loop joined(with_train({{0.25, 0}, {0.5, 1}}));
  EXPECT_EQ(joined.event_times(), (std::vector<double>{0, 0.75}));
  const Loop delayed(with_train({{0, 0.5}, {0.25, 0}}));
  EXPECT_EQ(delayed.event_times(), (std::vector<double>{0, 0.5, 0.75}));
  EXPECT_FALSE(delayed.conducts_at(0));
  EXPECT_TRUE(delayed.conducts_at(0.5));
  const Loop never(with_train({{0, 0.5}}));
  EXPECT_EQ(never.event_times(), std::vector<double>{0});
  EXPECT_FALSE(never.conducts_at(0));
  EXPECT_EQ(never.end_of_train(), 0);
  EXPECT_THROW(Loop(with_train({{-1e-3, 0}})), std::invalid_argument);
  EXPECT_THROW(Loop(with_train({{1e-3, NAN}})), std::invalid_argument);
}

TEST(Switching, a_train_leaves_the_bank_where_one_pulse_of_its_length_would) {
  const Loop loop(with_train({{1e-4, 1e-3}, {2e-4, 1e-3}, {1e-4, 0}}));
  LoopState state = loop.initial_state();
  const std::vector<double> events = loop.event_times();
  double dumped = 0;
  for (std::size_t n = 0; n + 1 < events.size(); ++n) {
    state =
        loop.conducts_at(events[n]) ? loop.close_switch(state) : loop.open_switch(state, dumped);
    state = loop.advance(state, events[n + 1] - events[n], 1e-3).state;
  }
  EXPECT_NEAR(state.source_voltage, 10 * std::exp(-4e-4 / (2e-3 * 0.1)), 1e-12);
  EXPECT_DOUBLE_EQ(state.time, 2.4e-3);
}

TEST(Switching, table_kinks_are_events_unless_an_edge_stands_there) {
  Circuit circuit;
  circuit.source = TableCurrent{{-1, 0, 1e-3, 2e-3 * (1 + 1e-14), 4e-3}, {0, 0, 900, 800, 0}};
  circuit.power_switch.train = {{2e-3, 0}};
  const Loop loop(circuit);
  const std::vector<double> events = loop.event_times();
  ASSERT_EQ(events.size(), 4u);
  EXPECT_EQ(events[1], 1e-3);
  EXPECT_EQ(events[2], 2e-3);
  EXPECT_EQ(events[3], 4e-3);
  EXPECT_DOUBLE_EQ(loop.end_of_pulse(), 2e-3);
  circuit.power_switch.train.clear();
  EXPECT_DOUBLE_EQ(Loop(circuit).end_of_pulse(), 4e-3);
}

TEST(Switching, elements_add_up_what_the_circuit_lists) {
  Circuit circuit = with_train({});
  CapacitorBank bank;
  bank.part_capacitance = 4.7e-3;
  bank.part_esr = 0.02;
  bank.series = 2;
  bank.parallel = 10;
  circuit.source = bank;
  circuit.leads.cross_section = 16e-6;
  circuit.leads.length = 0.3;
  circuit.leads.spacing = 0.02;
  circuit.joints = {{"crimp", 5e-5}, {"bolt", 3e-5}};
  circuit.extra_resistance = 2e-5;
  circuit.power_switch.on_resistance = 4e-4;
  circuit.extra_inductance = 1e-7;
  const LoopElements loop = elements(circuit);
  EXPECT_DOUBLE_EQ(loop.source_resistance, 0.004);
  // 2 x 0.3 m at 1.21 ohm/km, IEC 60228 class 5.
  EXPECT_NEAR(loop.lead_resistance, 7.26e-4, 1e-15);
  EXPECT_DOUBLE_EQ(loop.joint_resistance, 1e-4);
  EXPECT_DOUBLE_EQ(loop.switch_resistance, 4e-4);
  EXPECT_DOUBLE_EQ(loop.total_resistance(), 0.004 + loop.lead_resistance + 5e-4);
  EXPECT_DOUBLE_EQ(loop.inductance, 1e-7 + two_wire_inductance(0.3, 16e-6, 0.02));

  circuit.leads.resistance = 1e-3;
  circuit.leads.inductance = 2e-7;
  EXPECT_DOUBLE_EQ(elements(circuit).lead_resistance, 1e-3);
  EXPECT_DOUBLE_EQ(elements(circuit).inductance, 3e-7);
  circuit.leads = {};
  EXPECT_EQ(elements(circuit).lead_resistance, 0);
  EXPECT_DOUBLE_EQ(elements(circuit).inductance, 1e-7);

  circuit.leads.material = "brass";
  circuit.leads.length = 1;
  circuit.leads.cross_section = 1e-5;
  EXPECT_THROW(elements(circuit), std::invalid_argument);
  circuit.leads.resistance = 1e-3;
  EXPECT_NO_THROW(elements(circuit));
  circuit.leads.spacing = 1e-3;
  EXPECT_THROW(elements(circuit), std::invalid_argument);
}

TEST(Switching, peak_current_bound_holds_for_any_load) {
  for (const double inductance : {1e-9, 1e-7, 1e-6, 1e-5}) {
    Circuit circuit = with_train({});
    circuit.extra_inductance = inductance;
    const Loop loop(circuit);
    for (const double load : {0.0, 1e-4, 1e-3, 1e-2}) {
      LoopState state = loop.close_switch(loop.initial_state());
      double peak = 0;
      for (int n = 0; n < 400; ++n) {
        state = loop.advance(state, 5e-6, load).state;
        peak = std::max(peak, std::abs(state.current));
      }
      EXPECT_LE(peak, loop.peak_current_bound());
      if (load == 0) {
        EXPECT_GT(peak, 0.3 * loop.peak_current_bound());
      }
    }
  }
}

}  // namespace
}  // namespace tabmelt::circuit
