#include "tests/practice/weld.h"

#include <fmt/format.h>

#include <atomic>
#include <cmath>
#include <thread>

#include "io/case/read_case.h"
#include "solver/solve.h"
#include "tests/practice/draws.h"

namespace tabmelt::practice {
namespace {

Grade grade_of(const Verdict& v) {
  if (v.good) return Grade::good;
  Outcome bond = Outcome::no_bond;
  bool overdone = false;
  for (const Finding& f : v.findings) {
    if (!f.holds) continue;
    if (f.outcome == Outcome::no_bond || f.outcome == Outcome::stuck ||
        f.outcome == Outcome::small_nugget || f.outcome == Outcome::fused)
      bond = f.outcome;
    else
      overdone = true;
  }
  if (overdone) return Grade::overdone;
  return bond == Outcome::no_bond ? Grade::no_weld : Grade::small;
}

}  // namespace

std::string case_text(const Setting& s) {
  return fmt::format(
      "title = \"practice\"\ncell.size = \"18650\"\ncell.end = \"negative bottom\"\n"
      "strip.material = \"{}\"\nstrip.thickness = \"{:.4f} mm\"\nstrip.slit = {}\n"
      "electrode.tip_diameter = \"{:.4f} mm\"\nelectrode.tip_shape = \"{}\"\n"
      "arrangement.spacing = \"{:.4f} mm\"\npressing.force = \"{:.3f} N\"\n"
      "source.kind = \"measured current\"\n"
      "source.table = [[\"0 ms\", \"0 A\"], [\"0.05 ms\", \"{:.2f} A\"], [\"{:.4f} ms\", \"{:.2f} "
      "A\"], [\"{:.4f} ms\", \"0 A\"]]\nnumerics.resolution = {}\nnumerics.frames = 1\n{}\n",
      s.strip, s.thickness, s.slit, s.tip, s.flat ? "flat" : "domed", s.spacing, s.force, s.current,
      s.duration, s.current, s.duration + 0.02, s.resolution, s.more);
}

Weld weld(const Setting& s) {
  const Problem problem =
      read_case_text(case_text(s), TABMELT_SOURCE_DIR "/cases/practice.toml").problem;
  const Result result = solve(problem);
  Weld w;
  w.verdict = judge(problem, result);
  w.grade = grade_of(w.verdict);
  w.nugget = w.verdict.nugget_diameter;
  w.inner_wall = result.peak_inner_wall.value;
  for (const LayerRecord& layer : result.inner_wall_and_layers)
    if (layer.name == "winding") w.winding = layer.peak.value;
  for (const StepRecord& r : result.history)
    w.peak_voltage = std::max(w.peak_voltage, r.load_voltage);
  const Ledger& l = result.ledger;
  w.energy = l.contacts[0] + l.contacts[1] + l.electrodes + l.sheets[0] + l.sheets[1] + l.expelled;
  return w;
}

std::vector<Weld> weld_all(const std::vector<Setting>& settings) {
  std::vector<Weld> welds(settings.size());
  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    for (std::size_t n = next++; n < settings.size(); n = next++) welds[n] = weld(settings[n]);
  };
  std::vector<std::jthread> threads;
  for (unsigned n = 1; n < std::thread::hardware_concurrency(); ++n) threads.emplace_back(work);
  work();
  threads.clear();
  return welds;
}

std::vector<Setting> box(int count) {
  Draws draws(20261128);
  std::vector<Setting> settings;
  for (int n = 0; n < count; ++n) {
    Setting s;
    const double which = draws.between(0, 1);
    if (which < 0.25)
      s.thickness = 0.10;
    else if (which < 0.5)
      s.thickness = 0.15;
    else if (which < 0.7)
      s.thickness = 0.20;
    else
      s.strip = "nickel-plated-steel";
    s.current = draws.between(700, 2500);
    s.duration = draws.log_between(1, 12);
    s.force = draws.between(15, 60);
    s.tip = draws.between(1, 2);
    s.flat = draws.chance(0.3);
    s.spacing = draws.between(3, 6);
    s.slit = draws.chance(0.5);
    settings.push_back(s);
  }
  return settings;
}

std::vector<Setting> core(int count) {
  Draws draws(15);
  std::vector<Setting> settings;
  for (int n = 0; n < count; ++n) {
    Setting s;
    s.current = draws.between(1000, 1500);
    s.duration = draws.between(5, 10);
    s.force = draws.between(20, 40);
    settings.push_back(s);
  }
  return settings;
}

char letter(const Weld& w) {
  switch (w.grade) {
    case Grade::good:
      return 'G';
    case Grade::overdone:
      return 'o';
    case Grade::small:
      return 's';
    case Grade::no_weld:
      break;
  }
  return '.';
}

std::string told(const Weld& w) {
  std::string text;
  for (const Finding& f : w.verdict.findings)
    if (f.holds) text += (text.empty() ? "" : ", ") + key(f.outcome);
  return text;
}

}  // namespace tabmelt::practice
