#include "solver/study/judged_run.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "solver/solve.h"

namespace tabmelt {
namespace {

// Of a limit that was not even approached, or a number that is none.
double bounded(double margin) {
  if (std::isnan(margin)) return -farthest_margin;
  return std::clamp(margin, -farthest_margin, farthest_margin);
}

// `good` and the sign of the margin say the same, to the last bit.
double with_sign_of(bool good, double margin) {
  if (good) return std::max(margin, 0.0);
  return margin < 0 ? margin : -1e-9;
}

}  // namespace

const std::vector<StudiedQuantity>& studied_quantities() {
  static const std::vector<StudiedQuantity> list{
      {"nugget_diameter", "m", "nugget diameter"},
      {"peak_inner_wall", "K", "hottest of the inner wall"},
      {"peak_current", "A", "peak current"},
      {"energy", "J", "energy from the source"},
      {"peel_force", "N", "estimated force to peel one spot off"},
  };
  return list;
}

study::Judged judged_run(const Result& result, const Verdict& verdict) {
  study::Judged run;
  if (result.ending != Ending::finished) {
    const bool failed = result.ending == Ending::failed;
    run.state = failed ? study::State::failed : study::State::not_run;
    run.reason = result.ending_reason;
    return run;
  }
  run.state = study::State::computed;
  run.verdict = key(verdict.leading);
  run.good = verdict.good;
  double least = farthest_margin;
  for (const Finding& finding : verdict.findings) {
    run.limits.push_back({key(finding.outcome), finding.holds, bounded(finding.margin)});
    least = std::min(least, bounded(finding.margin));
  }
  // One for each outcome: that with the least margin.
  std::sort(run.limits.begin(), run.limits.end(), [](const auto& a, const auto& b) {
    return std::tie(a.key, a.margin) < std::tie(b.key, b.margin);
  });
  run.limits.erase(std::unique(run.limits.begin(), run.limits.end(),
                               [](const auto& a, const auto& b) { return a.key == b.key; }),
                   run.limits.end());
  run.margin = with_sign_of(run.good, least);
  run.numbers = {verdict.nugget_diameter, result.peak_inner_wall.value, result.peak_current.value,
                 result.ledger.from_source, verdict.peel_strength};
  return run;
}

study::Judged computed_run(const Problem& problem, Observer* observer) {
  const Result result = solve(problem, observer);
  return judged_run(result, judge(problem, result));
}

}  // namespace tabmelt
