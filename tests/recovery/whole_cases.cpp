// Whole cases with all their fields: does the truth lie within the stated error? Slow.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <random>

#include "io/case/explain.h"
#include "io/inference/fit_study.h"
#include "solver/sampling/draws.h"
#include "solver/solve.h"
#include "solver/study/pulse_trace.h"
#include "tests/unit/io_study/folder.h"

namespace tabmelt {
namespace {

using inference::Channel;

// Twelve welders drawn around the case; current and source voltage with 6 A and 20 mV of noise.
// Within 1.96 standard errors in 95 of 100: of 36 values at least 30 (three standard deviations of
// the count).
TEST(Recovery, OfWholeCasesLiesWithinTheStatedErrors) {
  constexpr int welders = 12;
  const std::vector<Override> grid{{"numerics.resolution", "0.3"}, {"switch.pulses.1.1", "3 ms"}};
  const test::Folder folder;
  Processes alone;
  Study study({"weld", "/nowhere/case.toml", template_case(), grid}, folder.path, "1", alone);
  int within = 0, matching = 0, values = 0;
  std::mt19937_64 engine(3);
  std::normal_distribution<double> bell(0, 1);
  for (const auto& u : study::even_points(welders, 3, 5)) {
    const std::array<double, 3> truth{6e-3 * (0.85 + 0.3 * u[0]), 0.03e-3 * std::pow(4, u[1] - 0.5),
                                      0.45e-6 * (0.8 + 0.4 * u[2])};
    std::vector<Override> own = grid;
    own.push_back({"source.internal_resistance", std::to_string(truth[0] * 1e3) + " mohm"});
    own.push_back({"joints.resistance", std::to_string(truth[1] * 1e3) + " mohm"});
    own.push_back({"leads.inductance", std::to_string(truth[2] * 1e6) + " uH"});
    const Case welder = read_case_text(template_case(), "/nowhere/case.toml", own);
    const PulseTrace curve(welder.problem.circuit, load_history(solve(welder.problem)));
    FitRecord record;
    record.study = &study;
    record.trace.file = "pulse.csv";
    record.trace.to = 4.5e-3;
    for (const auto& [channel, noise] :
         {std::pair(Channel::current, 6.0), std::pair(Channel::source_voltage, 0.02)}) {
      inference::Signal s;
      for (int n = 0; n < 450; ++n) {
        const double t = 1e-5 * n - 0.91e-3;
        s.time.push_back(1e-5 * n);
        s.value.push_back(curve.means(channel, {{t, t}}).front() + noise * bell(engine));
      }
      record.trace.channels.emplace_back(channel, s);
    }
    FitStudy fitting({record},
                     {"source.internal_resistance", "joints.resistance", "leads.inductance"});
    const inference::TraceFit fit = fitting.fit();
    ASSERT_TRUE(fit.computed);
    matching += fit.matches ? 1 : 0;
    std::printf("matches %d:", fit.matches ? 1 : 0);
    for (std::size_t i = 0; i < 3; ++i) {
      std::printf("  %.5g (%.5g +- %.2g)", truth[i], fit.values[i], fit.errors[i]);
      ++values;
      within += std::abs(fit.values[i] - truth[i]) < 1.96 * fit.errors[i] ? 1 : 0;
    }
    std::printf("\n");
    std::fflush(stdout);
  }
  std::printf("%d of %d values within 1.96 standard errors, %d of %d fits match; %zu runs\n",
              within, values, matching, welders, study.counts().computed);
  EXPECT_GE(within, 30);
  EXPECT_GE(matching, 11);
}

}  // namespace
}  // namespace tabmelt
