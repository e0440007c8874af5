// Error against processor time of one case: the case is solved over a list of resolutions and step
// tolerances and compared with one converged run.
//
//   accuracy_study CASE.toml|melting-benchmark [--reference RESOLUTION TOLERANCE] [--repeat N]
//                  [--resolutions LIST] [--tolerances LIST] [--coupling TOLERANCE] [--linear
//                  TOLERANCE] [--plain 1]
//
// One line of comma-separated values per run on standard output. Errors, all relative [1]:
//   nugget       largest nugget diameter (0 if the reference has none)
//   wall         peak rise of the can's inner wall
//   peaks        worst of the peak rises: electrode face, strip, can, faying surface, anywhere
//   probes_rms   root mean square over probes and 200 moments of the error of the temperature rise,
//                each probe relative to its own largest rise (0 without probes)
// cpu is the least of N runs [s]; plain_cpu, with --plain, that of the plain reference
// implementation over the same steps, whose errors are the same to 1e-8 (fixed contacts and
// prescribed current only). Plot cpu against the errors to see what a grid costs.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <limits>
#include <sstream>
#include <string>
#include <vector>

#include "io/case/read_case.h"
#include "solver/solve.h"
#include "tests/bench/bench_cases.h"
#include "tests/bench/plain/plain_weld.h"

namespace {

using namespace tabmelt;

double probe_at(const Result& r, std::size_t probe, double start, double time) {
  double t0 = 0, T0 = start;
  for (const StepRecord& s : r.history) {
    if (s.time >= time) return T0 + (s.probes[probe] - T0) * (time - t0) / (s.time - t0);
    t0 = s.time;
    T0 = s.probes[probe];
  }
  return T0;
}

std::vector<double> peaks_of(const Result& r) {
  return {r.peak_tip.value, r.sheets[0].peak.value, r.sheets[1].peak.value, r.joints[0].peak.value,
          r.peak_temperature_any.value};
}

double probes_rms(const Result& r, const Result& reference, double start) {
  const std::size_t probes = reference.probe_names.size();
  if (probes == 0) return 0;
  const double end = std::min(r.history.back().time, reference.history.back().time);
  constexpr int moments = 200;
  double sum = 0;
  for (std::size_t p = 0; p < probes; ++p) {
    double largest = 0, squares = 0;
    for (int n = 1; n <= moments; ++n) {
      const double exact = probe_at(reference, p, start, end * n / moments);
      largest = std::max(largest, std::abs(exact - start));
      squares += std::pow(probe_at(r, p, start, end * n / moments) - exact, 2);
    }
    sum += squares / (largest * largest);
  }
  return std::sqrt(sum / static_cast<double>(probes * moments));
}

double relative(double value, double exact, double offset = 0) {
  return exact == offset ? 0 : std::abs(value - exact) / std::abs(exact - offset);
}

std::vector<double> numbers(const char* list) {
  std::vector<double> v;
  std::stringstream in(list);
  for (std::string part; std::getline(in, part, ',');) v.push_back(std::stod(part));
  return v;
}

double plain_seconds(const Problem& problem, const Result& r) {
  const std::clock_t start = std::clock();
  bench::PlainWeld plain(problem);
  for (const StepRecord& s : r.history) plain.step(s.step);
  return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

int study(int argc, char** argv) {
  Problem problem = std::string(argv[1]) == "melting-benchmark" ? bench::melting_benchmark()
                                                                : read_case(argv[1]).problem;
  std::vector<double> resolutions{0.4, 0.5, 0.6, 0.7, 0.85, 1, 1.4, 2};
  std::vector<double> tolerances{4e-3, 2e-3, 1e-3, 5e-4};
  double finest = 4, tightest = 1e-4;
  int repeat = 1;
  bool plain = false;
  for (int n = 2; n + 1 < argc; n += 2) {
    const std::string key = argv[n];
    if (key == "--resolutions") {
      resolutions = numbers(argv[n + 1]);
    } else if (key == "--tolerances") {
      tolerances = numbers(argv[n + 1]);
    } else if (key == "--coupling") {
      problem.numerics.coupling_tolerance = std::atof(argv[n + 1]);
    } else if (key == "--linear") {
      problem.numerics.linear_tolerance = std::atof(argv[n + 1]);
    } else if (key == "--plain") {
      plain = std::atoi(argv[n + 1]) != 0;
    } else if (key == "--repeat") {
      repeat = std::atoi(argv[n + 1]);
    } else if (key == "--reference" && n + 2 < argc) {
      finest = std::atof(argv[n + 1]);
      tightest = std::atof(argv[n + 2]);
      ++n;
    } else {
      std::fprintf(stderr, "unknown option %s\n", argv[n]);
      return 2;
    }
  }
  problem.numerics.resolution = finest;
  problem.numerics.step_tolerance = tightest;
  const Result exact = solve(problem);
  const double ambient = problem.boundary.ambient;
  std::printf(
      "# nugget %.4f mm, inner wall %.2f K, electrode face %.1f K, strip %.1f K, can %.1f K, "
      "faying %.1f K, %zu cells, %zu steps, cpu %.2f s\n",
      1e3 * exact.joints[0].nugget.value, exact.peak_inner_wall.value, exact.peak_tip.value,
      exact.sheets[0].peak.value, exact.sheets[1].peak.value, exact.joints[0].peak.value,
      exact.grid.cells(), exact.history.size(), exact.cpu_seconds);
  std::printf(
      "resolution,tolerance,cells,steps,rejected,newton,coupling,linear,cpu,nugget,wall,peaks,"
      "probes_rms%s\n",
      plain ? ",plain_cpu" : "");
  for (const double resolution : resolutions) {
    for (const double tolerance : tolerances) {
      problem.numerics.resolution = resolution;
      problem.numerics.step_tolerance = tolerance;
      Result r;
      double cpu = std::numeric_limits<double>::infinity();
      for (int n = 0; n < repeat; ++n) {
        r = solve(problem);
        cpu = std::min(cpu, r.cpu_seconds);
      }
      const std::vector<double> own = peaks_of(r), right = peaks_of(exact);
      double peaks = 0;
      for (std::size_t k = 0; k < own.size(); ++k)
        peaks = std::max(peaks, relative(own[k], right[k], ambient));
      long newton = 0, coupling = 0, linear = 0;
      for (const StepRecord& s : r.history) {
        newton += s.newton_iterations;
        coupling += s.coupling_iterations;
        linear += s.linear_iterations;
      }
      std::printf("%g,%g,%zu,%zu,%d,%ld,%ld,%ld,%.4f,%.5f,%.5f,%.5f,%.5f", resolution, tolerance,
                  r.grid.cells(), r.history.size(), r.rejected_steps, newton, coupling, linear, cpu,
                  relative(r.joints[0].nugget.value, exact.joints[0].nugget.value),
                  relative(r.peak_inner_wall.value, exact.peak_inner_wall.value, ambient), peaks,
                  probes_rms(r, exact, ambient));
      if (plain) std::printf(",%.4f", plain_seconds(problem, r));
      std::printf("\n");
      std::fflush(stdout);
    }
  }
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    std::fprintf(stderr, "usage: accuracy_study CASE.toml [options]\n");
    return 2;
  }
  try {
    return study(argc, argv);
  } catch (const InputError& error) {
    for (const Complaint& c : error.complaints())
      std::fprintf(stderr, "%s:%d: %s\n", c.file.c_str(), c.line, c.message.c_str());
    return 2;
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 2;
  }
}
