// What a person reads on the terminal after a run: at most 100 columns, units of the bench.
#pragma once

#include <string>

#include "solver/problem/problem.h"
#include "solver/result/result.h"
#include "solver/verdict/verdict.h"

namespace tabmelt::command {

// Verdict, its findings with number, limit and margin, and the advice on those that hold.
std::string verdict_text(const Verdict&);
// Peak current against the ratings, share of it that crosses to the can, hottest places.
std::string key_figures_text(const Problem&, const Result&);
// Where the energy of the pulse went [J], whole loop.
std::string ledger_text(const Problem&, const Result&);
// Inner can wall and the layers below it: peak, limit, time above, damage.
std::string cell_side_text(const Verdict&);
// Which figures the grid is too coarse for; empty if none, or if that was not estimated.
std::string own_error_text(const Result&);
// Why and when a run ended early.
std::string unfinished_text(const std::string& case_name, const Result&);

}  // namespace tabmelt::command
