#include "tests/practice/advice_starts.h"

#include <fmt/format.h>

#include <cmath>

#include "io/study/study.h"
#include "tests/practice/draws.h"
#include "tests/support/temporary_folder.h"

namespace tabmelt::practice {
namespace {

std::string source(Draws& d) {
  if (d.between(0, 1) < 0.5)
    return fmt::format(
        "kind = \"capacitor bank\"\npart_capacitance = \"68 mF\"\npart_esr = \"8 mohm\"\nparallel "
        "= "
        "12\nrated_voltage = \"16 V\"\ncharge_voltage = \"{:.2f} V\"\n",
        d.log_between(4, 12));
  return fmt::format(
      "kind = \"battery\"\nopen_circuit_voltage = \"{:.2f} V\"\ninternal_resistance = \"{:.2f} "
      "mohm\"\n",
      d.between(9, 15), d.log_between(3, 12));
}

}  // namespace

std::vector<std::string> starts(int count) {
  Draws d(20261129);
  std::vector<std::string> cases;
  for (int n = 0; n < count; ++n) {
    const double force = d.log_between(10, 80), tip = d.between(1, 2.5);
    const double strip = 0.10 + 0.05 * std::floor(d.between(0, 3));
    const bool slit = d.between(0, 1) < 0.5;
    const double pulse = d.log_between(0.7, 12), leads = d.log_between(6, 35);
    cases.push_back(fmt::format(
        "title = \"start {}\"\n[cell]\nsize = \"18650\"\nend = \"negative bottom\"\n[strip]\n"
        "thickness = \"{:.2f} mm\"\nslit = {}\n[electrode]\ntip_diameter = \"{:.2f} mm\"\n"
        "[pressing]\nforce = \"{:.1f} N\"\n[leads]\ncross_section = \"{:.1f} mm2\"\n[switch]\n"
        "pulses = [[\"{:.2f} ms\", \"0 ms\"]]\n[numerics]\nresolution = 0.3\n[source]\n{}",
        n + 1, strip, slit, tip, force, leads, pulse, source(d)));
  }
  return cases;
}

Led led(const std::string& case_text) {
  const test::TemporaryFolder folder;
  Led result;
  Processes alone;
  Study study({"start", TABMELT_SOURCE_DIR "/cases/start.toml", case_text, {}}, folder.path(),
              "test", alone);
  result.study.title = study.base().title;
  result.study.knobs = bench_knobs(study.base());
  result.study.advice =
      study::advice(study.over(knobs_of(result.study.knobs)), ranges_of(result.study.knobs));
  const study::Advice& advice = result.study.advice;
  result.start_good = advice.start.good;
  for (const study::Remedy* remedy : result.study.offered())
    result.to_good = result.to_good || remedy->run.good;
  result.to_proof = !advice.start.good && !advice.helps() && advice.complete && advice.dense > 0;
  return result;
}

}  // namespace tabmelt::practice
