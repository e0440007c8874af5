// The loop against ngspice, a general-purpose circuit simulator: peak current, the moment of it,
// the current and voltage at the end and the energy in the load agree to 0.1 %. Skipped where
// ngspice is not installed. The circuits are invented.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "solver/circuit/conductors.h"
#include "solver/circuit/loop.h"

namespace tabmelt::circuit {
namespace {

constexpr double agreement = 1e-3;

struct Sample {
  double time, current, voltage, load_energy;
};

// Runs a netlist that writes time, i(vsense), v(store) and the load's energy into `out`.
std::vector<Sample> simulated(const std::string& name, const std::string& elements, double end,
                              double step, const std::string& method = "trap") {
  const std::filesystem::path folder = std::filesystem::temp_directory_path() /
                                       ("tabmelt_ngspice_" + name + "_" + std::to_string(getpid()));
  std::filesystem::create_directories(folder);
  const std::string out = (folder / "out.txt").string();
  std::filesystem::remove(out);
  std::ofstream netlist(folder / "loop.cir");
  netlist << "loop\n"
          << elements << ".options reltol=1e-6 abstol=1e-9 vntol=1e-9 method=" << method << "\n"
          << ".control\nset wr_singlescale\ntran " << step << ' ' << end << " 0 " << step
          << " uic\nwrdata " << out << " i(vsense) v(store) v(energy)\nquit\n.endc\n.end\n";
  netlist.close();
  const std::string command = "ngspice -b " + (folder / "loop.cir").string() + " > " +
                              (folder / "log.txt").string() + " 2>&1";
  [[maybe_unused]] const int status = std::system(command.c_str());
  std::vector<Sample> samples;
  std::ifstream read(out);
  for (std::string line; std::getline(read, line);) {
    std::istringstream words(line);
    Sample s{};
    if (words >> s.time >> s.current >> s.voltage >> s.load_energy) samples.push_back(s);
  }
  std::filesystem::remove_all(folder);
  return samples;
}

bool no_simulator() { return std::system("ngspice --version > /dev/null 2>&1") != 0; }

// The same with the loop, in many steps.
std::vector<Sample> computed(const Circuit& circuit, double load, double end, int steps) {
  const Loop loop(circuit);
  LoopState state = loop.close_switch(loop.initial_state());
  std::vector<Sample> samples;
  double energy = 0;
  for (int n = 1; n <= steps; ++n) {
    const StepOutcome step = loop.advance(state, end / steps, load);
    state = step.state;
    energy += step.energy.in_load_resistance;
    samples.push_back({n * end / steps, state.current, state.source_voltage, energy});
  }
  return samples;
}

Sample peak(const std::vector<Sample>& all) {
  return *std::max_element(all.begin(), all.end(),
                           [](const Sample& a, const Sample& b) { return a.current < b.current; });
}

void expect_same(const std::vector<Sample>& ours, const std::vector<Sample>& theirs,
                 double voltage_scale) {
  ASSERT_GT(theirs.size(), 100u) << "ngspice wrote nothing";
  const Sample a = peak(ours), b = peak(theirs);
  EXPECT_NEAR(a.current, b.current, agreement * b.current);
  EXPECT_NEAR(ours.back().time, theirs.back().time, 1e-9);
  EXPECT_NEAR(ours.back().current, theirs.back().current, agreement * b.current);
  EXPECT_NEAR(ours.back().voltage, theirs.back().voltage, agreement * voltage_scale);
  EXPECT_NEAR(ours.back().load_energy, theirs.back().load_energy,
              agreement * theirs.back().load_energy);
}

// The energy of the load as the charge of a 1 F capacitor fed with its power.
std::string energy_meter(const std::string& load_voltage) {
  return "Benergy 0 energy i=" + load_voltage + "*i(vsense)\nCenergy energy 0 1 ic=0\n" +
         "Rleak energy 0 1e15\n";
}

Circuit bank(double capacitance, double voltage, double resistance, double inductance) {
  CapacitorBank source;
  source.part_capacitance = capacitance;
  source.charge_voltage = voltage;
  Circuit circuit;
  circuit.source.emplace<CapacitorBank>(source);
  circuit.extra_resistance = resistance;
  circuit.extra_inductance = inductance;
  return circuit;
}

TEST(Ngspice, overdamped_and_ringing_bank) {
  if (no_simulator()) GTEST_SKIP() << "ngspice is not installed";
  for (const double resistance : {0.012, 0.002}) {
    const double C = 0.04, V = 14, L = 1.2e-6, load = 0.0015, end = 2e-3;
    std::ostringstream net;
    net << "Cstore store 0 " << C << " ic=" << V << "\nVsense store a 0\nR1 a b " << resistance
        << "\nL1 b c " << L << " ic=0\nRload c 0 " << load << '\n'
        << energy_meter("v(c)");
    expect_same(computed(bank(C, V, resistance, L), load, end, 4000),
                simulated("bank", net.str(), end, 2e-7), V);
  }
}

TEST(Ngspice, forward_drop_in_the_loop) {
  if (no_simulator()) GTEST_SKIP() << "ngspice is not installed";
  const double C = 0.04, V = 14, L = 1.2e-6, R = 0.006, load = 0.002, drop = 1.2, end = 0.8e-3;
  Circuit circuit = bank(C, V, R, L);
  circuit.power_switch.kind = SwitchKind::thyristor;
  circuit.power_switch.forward_drop = drop;
  // A constant voltage against the current, which does not reverse within this time.
  std::ostringstream net;
  net << "Cstore store 0 " << C << " ic=" << V << "\nVsense store a 0\nVdrop a a2 " << drop
      << "\nR1 a2 b " << R << "\nL1 b c " << L << " ic=0\nRload c 0 " << load << '\n'
      << energy_meter("v(c)");
  const std::vector<Sample> ours = computed(circuit, load, end, 4000);
  ASSERT_GT(ours.back().current, 0);
  expect_same(ours, simulated("drop", net.str(), end, 1e-7), V);
}

// The limited supply as a current source with its terminals held to the set voltage by an ideal
// clamp: a very steep conductance above it. The trapezoidal rule would ring after the kink.
TEST(Ngspice, supply_in_its_limit_and_below) {
  if (no_simulator()) GTEST_SKIP() << "ngspice is not installed";
  const double V = 6, limit = 150, internal = 0.004, L = 8e-6, load = 0.01, end = 3e-3;
  Circuit circuit;
  circuit.source.emplace<BenchSupply>(BenchSupply{V, limit, internal});
  circuit.extra_resistance = 0.006;
  circuit.extra_inductance = L;
  std::ostringstream net;
  net << "Isupply 0 store " << limit << "\nBclamp store 0 i=v(store)>" << V << " ? 1e5*(v(store)-"
      << V << ") : 0\nVsense store a 0\nR1 a b " << internal + 0.006 << "\nL1 b c " << L
      << " ic=0\nRload c 0 " << load << '\n'
      << energy_meter("v(c)");
  expect_same(computed(circuit, load, end, 6000), simulated("supply", net.str(), end, 2e-7, "gear"),
              V);
}

// Inductance [H] of a straight round wire by itself, and the mutual one of two equal parallel wires
// a distance apart: F. W. Grover, Inductance Calculations (1946), partial inductances.
double straight_wire(double length, double radius) {
  return 2e-7 * length * (std::log(2 * length / radius) - 1 + 0.25);
}
double parallel_wires(double length, double distance) {
  return 2e-7 * (length * std::asinh(length / distance) - std::hypot(length, distance) + distance);
}

// A frame of solid wire as its four sides, opposite ones coupled against each other, in the
// simulator, its corners tied to ground through a large resistance for its solver's sake; as one
// piece with the inductance of a rectangle in the loop.
TEST(Ngspice, frame_of_solid_wire) {
  if (no_simulator()) GTEST_SKIP() << "ngspice is not installed";
  const double C = 0.05, V = 10, load = 0.002, end = 1e-3, wide = 0.16, high = 0.1;
  const double area = 16e-6, a = std::sqrt(area / 3.14159265358979), rho = 1.72e-8;
  Circuit circuit = bank(C, V, 0.002, 0);
  circuit.pieces = {
      {"frame", 2 * (wide + high), area, rho, 1, rectangular_loop_inductance(wide, high, area)}};
  const double R = 0.002 + rho * 2 * (wide + high) / area;
  const double Lw = straight_wire(wide, a), Lh = straight_wire(high, a);
  std::ostringstream net;
  net << "Cstore store 0 " << C << " ic=" << V << "\nVsense store a 0\nR1 a b " << R << "\nL1 b c "
      << Lw << " ic=0\nL2 c d " << Lh << " ic=0\nL3 e d " << Lw << " ic=0\nL4 f e " << Lh
      << " ic=0\nK13 L1 L3 " << parallel_wires(wide, high) / Lw << "\nK24 L2 L4 "
      << parallel_wires(high, wide) / Lh << "\nRc c 0 1e3\nRd d 0 1e3\nRe e 0 1e3\nRload f 0 "
      << load << '\n'
      << energy_meter("v(f)");
  expect_same(computed(circuit, load, end, 4000), simulated("frame", net.str(), end, 2e-7), V);
}

// A capacitor across the output, with its own resistance: first surge, ringing about the limit,
// then the steady state, in the limit or (load of 60 mohm) holding the voltage.
TEST(Ngspice, supply_with_an_output_capacitor) {
  if (no_simulator()) GTEST_SKIP() << "ngspice is not installed";
  for (const double load : {0.004, 0.06}) {
    const double V = 12, limit = 40, internal = 0.003, L = 1.5e-6, C = 2.2e-3, Rc = 0.006;
    const double end = 1.2e-3, rest = 0.002;
    Circuit circuit;
    circuit.source.emplace<BenchSupply>(BenchSupply{V, limit, internal, C, Rc});
    circuit.extra_resistance = rest;
    circuit.extra_inductance = L;
    std::ostringstream net;
    net << "Isupply 0 store " << limit << "\nBclamp store 0 i=v(store)>" << V << " ? 1e5*(v(store)-"
        << V << ") : 0\nCout store m " << C << " ic=" << V << "\nResr m 0 " << Rc
        << "\nVsense store a 0\nR1 a b " << internal + rest << "\nL1 b c " << L
        << " ic=0\nRload c 0 " << load << '\n'
        << energy_meter("v(c)");
    const std::vector<Sample> ours = computed(circuit, load, end, 4000);
    if (load < 0.01) {
      EXPECT_GT(peak(ours).current, 5 * limit);
    }
    expect_same(ours, simulated("output_capacitor", net.str(), end, 1e-7, "gear"), V);
  }
}

}  // namespace
}  // namespace tabmelt::circuit
