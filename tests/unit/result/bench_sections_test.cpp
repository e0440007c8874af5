// The sections about source, leads, switch, charging and several welds: figures against the
// formulas by hand, for a run that is written down here.
#include "io/report/bench_sections.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "io/report/bench_warnings.h"
#include "io/report/markdown.h"
#include "io/report/source_section.h"
#include "solver/bench/bench_figures.h"
#include "solver/catalogue/quantity_list.h"
#include "solver/circuit/loop.h"
#include "tests/support/regions.h"

namespace tabmelt {

using namespace report;
namespace {

// Invented: 10 x 10 mF at 12 V, opened at 3 ms with 800 A, left at 6 V.
struct Bench {
  Problem problem;
  Result run;
};

Bench bench() {
  Bench b;
  circuit::CapacitorBank bank;
  bank.part_capacitance = 0.01;
  bank.part_esr = 0.02;
  bank.parallel = 10;
  bank.charge_voltage = 12;
  bank.rated_current = 90;
  bank.esr_spread = 0.2;
  bank.rated_ripple = 5;
  circuit::Circuit& c = b.problem.circuit;
  c.source.emplace<circuit::CapacitorBank>(bank);
  c.leads.cross_section = 10e-6;
  c.leads.length = 0.5;
  c.power_switch.train = {{3e-3, 0}};
  c.power_switch.parallel = 4;
  c.power_switch.rated_voltage = 40;
  c.weld_rate = 0.1;
  c.handling_time = 1;
  c.charger = circuit::Charger{2, 12, 0};
  const auto add_step = [&](double time, double step, double current, double voltage) {
    StepRecord record = step_with_one_joint();
    record.time = time;
    record.step = step;
    record.current = current;
    record.source_voltage = voltage;
    b.run.history.push_back(record);
  };
  add_step(1e-3, 1e-3, 900, 10);
  add_step(3e-3, 2e-3, 800, 6);
  b.run.peak_current = {900, 1e-3, 0, 0};
  b.run.ledger.leads = 2000 * circuit::elements(c).lead_resistance;
  b.run.ledger.power_switch = 2;
  return b;
}

const Section* find(const std::vector<Section>& all, const std::string& key) {
  const auto found = std::find_if(all.begin(), all.end(), [&](auto& s) { return s.key == key; });
  return found == all.end() ? nullptr : &*found;
}

TEST(BenchFigures, follow_the_formulas) {
  const Bench b = bench();
  const BenchFigures f = bench_figures(b.problem, b.run);
  EXPECT_NEAR(f.square_current_time, 2000, 1e-9);
  EXPECT_NEAR(f.source.droop, 0.5, 1e-12);
  // 1/0.8 beside nine of 1/1.2.
  EXPECT_NEAR(f.source.worst_part_current, 900 * 1.25 / (1.25 + 9 / 1.2), 1e-9);
  EXPECT_TRUE(f.source.worst_current_exceeded);
  ASSERT_TRUE(f.turn_off);
  const double L = circuit::elements(b.problem.circuit).inductance;
  EXPECT_EQ(*f.opening_current, 800);
  EXPECT_EQ(f.opening_time, 3e-3);
  EXPECT_NEAR(f.turn_off->held_energy, 0.5 * L * 800 * 800, 1e-15);
  EXPECT_NEAR(f.turn_off->avalanche_energy, 0.5 * L * 800 * 800 * 40 / 34, 1e-12);
  EXPECT_NEAR(f.switch_part_energy, 0.5, 1e-12);  // 2 J in four parts, each 10 s
  EXPECT_NEAR(*f.switch_part_power, 0.05, 1e-12);
  // 0.1 F from 6 V to 99 % of 12 V; the bank's own 2 mohm stand in series.
  ASSERT_TRUE(f.charge);
  EXPECT_NEAR(f.charge->time, 0.1 * (0.99 * 12 - 6) / 2, 1e-9);
  EXPECT_NEAR(*f.welds_per_minute, 60 / (f.charge->time + 1), 1e-9);
  const double squares = 2000 + 4 * f.charge->time;
  EXPECT_NEAR(f.part_load->ripple_current, std::sqrt(0.1 * squares) / 10, 1e-9);
  // Heat in the copper: rho I^2 t/S^2 over 3.45e6 J/K/m^3; K of IEC 60949 is rounded (0.44 %), and
  // the resistance rises meanwhile (here by less than 0.1 %).
  const double small_rise = 17.241e-9 * 2000 / 1e-10 / 3.45e6;
  EXPECT_NEAR(*f.lead_pulse_rise, small_rise, 6e-3 * small_rise);
  EXPECT_FALSE(f.rise_before_last);
}

TEST(BenchSections, say_what_exceeds_and_leave_out_what_does_not_apply) {
  Bench b = bench();
  std::vector<Section> sections = bench_sections(b.problem, b.run);
  for (const char* key : {"leads", "switch", "charging"})
    EXPECT_NE(find(sections, key), nullptr) << key;
  EXPECT_EQ(find(sections, "sequence"), nullptr);
  const auto bad = [](const Section& section) {
    int count = 0;
    for (const Block& block : section.blocks)
      if (const auto* table = std::get_if<Table>(&block))
        for (const auto& row : table->rows())
          for (const Prose& cell : row)
            for (const Phrase& phrase : cell.phrases()) count += phrase.tone == Tone::bad ? 1 : 0;
    return count;
  };
  const Section source = source_section(b.problem, b.run, bench_figures(b.problem, b.run));
  EXPECT_EQ(bad(source), 1);                     // 129 A of 90 A
  EXPECT_EQ(bad(*find(sections, "switch")), 1);  // breaks down
  b.problem.circuit.power_switch.protection = circuit::Protection::freewheel;
  b.problem.circuit.power_switch.diode_drop = 0.9;
  EXPECT_EQ(bad(*find(bench_sections(b.problem, b.run), "switch")), 0);
  b.problem.circuit.charger.reset();
  EXPECT_EQ(find(bench_sections(b.problem, b.run), "charging"), nullptr);
  b.problem.circuit.power_switch.train.clear();
  b.run.ledger.power_switch = 0;
  EXPECT_EQ(find(bench_sections(b.problem, b.run), "switch"), nullptr);
  b.problem.circuit.source.emplace<circuit::ExponentialCurrent>(
      circuit::ExponentialCurrent{900, 1e-3});
  b.problem.circuit.leads.cross_section = 0;
  EXPECT_TRUE(bench_sections(b.problem, b.run).empty());
  EXPECT_TRUE(bench_sections(b.problem, {}).empty());
}

TEST(BenchFigures, bars_and_joints_take_their_share) {
  Bench b = bench();
  circuit::Circuit& c = b.problem.circuit;
  c.pieces = {{"bar", 0.2, 50e-6, 17e-9, 2, 0, 3.45e6, 0}};
  c.joints = {{"joint 1", 4e-5}, {"joint 2", 4e-5}, {"clamp", 1e-4}};
  b.run.ledger.leads = 2000 * circuit::elements(c).lead_resistance;
  const BenchFigures f = bench_figures(b.problem, b.run);
  EXPECT_NEAR(f.square_current_time, 2000, 1e-9);
  ASSERT_EQ(f.pieces.size(), 1u);
  EXPECT_NEAR(f.pieces[0].load.pulse_energy, 2000 * 2 * 0.2 * 17e-9 / 50e-6, 1e-12);
  EXPECT_NEAR(*f.pieces[0].load.pulse_rise, 17e-9 * 2000 / (3.45e6 * 2500e-12), 1e-9);
  ASSERT_EQ(f.joints.size(), 3u);
  EXPECT_NEAR(f.joints[2].pulse_energy, 0.2, 1e-12);
  EXPECT_NEAR(*f.joints[2].mean_power, 0.02, 1e-12);
  const std::string text = markdown_text({"", true, "", "", {}, bench_sections(b.problem, b.run)});
  EXPECT_NE(text.find("Heat in each of 2 joints"), std::string::npos);
  EXPECT_NE(text.find("Heat in clamp"), std::string::npos);
  EXPECT_NE(text.find("Warms up in one pulse: bar"), std::string::npos);
}

// A reversal inside a step is deeper than the ends of the steps show.
TEST(BenchFigures, reverse_voltage_is_that_of_the_run) {
  Bench b = bench();
  b.run.most_reverse_voltage = 2.5;
  EXPECT_DOUBLE_EQ(bench_figures(b.problem, b.run).source.reverse_voltage, 2.5);
}

TEST(BenchScalars, say_what_the_figures_say) {
  const Bench b = bench();
  const BenchFigures f = bench_figures(b.problem, b.run);
  std::map<std::string, double> numbers;
  for (const Quantity& number : bench_quantities(b.problem, f)) {
    EXPECT_TRUE(numbers.emplace(number.key.substr(6), number.value).second) << number.key;
    EXPECT_FALSE(number.words.empty() || number.unit.empty()) << number.key;
  }
  EXPECT_EQ(numbers.at("charge_time"), f.charge->time);
  EXPECT_EQ(numbers.at("charge_mean_resistor_power"), f.charge->mean_power());
  EXPECT_EQ(numbers.at("welds_per_minute"), *f.welds_per_minute);
  EXPECT_EQ(numbers.at("capacitor_power"), f.part_load->power);
  EXPECT_EQ(numbers.at("switch_avalanche_energy"), f.turn_off->avalanche_energy);
  EXPECT_EQ(numbers.at("source_worst_part_current"), f.source.worst_part_current);
  EXPECT_EQ(numbers.at("lead_pulse_rise"), *f.lead_pulse_rise);
  EXPECT_FALSE(numbers.contains("sequence_weld_heat"));
  EXPECT_FALSE(numbers.contains("source_surge"));
}

bool warns(const Problem& problem, const Result& run, const std::string& words) {
  const auto list = bench_warnings(problem, bench_figures(problem, run));
  return std::any_of(list.begin(), list.end(),
                     [&](const std::string& w) { return w.find(words) != std::string::npos; });
}

TEST(BenchWarnings, name_each_danger_and_its_reason) {
  Bench b = bench();
  auto& bank = std::get<circuit::CapacitorBank>(b.problem.circuit.source);
  bank.rated_current.reset();
  bank.rated_ripple.reset();
  EXPECT_TRUE(bench_warnings(b.problem, bench_figures(b.problem, b.run)).empty());
  bank.rated_voltage = 10;
  EXPECT_TRUE(warns(b.problem, b.run, "Each capacitor is charged to 12 V, rated 10 V"));
  bank.rated_voltage = 6.5;
  bank.series = 2;
  EXPECT_TRUE(warns(b.problem, b.run, "spread of the capacitance (source.tolerance)"));
  bank.balancing = 0.1;
  bank.supercapacitor = true;
  EXPECT_TRUE(warns(b.problem, b.run, "As unevenly as the balancing allows"));
  bank.balancing = 0.05;
  EXPECT_FALSE(warns(b.problem, b.run, "balancing"));
  b.problem.circuit.charger->set_voltage = 14;
  EXPECT_TRUE(warns(b.problem, b.run, "The charger is set to 14 V"));
  bank.rated_ripple = 1;
  EXPECT_TRUE(warns(b.problem, b.run, "it overheats"));
  bank.rated_current = 80;
  EXPECT_TRUE(warns(b.problem, b.run, "peak current of one part is 90 A"));
  b.run.most_reverse_voltage = 1.5;
  EXPECT_TRUE(warns(b.problem, b.run, "under-damped"));
  b.problem.circuit.power_switch.avalanche_energy = 1e-3;
  EXPECT_TRUE(warns(b.problem, b.run, "into breakdown"));
  b.problem.circuit.power_switch.protection = circuit::Protection::clamp;
  b.problem.circuit.power_switch.clamp_voltage = 60;
  EXPECT_TRUE(warns(b.problem, b.run, "clamp does not protect"));
  b.problem.circuit.leads.cross_section = 1e-6;
  b.run.ledger.leads = 2e4 * circuit::elements(b.problem.circuit).lead_resistance;
  EXPECT_TRUE(warns(b.problem, b.run, "The leads reach"));
  circuit::Battery battery{12, 0.006, 500.0};
  b.problem.circuit.source.emplace<circuit::Battery>(battery);
  EXPECT_TRUE(warns(b.problem, b.run, "The battery gives 900 A, rated 500 A"));
  EXPECT_TRUE(warns(b.problem, b.run, "Nothing but the switch ends the current"));
  battery.cut_off_current = 700;
  b.problem.circuit.source.emplace<circuit::Battery>(battery);
  EXPECT_FALSE(warns(b.problem, b.run, "Nothing but the switch"));
}

TEST(BenchFigures, several_welds_ask_for_a_pause) {
  Bench b = bench();
  auto winding = std::make_shared<Material>();
  winding->density = 2600;
  winding->specific_heat = Curve::constant(950);
  winding->thermal_conductivity = Curve::constant(13.6);
  b.problem.base().material = winding;  // any metal: spreads slowly
  b.problem.arrangement.spacing = 4e-3;
  b.problem.inner = {{"winding", winding, 8e-3, 363.15, {}, {}, "judgement"}};
  b.problem.sequence = {4, 2, 9e-3, 65e-3};
  b.run.history.back().energy_stored = 4;
  LayerRecord record;
  record.peak.value = 353.15;
  record.limit = 363.15;
  b.run.inner_wall_and_layers = {record};
  const BenchFigures f = bench_figures(b.problem, b.run);
  EXPECT_DOUBLE_EQ(f.weld_heat, 8);  // two spots
  const double one =
      8 / (std::numbers::pi * 81e-6 * std::sqrt(std::numbers::pi * 13.6 * 2600 * 950 * 2.0));
  EXPECT_NEAR(*f.rise_before_last, one * (1 + 1 / std::sqrt(2) + 1 / std::sqrt(3)), 1e-6);
  EXPECT_NEAR(*f.allowed_rise, 10, 1e-12);
  ASSERT_TRUE(f.shortest_pause);
  EXPECT_NEAR(*f.shortest_pause, 16e-6 / (4 * 13.6 / (2600 * 950)), 1e-9);  // spreading counts
  EXPECT_NE(find(bench_sections(b.problem, b.run), "sequence"), nullptr);
}

}  // namespace
}  // namespace tabmelt
