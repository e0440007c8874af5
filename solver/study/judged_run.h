// From a run to what the searches over many runs look at: the one place that knows both.
#pragma once

#include <string>
#include <vector>

#include "solver/problem/problem.h"
#include "solver/result/observer.h"
#include "solver/result/result.h"
#include "solver/search/judged.h"
#include "solver/verdict/verdict.h"

namespace tabmelt {

// What each number of Judged::numbers is, in their order.
struct StudiedQuantity {
  std::string key;   // "nugget_diameter"
  std::string unit;  // SI
  std::string words;
};
const std::vector<StudiedQuantity>& studied_quantities();

// A margin further away than this is stored as this [1].
inline constexpr double farthest_margin = 10;

study::Judged judged_run(const Result&, const Verdict&);

// Computes a problem, without anything but the numbers kept. `observer` may stop it, which gives
// State::not_run.
study::Judged computed_run(const Problem&, Observer* observer = nullptr);

}  // namespace tabmelt
