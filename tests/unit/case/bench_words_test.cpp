// Sources, leads, switches and chargers in the words on the parts, and what the reader makes of
// them.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/circuit/conductors.h"
#include "solver/circuit/loop.h"
#include "tests/unit/case/sample_cases.h"

namespace tabmelt::testing {
namespace {

circuit::CapacitorBank bank_of(const Case& c) {
  return std::get<circuit::CapacitorBank>(c.problem.circuit.source);
}

bool complains(const std::string& text, const std::string& words) {
  for (const Complaint& complaint : complaints_about(text))
    if (contains(complaint.message, words)) return true;
  return false;
}

TEST(BenchWords, bank_by_dissipation_factor_and_temperature) {
  const Case c = read(head + R"([source]
kind = "capacitor bank"
part_capacitance = "4.7 mF"
dissipation_factor = "18 %"
parallel = 20
charge_voltage = "16 V"
esr_by_temperature = [["40 degC", "0.8"], ["0 degC", "2"], ["20 degC", "1"]]
temperature = "10 degC"
)");
  const circuit::CapacitorBank bank = bank_of(c);
  EXPECT_NEAR(bank.part_esr, 0.18 / (2 * std::numbers::pi * 120 * 4.7e-3), 1e-12);
  EXPECT_NEAR(bank.esr_factor, 1.5, 1e-12);
  EXPECT_NEAR(bank.resistance(), 1.5 * bank.part_esr / 20, 1e-15);
  EXPECT_FALSE(bank.supercapacitor);
  EXPECT_FALSE(bank.balancing);
}

TEST(BenchWords, resistance_and_dissipation_factor_must_not_disagree) {
  EXPECT_TRUE(
      complains(head + bank_source + "dissipation_factor = 0.1\n", "means 28.22 mohm, not 20"));
  EXPECT_TRUE(complains(head + R"([source]
kind = "capacitor bank"
part_capacitance = "4.7 mF"
charge_voltage = "16 V"
)",
                        "source.part_esr is missing"));
}

TEST(BenchWords, supercapacitor_stack) {
  const Case c = read(head + R"([source]
kind = "supercapacitor"
part_capacitance = "400 F"
part_esr = "1.2 mohm"
series = 3
charge_voltage = "7.5 V"
balancing = "5 %"
)");
  const circuit::CapacitorBank bank = bank_of(c);
  EXPECT_TRUE(bank.supercapacitor);
  EXPECT_DOUBLE_EQ(*bank.rated_voltage, 2.7);
  EXPECT_DOUBLE_EQ(*bank.balancing, 0.05);
  EXPECT_NEAR(bank.capacitance(), 400.0 / 3, 1e-9);
}

TEST(BenchWords, battery_with_cut_off_and_bench_supply) {
  const Case battery = read(head + R"([source]
kind = "battery"
open_circuit_voltage = "12.6 V"
internal_resistance = "5 mohm"
cut_off_current = "600 A"
)");
  const auto& b = std::get<circuit::Battery>(battery.problem.circuit.source);
  EXPECT_EQ(*b.cut_off_current, 600);
  EXPECT_DOUBLE_EQ(b.cut_off_delay, 2e-4);
  const Case supply = read(head + R"([source]
kind = "bench supply"
voltage = "5 V"
current_limit = "40 A"
[switch]
main = "20 ms"
)");
  const auto& s = std::get<circuit::BenchSupply>(supply.problem.circuit.source);
  EXPECT_EQ(s.voltage, 5);
  EXPECT_EQ(s.current_limit, 40);
  EXPECT_DOUBLE_EQ(s.internal_resistance, 0.01);
  EXPECT_DOUBLE_EQ(s.output_capacitance, 1e-3);
  EXPECT_DOUBLE_EQ(s.output_esr, 0.03);
  const Case bare = read(R"([source]
kind = "bench supply"
voltage = "5 V"
current_limit = "40 A"
[can]
thickness = "0.3 mm"
[pressing]
force = "25 N"
)");
  EXPECT_EQ(std::get<circuit::BenchSupply>(bare.problem.circuit.source).output_capacitance, 0);
  EXPECT_TRUE(complains(head + bank_source + "current_limit = \"10 A\"\n", "has no meaning here"));
}

// ASTM B258: AWG 8 is 3.264 mm thick, 8.37 mm^2.
TEST(BenchWords, leads_by_gauge_strands_and_metal) {
  const Case c = read(head + bank_source + R"([leads]
gauge = 8
strands = "stranded or solid"
material = "aluminium"
length = "0.5 m"
)");
  const circuit::Leads& leads = c.problem.circuit.leads;
  EXPECT_NEAR(leads.cross_section, 8.37e-6, 0.005e-6);
  EXPECT_FALSE(leads.flexible);
  const double R = circuit::elements(c.problem.circuit).lead_resistance;
  EXPECT_NEAR(R,
              2 * 0.5 *
                  circuit::lead_resistance_per_metre("aluminium", leads.cross_section,
                                                     circuit::ConductorClass::solid_or_stranded),
              1e-15);
  EXPECT_TRUE(complains(head + bank_source + "[leads]\ngauge = 8\ncross_section = \"10 mm2\"\n",
                        "this gauge is 8.366 mm2, not 10 mm2"));
}

// Grover's rectangle: 150 x 100 mm of 10 mm^2 wire.
TEST(BenchWords, frames_bring_their_length_and_inductance) {
  const std::string frame = R"([[conductor]]
name = "frame"
frame_width = "150 mm"
frame_height = "100 mm"
cross_section = "10 mm2"
)";
  const Case c = read(head + bank_source + frame);
  ASSERT_EQ(c.problem.circuit.pieces.size(), 1u);
  const circuit::Piece& piece = c.problem.circuit.pieces[0];
  EXPECT_DOUBLE_EQ(piece.length, 0.5);
  EXPECT_NEAR(piece.inductance, circuit::rectangular_loop_inductance(0.15, 0.1, 10e-6), 1e-18);
  EXPECT_NEAR(piece.inductance, 0.3689e-6, 0.0002e-6);              // by hand
  EXPECT_NEAR(piece.heat_capacity, 8960 * 385, 0.01 * 8960 * 385);  // copper
  EXPECT_NEAR(piece.temperature_coefficient, 3.9e-3, 0.2e-3);
  const Case own =
      read(head + bank_source + frame + "length = \"480 mm\"\ninductance = \"0.3 uH\"\n");
  EXPECT_DOUBLE_EQ(own.problem.circuit.pieces[0].length, 0.48);
  EXPECT_DOUBLE_EQ(own.problem.circuit.pieces[0].inductance, 3e-7);
  const std::string one_side = R"([[conductor]]
name = "frame"
frame_width = "150 mm"
length = "500 mm"
cross_section = "10 mm2"
)";
  EXPECT_TRUE(complains(head + bank_source + one_side, "needs both frame_width and frame_height"));
  const std::string narrow = R"([[conductor]]
