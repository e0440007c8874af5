#include "solver/search/judged.h"

#include <algorithm>

namespace tabmelt::study {

bool cut_short(const std::vector<Judged>& runs) {
  return std::any_of(runs.begin(), runs.end(),
                     [](const Judged& run) { return run.state == State::not_run; });
}

std::string region_of(const Judged& run) {
  switch (run.state) {
    case State::computed:
      return run.verdict;
    case State::failed:
      return "not_computed";
    case State::not_run:
      break;
  }
  return "not_run";
}

std::vector<Limit> tightest(const Judged& run, std::size_t count) {
  std::vector<Limit> limits = run.limits;
  std::stable_sort(limits.begin(), limits.end(),
                   [](const Limit& a, const Limit& b) { return a.margin < b.margin; });
  if (limits.size() > count) limits.resize(count);
  return limits;
}

}  // namespace tabmelt::study
