#include "sample_run.h"

#include <stdlib.h>
#include <sys/wait.h>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "io/store/result_writer.h"
#include "tests/support/regions.h"

namespace tabmelt::sample {
namespace {

namespace fs = std::filesystem;

MaterialPtr metal(const std::string& name, double solidus, double liquidus) {
  auto material = std::make_shared<Material>();
  material->name = name;
  material->melting = Melting{solidus, liquidus, 3e5};
  return material;
}

mesh::AxisymmetricGrid grid() {
  std::vector<double> r{0}, z;
  for (std::size_t i = 0; i < nr; ++i) r.push_back(r.back() + 1e-4 * std::pow(1.2, double(i)));
  // Disc, can (two rows), strip (two rows), electrode (four rows).
  for (const double mm : {-0.50, -0.30, -0.15, 0.0, 0.07, 0.15, 0.5, 1.0, 1.6, 2.5}) {
    z.push_back(mm * 1e-3);
  }
  const double rim = r.back();
  return mesh::AxisymmetricGrid(r, z,
                                {{"electrode", regions::electrode, z[5], z[9], r[5], r[5]},
                                 {"strip", regions::strip, z[3], z[5], rim, rim},
                                 {"can", regions::can, z[1], z[3], rim, rim},
                                 {"insulating disc", regions::layer, z[0], z[1], rim, rim}});
}

}  // namespace

Case asked() {
  Case out;
  out.title = "Cargo-bike pack, 0.15 mm nickel | trial";
  out.file = "my cases/cargo bike.toml";
  out.text = "title = \"Cargo-bike pack\"\n[strip]\nthickness = \"0.15 mm\"  # gemessen, µm\n";
  out.full_text = out.text + "width = \"8 mm\"\n";
  out.defaults = {{"strip.width", "8 mm", "common practice, no source"},
                  {"tip.force", "20 N", "bench | habit"}};
  Problem& problem = out.problem;
  problem.name = out.title;
  problem.electrode.material = metal("invented tip", 1350, 1360);
  problem.electrode.tip_radius = 0.75e-3;
  problem.top().material = metal("invented strip", 1726, 1728);
  problem.top().thickness = 0.15e-3;
  problem.base().material = metal("invented can", 1790, 1810);
  problem.base().thickness = 0.30e-3;
  problem.inner.push_back(
      {"insulating disc", metal("invented plastic", 430, 440), 0.2e-3, 400.0, {}, {}, "melts"});
  circuit::CapacitorBank bank;
  bank.part_capacitance = 4.7e-3;
  bank.part_esr = 20e-3;
  bank.parallel = 20;
  bank.series = 2;
  bank.charge_voltage = 30;
  bank.rated_voltage = 16;
  bank.rated_current = 50;
  problem.circuit.source = bank;
  problem.boundary.ambient = 296.0;
  problem.cell_limits = CellLimits{353.15, "invented limit"};
  problem.arrangement.spots = 2;
  return out;
}

Result beginning() {
  Result run;
  run.grid = grid();
  run.parts = {{"empty", Role::empty},
               {"electrode", Role::electrode},
               {"strip", Role::strip},
               {"can", Role::can},
               {"insulating disc", Role::layer}};
  size_for_one_joint(run);
  run.probe_names = {"wall, centre", "a/b"};
  return run;
}

Frame frame(std::size_t k, const mesh::AxisymmetricGrid& g) {
  Frame out;
  out.time = 1e-3 * static_cast<double>(k * k) + 1e-5 * static_cast<double>(k);
  for (std::size_t cell = 0; cell < g.cells(); ++cell) {
    const auto c = static_cast<float>(cell), n = static_cast<float>(k);
    out.temperature.push_back(300.0F + c + 1000.0F * n);
    out.liquid_fraction.push_back(c / 1000.0F + 0.1F * n);
    out.potential.push_back(0.01F * c - n);
    for (const float component : {1.0F, 2.0F, 0.0F}) {
      out.current_density.push_back(component * (1e6F * n + c));
    }
  }
  return out;
}

Result finished() {
  Result run = beginning();
  for (std::size_t n = 1; n <= steps; ++n) {
    StepRecord step = step_with_one_joint();
    const auto x = static_cast<double>(n);
    step.time = 1e-3 * x / 3.0;
    step.step = 1e-3 / 3.0;
    step.current = 100.0 * x;
    step.load_voltage = 0.5 * x;
    // No current flows in the last step.
    step.load_resistance = n == steps ? 0.0 : 2e-3 - 1e-4 * x;
    step.spots[0].contacts[0].resistance = 3e-4 - 1e-5 * x;
    step.spots[0].contacts[1].resistance = 2e-4 - 1e-5 * x;
    step.layer_temperature = {301.0 + x};
    step.probes = {310.0 + x, 320.0 + x};
    step.energy_in = 2.0 * x;
    step.energy_stored = 1.5 * x;
    step.energy_out = 0.5 * x;
    step.newton_iterations = static_cast<int>(n) + 2;
    run.history.push_back(step);
  }
  Ledger& ledger = run.ledger;
  ledger.stored_before = 21.225;
  ledger.source_resistance = 4;
  ledger.leads = 3;
  ledger.joints = 0.5;
  ledger.power_switch = 1;
  ledger.switch_off = 0.25;
  ledger.contacts[0] = 1.5;
  ledger.contacts[1] = 1.25;
  ledger.electrodes = 2;
  ledger.sheets[0] = 3.5;
  ledger.sheets[1] = 1;
  ledger.expelled = 0.125;
  ledger.from_source = 18.125;
  ledger.left_in_source = 3.1;
  run.last = frame(frames - 1, run.grid);
  for (std::size_t cell = 0; cell < run.grid.cells(); ++cell) {
    run.peak_temperature.push_back(2000.0F + static_cast<float>(cell));
    run.peak_liquid_fraction.push_back(static_cast<float>(cell) / 200.0F);
  }
  run.peak_current = {1500, 0.4e-3, 0, 0};
  run.peak_temperature_any = {2100, 3e-3, 0.1e-3, 0.05e-3};
  run.peak_inner_wall = {371.15, 8e-3, 0.2e-3, -0.3e-3};
  run.contacts[0].voltage = {0.61, 0.3e-3, 0, 0.15e-3};
  run.contacts[1].voltage = {0.42, 0.35e-3, 0, 0};
  run.joints[0].peak = {1850, 2.9e-3, 0.05e-3, 0};
  run.joints[0].nugget = {0.9e-3, 3.1e-3, 0, 0};
  run.joints[0].fused_diameter = 0.95e-3;
  run.sheets[0].penetration = {0.06e-3, 3.1e-3, 0, 0.06e-3};
  run.sheets[1].penetration = {0.045e-3, 3.2e-3, 0, -0.045e-3};
  run.most_reverse_voltage = 0;
  run.base_share_mean = 0.37;
  run.inner_wall_and_layers = {
      {"inner wall",
       {371.15, 8e-3, 0.2e-3, -0.3e-3},
       353.15,
       "invented limit",
       0.012,
       4e-4,
       0,
       {},
       0,
       0},
      {"insulating disc", {360, 20e-3, 0, -0.3e-3}, 400, "melts", 0, 1e-7, 430, {}, 0, 0},
      {"winding", {300, 90e-3, 0, -0.5e-3}, 0, "", 0, 0, 0, {}, 0, 0}};
  run.notes = {"strip: conductivity above 1728 K held at its last value"};
  run.worst_energy_residual = 3e-13;
  run.rejected_steps = 2;
  run.cpu_seconds = 0.31;
  return run;
}

Verdict verdict() {
  Verdict out;
  out.leading = Outcome::cell_overheated;
  out.good = false;
  out.sentence = "Fused, but the inner wall passes its limit: shorten the pulse.";
  Finding hot;
  hot.outcome = Outcome::cell_overheated;
  hot.holds = true;
  hot.quantity = "inner wall temperature";
  hot.value = 371.15;
  hot.limit = 353.15;
  hot.unit = "K";
  hot.margin = -0.3;
  hot.time = 8e-3;
  hot.r = 0.2e-3;
  hot.z = -0.3e-3;
  hot.basis = "invented limit";
  hot.advice = "Shorten the pulse to 3 ms.";
  Finding fused;
  fused.outcome = Outcome::fused;
  fused.holds = true;
  fused.quantity = "nugget diameter";
  fused.value = 0.9e-3;
  fused.limit = 0.6e-3;
  fused.unit = "m";
  fused.margin = 0.5;
  fused.time = 3.1e-3;
  fused.basis = "engineering judgement";
  fused.advice = "Keep it.";
  out.findings = {hot, fused};
  out.nugget_diameter = 0.9e-3;
  out.smallest_good_nugget = 0.6e-3;
  out.shear_strength = 106;
  out.peel_strength = 21;
  out.cell_judged = true;
  out.cell_safe = false;
  out.cell_side = finished().inner_wall_and_layers;
  return out;
}

fs::path write(const fs::path& folder) {
  ResultWriter writer(folder, asked());
  const Result run = finished();
  writer.begins(beginning());
  for (std::size_t k = 0; k < frames; ++k) writer.frame_taken(frame(k, run.grid));
  return writer.finish(run, verdict());
}

ScriptOutcome run_python(const std::string& script, const std::string& arguments) {
  const Folder folder;
  const fs::path file = folder / "script.py", log = folder / "log";
  std::ofstream(file) << script;
  const std::string command =
      "/usr/bin/python3 " + file.string() + " " + arguments + " > " + log.string() + " 2>&1";
  const int raw = std::system(command.c_str());
  // 127: there is no interpreter.
  const int status = WIFEXITED(raw) ? WEXITSTATUS(raw) : -1;
  return {status == 127 ? module_missing : status, file_text(log)};
}

}  // namespace tabmelt::sample