name = "frame"
frame_width = "150 mm"
frame_height = "3 mm"
cross_section = "10 mm2"
)";
  EXPECT_TRUE(complains(head + bank_source + narrow, "no wider than its wire is thick (3.568 mm)"));
}

TEST(BenchWords, switches_that_cannot_block_the_source) {
  EXPECT_TRUE(
      complains(head + bank_source + "[switch]\nmain = \"5 ms\"\nrated_voltage = \"12 V\"\n",
                "breaks the transistors down"));
  EXPECT_TRUE(complains(head + bank_source +
                            "[switch]\nmain = \"5 ms\"\nprotection = \"clamp\"\n"
                            "clamp_voltage = \"15 V\"\n",
                        "would conduct all the time"));
  read(head + bank_source +
       "[switch]\nmain = \"5 ms\"\nrated_voltage = \"30 V\"\nprotection = \"clamp\"\n"
       "clamp_voltage = \"20 V\"\n");
}

TEST(BenchWords, nothing_ends_the_current_of_a_battery_or_supply) {
  const std::string battery = R"([source]
kind = "battery"
open_circuit_voltage = "12.6 V"
internal_resistance = "5 mohm"
)";
  EXPECT_TRUE(complains(head + battery, "nothing ever ends the current of this battery; give"));
  EXPECT_TRUE(
      complains(head + battery + "[switch]\nkind = \"thyristor\"\n", "a thyristor goes out"));
  read(head + battery + "[switch]\nmain = \"5 ms\"\n");
  read(head + battery + "cut_off_current = \"600 A\"\n");
  EXPECT_TRUE(complains(head + "[source]\nkind = \"bench supply\"\nvoltage = \"5 V\"\n"
                               "current_limit = \"40 A\"\n",
                        "current of this supply"));
}

TEST(BenchWords, conductors_and_electrode_rods_add_their_resistance) {
  const Case without = read(head + bank_source);
  const Case with = read(head + bank_source + R"([electrode]
material = "copper"
body_diameter = "3 mm"
rod_length = "40 mm"
[[conductor]]
name = "bar"
material = "brass"
length = "150 mm"
cross_section = "60 mm2"
count = 2
inductance = "0.05 uH"
)");
  const circuit::Circuit& c = with.problem.circuit;
  ASSERT_EQ(c.pieces.size(), 2u);
  EXPECT_EQ(c.pieces[0].name, "bar");
  EXPECT_EQ(c.pieces[1].count, 2);  // both rods
  EXPECT_NEAR(c.pieces[1].cross_section, std::numbers::pi * 1.5e-3 * 1.5e-3, 1e-12);
  const circuit::LoopElements a = circuit::elements(without.problem.circuit);
  const circuit::LoopElements b = circuit::elements(c);
  EXPECT_NEAR(b.lead_resistance - a.lead_resistance,
              c.pieces[0].resistance() + c.pieces[1].resistance(), 1e-15);
  EXPECT_NEAR(b.inductance - a.inductance, 5e-8, 1e-15);
  // Copper 1.7e-8 ohm m: two rods of 40 mm and 7.07 mm^2 make 0.19 mohm.
  EXPECT_NEAR(c.pieces[1].resistance(), 0.19e-3, 0.01e-3);
  EXPECT_TRUE(complains(head + bank_source +
                            "[[conductor]]\nname = \"x\"\nmaterial = \"air\"\nlength = \"1 mm\"\n"
                            "cross_section = \"1 mm2\"\n",
                        "x: must be above zero"));
}

