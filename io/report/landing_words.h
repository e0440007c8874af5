// How the tips came down on a connected source, in words: who landed when, how firmly each pressed,
// how often it bounced.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "io/report/document.h"
#include "solver/problem/problem.h"
#include "solver/result/result.h"

namespace tabmelt::report {

// "both tips", or "second tip"; the first is the judged one.
std::vector<std::string> tip_names(const Problem&, const Result&);

// Nothing behind a switch: the tips were down before the current began.
std::optional<Section> landing_section(const Problem&, const Result&);

// A few lines for the terminal; empty behind a switch.
std::string landing_text(const Problem&, const Result&);

}  // namespace tabmelt::report
