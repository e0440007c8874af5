// A trace that ngspice computed, with noise added, fitted by the loop: the values of the netlist
// come back within the stated errors. Skipped where ngspice is not installed. The circuit is
// invented.
#include "solver/inference/trace_fit.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

#include "solver/study/pulse_trace.h"

namespace tabmelt {
namespace {

using inference::Channel;
using inference::Signal;

constexpr double C = 0.35, V = 8.2, esr = 0.9e-3, cable = 2.3e-3, L = 1.1e-6, load = 1.6e-3;
constexpr double end = 2.5e-3, begin = 0.4e-3;

// Current and the voltage at the bank's terminals, evenly over `end`; nothing for `begin` before.
std::pair<Signal, Signal> simulated() {
  namespace fs = std::filesystem;
  const fs::path folder =
      fs::temp_directory_path() / ("tabmelt_ngspice_fit_" + std::to_string(getpid()));
  fs::create_directories(folder);
  std::ofstream net(folder / "loop.cir");
  net << "loop\nCstore store 0 " << C << " ic=" << V << "\nResr store out " << esr
      << "\nVsense out a 0\nRcable a b " << cable << "\nLcable b c " << L << " ic=0\nRload c 0 "
      << load << "\n.options reltol=1e-6 abstol=1e-9 vntol=1e-9\n.control\nset wr_singlescale\n"
      << "tran 5e-6 " << end << " 0 1e-6 uic\nlinearize\nwrdata " << (folder / "out.txt").string()
      << " i(vsense) v(out)\nquit\n.endc\n.end\n";
  net.close();
  [[maybe_unused]] const int status =
      std::system(("ngspice -b " + (folder / "loop.cir").string() + " > /dev/null 2>&1").c_str());
  std::pair<Signal, Signal> both;
  for (int n = 0; n < 80; ++n)
    for (Signal* s : {&both.first, &both.second}) {
      s->time.push_back(n * 5e-6);
      s->value.push_back(s == &both.first ? 0 : V);
    }
  std::ifstream read(folder / "out.txt");
  for (std::string line; std::getline(read, line);) {
    std::istringstream words(line);
    double t = 0, i = 0, v = 0;
    if (!(words >> t >> i >> v)) continue;
    // The first point is the moment of closing itself.
    for (Signal* s : {&both.first, &both.second}) s->time.push_back(begin + t);
    both.first.value.push_back(i);
    both.second.value.push_back(v);
  }
  fs::remove_all(folder);
  return both;
}

TEST(Ngspice, a_fit_returns_the_netlist) {
  if (std::system("ngspice --version > /dev/null 2>&1") != 0)
    GTEST_SKIP() << "ngspice is not installed";
  auto [current, voltage] = simulated();
  ASSERT_GT(current.time.size(), 400u) << "ngspice wrote nothing";
  std::mt19937_64 engine(5);
  std::normal_distribution<double> bell(0, 1);
  for (double& i : current.value) i += 5 * bell(engine);
  for (double& v : voltage.value) v += 0.01 * bell(engine);
  const inference::Curves model = [](const std::vector<std::vector<double>>& points) {
    std::vector<std::vector<std::shared_ptr<const inference::Curve>>> all;
    for (const auto& x : points) {
      circuit::CapacitorBank bank;
      bank.part_capacitance = x[0];
      bank.charge_voltage = V;
      bank.part_esr = x[1];
      circuit::Circuit circuit;
      circuit.source.emplace<circuit::CapacitorBank>(bank);
      circuit.extra_resistance = x[2];
      circuit.extra_inductance = x[3];
      all.push_back({std::make_shared<PulseTrace>(circuit, bridged(circuit, load, 1.1 * end))});
    }
    return all;
  };
  const inference::TraceFit fit =
      fit_traces(model,
                 {{"capacitance", 0.6, 0.01, 10, 0.6},
                  {"esr", 2e-3, 0, 0.1, 2e-3},
                  {"cable", 1e-3, 0, 0.1, 1e-3},
                  {"inductance", 2e-6, 0, 1e-4, 2e-6}},
                 {{"spice",
                   {inference::recorded(Channel::current, current),
                    inference::recorded(Channel::source_voltage, voltage)}}});
  ASSERT_TRUE(fit.converged) << fit.message;
  EXPECT_TRUE(fit.matches);
  const double truth[] = {C, esr, cable, L};
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_NEAR(fit.values[i], truth[i], 3 * fit.errors[i]) << i;
    EXPECT_LT(fit.errors[i], 0.02 * truth[i]) << i;
  }
  EXPECT_NEAR(fit.records[0].shift, begin, 3 * fit.records[0].shift_error + 1e-8);
}

}  // namespace
}  // namespace tabmelt
