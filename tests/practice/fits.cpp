#include "tests/practice/fits.h"

#include <cmath>
#include <filesystem>
#include <random>
#include <stdexcept>

#include "io/study/processes.h"
#include "solver/solve.h"
#include "solver/study/pulse_trace.h"
#include "tests/support/temporary_folder.h"

namespace tabmelt::practice {
namespace {

using inference::Channel;
using inference::Signal;

constexpr double bar = 5e-5;            // [ohm]
constexpr double spacing = 1e-5;        // [s] of the recorder's points
constexpr double before = 0.8037e-3;    // [s] recorded before the pulse
constexpr double after = 0.5e-3;        // [s]
constexpr double current_noise = 5;     // [A]
constexpr double voltage_noise = 0.02;  // [V]
constexpr double spread = 1.15;

StudiedCase asked(const Bench& bench, double resolution) {
  const std::filesystem::path file =
      std::filesystem::path(TABMELT_SOURCE_DIR) / "cases" / bench.case_name / "case.toml";
  return {bench.name,
          file,
          test::file_text(file),
          {{"numerics.resolution", std::to_string(resolution)}}};
}

Signal recorded(const PulseTrace& curve, Channel channel, double end, std::mt19937_64& engine) {
  std::normal_distribution<double> bell(0, 1);
  const double noise = channel == Channel::current ? current_noise : voltage_noise;
  Signal s;
  for (double t = -before; t < end + after; t += spacing) {
    s.time.push_back(t + before);
    s.value.push_back(curve.means(channel, {{t, t}}).front() + noise * bell(engine));
  }
  return s;
}

}  // namespace

const std::vector<Bench>& benches() {
  static const std::vector<std::string> loop{"source.internal_resistance", "joints.resistance",
                                             "leads.inductance"};
  static const std::vector<Channel> all{Channel::current, Channel::tip_voltage,
                                        Channel::source_voltage};
  static const std::vector<Bench> list{
      {"bar", "bike-everyday", loop, {Channel::current, Channel::source_voltage}, true},
      {"current",
       "bike-everyday",
       {"source.internal_resistance", "leads.inductance"},
       {Channel::current},
       false},
      {"three", "bike-everyday", loop, all, false},
      {"bank",
       "trimmer-negative",
       {"source.part_capacitance", "source.part_esr", "joints.resistance", "leads.inductance"},
       all,
       false}};
  return list;
}

const Bench& bench_of(const std::string& name) {
  for (const Bench& bench : benches())
    if (bench.name == name) return bench;
  throw std::invalid_argument("no bench " + name);
}

struct Welder::Inside {
  const test::TemporaryFolder folder;
  Processes alone;
  std::unique_ptr<Study> study;
};

Welder::Welder(const Bench& bench, std::uint64_t seed, double resolution)
    : inside_(std::make_unique<Inside>()) {
  const StudiedCase shipped = asked(bench, resolution);
  inside_->study = std::make_unique<Study>(shipped, inside_->folder.path(), "1", inside_->alone);
  std::mt19937_64 engine(seed);
  std::normal_distribution<double> bell(0, 1);
  const Case& base = inside_->study->base();
  std::vector<Override> own = shipped.settings;
  for (const std::string& key : bench.unknowns) {
    const FitUnknown unknown = fit_unknown({&base}, key);
    truth_.push_back(unknown.start * std::exp(std::log(spread) * bell(engine)));
    own.push_back(unknown.knob.at(truth_.back()));
  }
  Case true_case = read_case_text(shipped.text, shipped.file, own);
  // The mean moves with the tolerance too, by a thousandth: the truth has that of the fit.
  true_case.problem.numerics.step_tolerance = fitted_step_tolerance;
  const circuit::Circuit& circuit = true_case.problem.circuit;
  const double end = circuit::Loop(circuit).end_of_pulse();
  true_case.problem.numerics.end_time = 1.02 * end;
  const PulseTrace curve(circuit, bench.bare ? bridged(circuit, bar, 1.02 * end)
                                             : load_history(solve(true_case.problem)));
  FitRecord record;
  for (const Channel channel : bench.channels)
    record.trace.channels.emplace_back(channel, recorded(curve, channel, end, engine));
  record.trace.file = "pulse.csv";
  record.trace.to = record.trace.channels.front().second.time.back();
  record.study = inside_->study.get();
  record.bare = bench.bare;
  record.bar_resistance = bar;
  fitting_ = std::make_unique<FitStudy>(std::vector<FitRecord>{record}, bench.unknowns);
}

Welder::~Welder() = default;

std::size_t Welder::runs() const { return inside_->study->counts().computed; }

}  // namespace tabmelt::practice
