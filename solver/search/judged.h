// What became of one run, as plain values: all that the searches over many runs look at. They ask
// for points, a number for each knob, and get one of these for each; who computes them, and where,
// is none of their business.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

namespace tabmelt::study {

using Point = std::vector<double>;

enum class State {
  computed,
  failed,   // could not finish: why stands in `reason`
  not_run,  // the study was stopped before
};

// One thing that was judged.
struct Limit {
  std::string key;  // "expulsion"
  bool holds = false;
  double margin = 0;  // [1] distance from the limit on the good side; negative: bad
  bool operator==(const Limit&) const = default;
};

struct Judged {
  State state = State::not_run;
  std::string reason = {};
  std::string verdict = {};  // the leading one, "fused"
  bool good = false;
  double margin = 0;               // [1] the least of all limits'; at least 0 if good, below if not
  std::vector<Limit> limits = {};  // in the order of their keys
  std::vector<double> numbers = {};  // the study's quantities, SI
  bool operator==(const Judged&) const = default;
};

// All points of a batch may be computed at once; the answers come in the order of the points.
using Evaluate = std::function<std::vector<Judged>(const std::vector<Point>&)>;

// Whether the study was stopped in this batch.
bool cut_short(const std::vector<Judged>&);

// The word by which two runs count as alike: the verdict, or that it could not be computed.
std::string region_of(const Judged&);

// The two limits with the least margins, worst first; fewer if less was judged.
std::vector<Limit> tightest(const Judged&, std::size_t count);

}  // namespace tabmelt::study
