// The columns of a run's history: one list for /series of the field file and for history.csv.
//
// history.csv has one row per accepted time step and a heading line `name [unit]`; probes are
// `probe <name> [K]`, inner layers `layer <name> [K]`. SI units, 9 significant digits, fields
// with commas or quotes in quotes (RFC 4180).
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "solver/result/result.h"

namespace tabmelt {

struct HistoryColumn {
  std::string name;     // of the dataset in /series: letters, digits, _ and -
  std::string heading;  // of the column in history.csv, without the unit
  std::string units;
  std::string long_name;
  std::function<double(const StepRecord&)> value;
};

// The first column is the time. Needs the region and probe names and the number of landings; an
// entry a record does not have is NaN.
std::vector<HistoryColumn> history_columns(const Result&);

// A name for a dataset: other characters become _, and a name already taken gets a number.
std::string dataset_name(const std::string& wanted, const std::vector<std::string>& taken);

std::string history_csv(const std::vector<HistoryColumn>&, const std::vector<StepRecord>&);

}  // namespace tabmelt
