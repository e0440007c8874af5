// Whole cases fitted to traces that they made themselves, with noise of known size.
#include "io/inference/fit_study.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "io/case/explain.h"
#include "io/inference/fit_report.h"
#include "solver/solve.h"
#include "solver/study/pulse_trace.h"
#include "tests/support/temporary_folder.h"

namespace tabmelt {
namespace {

using inference::Channel;
using inference::Signal;

// The usual weld on a coarse grid, some hundredths of a second each.
StudiedCase coarse(std::vector<Override> more = {}) {
  StudiedCase asked{"weld",
                    "/nowhere/case.toml",
                    template_case(),
                    {{"numerics.resolution", "0.3"}, {"switch.pulses.1.1", "3 ms"}}};
  asked.settings.insert(asked.settings.end(), more.begin(), more.end());
  return asked;
}

MeasuredTrace trace_of(const StudiedCase& welder, bool bare, double noise, std::uint64_t seed,
                       std::vector<Channel> channels = {Channel::current}) {
  Case read = read_case_text(welder.text, welder.file, welder.settings);
  read.problem.numerics.step_tolerance = fitted_step_tolerance;
  const circuit::Circuit& circuit = read.problem.circuit;
  const PulseTrace curve(circuit,
                         bare ? bridged(circuit, 5e-5, 4e-3) : load_history(solve(read.problem)));
  std::mt19937_64 engine(seed);
  std::normal_distribution<double> bell(0, 1);
  MeasuredTrace trace;
  trace.file = bare ? "bar.csv" : "pulse.csv";
  for (const Channel channel : channels) {
    Signal s;
    for (int n = 0; n < 500; ++n) {
      const double t = 1e-5 * n - 0.8037e-3;
      const double size = channel == Channel::current ? noise : noise / 500;
      s.time.push_back(1e-5 * n);
      s.value.push_back(curve.means(channel, {{t, t}}).front() + size * bell(engine));
    }
    trace.channels.emplace_back(channel, s);
  }
  trace.to = 499e-5;
  return trace;
}

std::string complaint(const StudiedCase& asked, const std::vector<std::string>& keys) {
  const test::TemporaryFolder folder;
  Processes alone;
  Study study(asked, folder.path(), "1", alone);
  FitRecord record;
  record.trace = trace_of(asked, true, 5, 1);
  record.study = &study;
  try {
    FitStudy(std::vector<FitRecord>{record}, keys);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

FitRecord of(Study& study, const MeasuredTrace& trace, bool bare = false) {
  FitRecord record;
  record.trace = trace;
  record.study = &study;
  record.bare = bare;
  record.bar_resistance = 5e-5;
  return record;
}

// The welder has other values than the case; two traces tell them.
TEST(FitStudy, finds_what_the_case_has_wrong) {
  const StudiedCase welder =
      coarse({{"source.internal_resistance", "5.1 mohm"}, {"leads.inductance", "0.83 uH"}});
  const test::TemporaryFolder folder;
  Processes alone;
  Study study(coarse(), folder.path(), "1", alone);
  FitStudy fitting(
      {of(study, trace_of(welder, false, 4, 1)), of(study, trace_of(welder, true, 4, 2), true)},
      {"source.internal_resistance", "leads.inductance"});
  ASSERT_EQ(fitting.unknowns().size(), 2u);
  EXPECT_FALSE(fitting.unknowns()[1].given);
  FitAnswer a{"weld", &fitting, fitting.fit()};
  ASSERT_TRUE(a.fit.computed);
  EXPECT_TRUE(a.fit.matches) << fit_sentence(a);
  EXPECT_NEAR(a.fit.values[0], 5.1e-3, 3 * a.fit.errors[0]);
  EXPECT_NEAR(a.fit.values[1], 0.83e-6, 3 * a.fit.errors[1]);
  EXPECT_LT(a.fit.errors[0], 0.01 * 5.1e-3);
  EXPECT_NEAR(a.fit.records[0].shift, 0.8037e-3, 3 * a.fit.records[0].shift_error);
  EXPECT_NEAR(a.fit.records[1].shift, 0.8037e-3, 3 * a.fit.records[1].shift_error);

  const Learnt learnt = fit_as_learnt(a);
  ASSERT_EQ(learnt.values.size(), 2u);
  EXPECT_TRUE(learnt.values[0].spread.starts_with("normal ")) << learnt.values[0].spread;
  EXPECT_NE(fit_sentence(a).find("The model matches: source.internal_resistance 5."),
            std::string::npos)
      << fit_sentence(a);
  EXPECT_GT(fit_csv(a).size(), 20000u);
  const report::Document report = fit_report(a);
  EXPECT_EQ(report.sections.front().key, "values");
  EXPECT_TRUE(report.good);
  // All runs are there: the same fit computes nothing.
  const std::size_t computed = study.counts().computed;
  FitStudy again(
      {of(study, trace_of(welder, false, 4, 1)), of(study, trace_of(welder, true, 4, 2), true)},
      {"source.internal_resistance", "leads.inductance"});
  EXPECT_EQ(again.fit().values, a.fit.values);
  EXPECT_EQ(study.counts().computed, computed);
}

// The bar's current, recorded 1 % too large by a shunt that is known within 1 %.
TEST(FitStudy, the_error_of_the_shunt_is_in_the_errors) {
  const StudiedCase welder = coarse({{"source.internal_resistance", "5.1 mohm"}});
  const test::TemporaryFolder folder;
  Processes alone;
  Study study(coarse(), folder.path(), "1", alone);
  MeasuredTrace trace = trace_of(welder, true, 4, 1);
  for (double& i : trace.channels.front().second.value) i *= 1.01;
  FitStudy fitting({of(study, trace, true)}, {"source.internal_resistance", "leads.inductance"});
  const FitAnswer blind{"weld", &fitting, fitting.fit()};
  EXPECT_GT(std::abs(blind.fit.values[0] - 5.1e-3), 5 * blind.fit.errors[0]);
  const FitAnswer a{"weld", &fitting, fitting.fit(0.01), 0.01};
  EXPECT_TRUE(a.fit.matches);
  EXPECT_NEAR(a.fit.values[0], 5.1e-3, 1.5 * a.fit.errors[0]);
  // 1 % of the whole loop.
  EXPECT_GT(a.fit.errors[0], 0.01 * 5.1e-3);
  EXPECT_LT(a.fit.errors[0], 0.03 * 5.1e-3);
  std::string all;
  for (const std::string& remark : fit_remarks(a)) all += remark + "\n";
  EXPECT_NE(all.find("scale of the current that is known within 1 %"), std::string::npos) << all;
}

TEST(FitStudy, says_what_a_trace_cannot_tell) {
  const test::TemporaryFolder folder;
  Processes alone;
  Study study(coarse(), folder.path(), "1", alone);
  FitStudy fitting({of(study, trace_of(coarse(), true, 5, 3), true)},
                   {"joints.resistance", "switch.on_resistance", "can.thickness"});
  FitAnswer a{"weld", &fitting, fitting.fit()};
  const std::vector<std::string> remarks = fit_remarks(a);
  std::string all;
  for (const std::string& remark : remarks) all += remark + "\n";
  EXPECT_NE(all.find("cannot tell"), std::string::npos) << all;
  EXPECT_NE(all.find("joints.resistance"), std::string::npos) << all;
  EXPECT_NE(all.find("switch.on_resistance"), std::string::npos) << all;
  EXPECT_TRUE(fit_as_learnt(a).values.empty());
}

// The trace of a bank, whose current falls, against a battery.
TEST(FitStudy, a_wrong_model_does_not_match) {
  StudiedCase bank = coarse();
  const std::string battery =
      "kind = \"battery\"\nopen_circuit_voltage = \"12.6 V\"\n"
      "internal_resistance = \"6 mohm\"\n";
  bank.text.replace(bank.text.find(battery), battery.size(),
                    "kind = \"capacitor bank\"\npart_capacitance = \"400 mF\"\npart_esr = \"5 "
                    "mohm\"\ncharge_voltage = \"12.6 V\"\n");
  const test::TemporaryFolder folder;
  Processes alone;
  Study study(coarse(), folder.path(), "1", alone);
  FitStudy fitting({of(study, trace_of(bank, true, 5, 1), true)}, {"source.internal_resistance"});
  FitAnswer a{"weld", &fitting, fitting.fit()};
  EXPECT_FALSE(a.fit.matches);
  EXPECT_TRUE(fit_sentence(a).starts_with("The model does NOT match.")) << fit_sentence(a);
  EXPECT_FALSE(fit_report(a).good);
  EXPECT_NE(fit_as_learnt(a).about.find("does not match"), std::string::npos);
}

TEST(FitStudy, keys_that_no_case_uses_are_refused) {
  EXPECT_NE(complaint(coarse(), {"source.part_esr"}).find("is not used by this case"),
            std::string::npos);
  EXPECT_NE(complaint(coarse(), {"source.part_ers"}).find("source.part_esr"), std::string::npos);
  EXPECT_NE(complaint(coarse(), {"strip.material"}).find("is no number"), std::string::npos);
  EXPECT_NE(complaint(coarse(), {"joints.count"}).find("whole number"), std::string::npos);
  EXPECT_NE(complaint(coarse(), {"numerics.resolution"}).find("setting of the computation"),
            std::string::npos);
  EXPECT_EQ(complaint(coarse(), {"leads.resistance", "leads.resistance"}), "");
}

}  // namespace
}  // namespace tabmelt
