// history.csv: the series of the catalogue, one row per accepted time step under a heading line
// `key [unit]`. SI units, 9 significant digits, fields with commas or quotes in quotes (RFC 4180).
#pragma once

#include <string>
#include <vector>

#include "solver/catalogue/catalogue.h"

namespace tabmelt {

std::string history_csv(const std::vector<Series>&, const std::vector<StepRecord>&);

}  // namespace tabmelt