TEST(BenchWords, switch_from_its_transistors) {
  const Case c = read(head + bank_source + R"([switch]
parallel = 6
part_resistance = "1.5 mohm"
resistance_factor = 1.4
rated_voltage = "40 V"
avalanche_energy = "600 mJ"
protection = "clamp"
clamp_voltage = "30 V"
first = "2 ms"
pause = "15 ms"
main = "6 ms"
)");
  const circuit::Switch& s = c.problem.circuit.power_switch;
  EXPECT_NEAR(s.on_resistance, 1.5e-3 * 1.4 / 6, 1e-12);
  EXPECT_EQ(s.parallel, 6);
  EXPECT_EQ(s.protection, circuit::Protection::clamp);
  ASSERT_EQ(s.train.size(), 2u);
  EXPECT_DOUBLE_EQ(s.train[0].on, 2e-3);
  EXPECT_DOUBLE_EQ(s.train[0].off, 15e-3);
  EXPECT_DOUBLE_EQ(s.train[1].on, 6e-3);
  EXPECT_TRUE(complains(head + bank_source + "[switch]\nfirst = \"2 ms\"\n", "needs a main pulse"));
  EXPECT_TRUE(complains(head + bank_source + "[switch]\nprotection = \"clamp\"\n",
                        "switch.clamp_voltage is missing"));
}

TEST(BenchWords, contactor_bounces_and_thyristor) {
  const Case c = read(head + bank_source + R"([switch]
kind = "contactor"
bounces = 2
bounce_time = "1 ms"
pulses = [["20 ms", "0 ms"]]
)");
  const auto& train = c.problem.circuit.power_switch.train;
  ASSERT_EQ(train.size(), 3u);
  EXPECT_DOUBLE_EQ(train[1].on, 0.5e-3);
  EXPECT_DOUBLE_EQ(train[1].off, 0.5e-3);
  EXPECT_DOUBLE_EQ(train[2].on, 20e-3);
  EXPECT_TRUE(complains(head + bank_source + "[switch]\nkind = \"contactor\"\nbounces = 2\n",
                        "needs switch.pulses"));
  const Case t = read(head + bank_source + "[switch]\nkind = \"thyristor\"\n");
  EXPECT_DOUBLE_EQ(t.problem.circuit.power_switch.forward_drop, 1.2);
  EXPECT_TRUE(complains(
      head + bank_source + "[switch]\nkind = \"thyristor\"\npulses = [[\"1 ms\", \"0 ms\"]]\n",
      "has no meaning here"));
}

TEST(BenchWords, charger_and_rate_of_work) {
  const Case none = read(head + bank_source);
  EXPECT_FALSE(none.problem.circuit.charger);
  EXPECT_DOUBLE_EQ(*none.problem.circuit.weld_rate, 0.1);
  const Case c = read(head + bank_source + R"([charger]
current = "0.8 A"
resistance = "2 ohm"
[work]
welds_per_minute = 12
)");
  ASSERT_TRUE(c.problem.circuit.charger);
  EXPECT_DOUBLE_EQ(c.problem.circuit.charger->current_limit, 0.8);
  EXPECT_DOUBLE_EQ(c.problem.circuit.charger->set_voltage, 16);
  EXPECT_DOUBLE_EQ(*c.problem.circuit.weld_rate, 0.2);
  EXPECT_TRUE(complains(head + bank_source + "[charger]\nvoltage = \"16 V\"\n",
                        "charger.voltage has no meaning here"));
  EXPECT_TRUE(complains(head + bank_source + "[charger]\ncurrent = \"1 A\"\nvoltage = \"12 V\"\n",
                        "never charges the bank"));
}

TEST(BenchWords, wet_dry_flat_and_several_spots) {
  const auto with_cell = [](const std::string& cell) {
    return read("[cell]\n" + cell + head.substr(head.find("[strip]")) + bank_source).problem;
  };
  const Problem usual = with_cell("end = \"negative bottom\"\n");
  EXPECT_EQ(usual.inner[0].name, "electrolyte film");
  EXPECT_EQ(with_cell("end = \"negative bottom\"\ninside = \"dry\"\n").inner[0].name, "gas gap");
  EXPECT_EQ(with_cell("end = \"flat positive\"\n").inner[0].name, "gas gap");
  EXPECT_DOUBLE_EQ(with_cell("end = \"flat positive\"\n").base().thickness, 0.3e-3);
  EXPECT_EQ(usual.sequence.welds, 1);
  const Problem four = with_cell("size = \"21700\"\nspots = 4\n");
  EXPECT_EQ(four.sequence.welds, 4);
  EXPECT_DOUBLE_EQ(four.sequence.pause, 2);
  EXPECT_DOUBLE_EQ(four.sequence.cell_radius, 10.5e-3);
  EXPECT_DOUBLE_EQ(four.sequence.cell_length, 70e-3);
}

}  // namespace
}  // namespace tabmelt::testing
