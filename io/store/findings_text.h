// What the verdict found, as the result file keeps it for pictures: a line each, columns parted by
// tabs.
//
//   outcome  words  quantity  value  limit  unit  margin [1]  time [s]  r [m]  z [m]  holds
#pragma once

#include <string>
#include <vector>

#include "solver/result/stored_run.h"
#include "solver/verdict/verdict.h"

namespace tabmelt {

std::string findings_text(const Verdict&);

// Lines that do not have these columns are left out.
std::vector<StoredFinding> findings_in(const std::string& text);

}  // namespace tabmelt
