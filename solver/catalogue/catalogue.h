// Every number of a result, once: its key, unit and words, and where it comes from. The result
// file, history.csv, summary.json, report, terminal, pictures and studies all walk over these
// lists; a new number is a member of Result and one line here.
//
// Keys of a stack. Contacts: "tip", and "faying" or, of several joints, "faying_1", "faying_2" ...
// from the top. Sheets and inner layers by their own names, other characters than letters, digits
// and - as _. With several joints the plain keys of a joint (nugget_diameter, faying_temperature,
// ...) still exist and are those of the weakest: the least nugget, the coldest joint; of contacts
// in series the sum of resistances and the largest voltage.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "solver/bench/bench_figures.h"
#include "solver/problem/problem.h"
#include "solver/result/result.h"
#include "solver/verdict/verdict.h"

namespace tabmelt {

// A number of each time step.
struct Series {
  std::string key;
  std::string unit;  // SI
  std::string words;
  std::function<double(const StepRecord&)> value;  // NaN where a record does not have it
};

// The first one is the time. Needs the parts, the probe names, and a step or the number of
// landings.
std::vector<Series> series_of_steps(const Result&);

// What a number of the run is about; sections of report and summary.
enum class Topic { weld, heat, electrical, landing, energy, cell_side, bench, verdict, input, run };
std::string key(Topic);

struct Place {
  double time = 0;  // [s]
  double r = 0;     // [m]
  double z = 0;     // [m]
};

// A number of the whole run. Left out of the list where it does not apply.
struct Quantity {
  Topic topic = Topic::run;
  std::string key;
  std::string unit;  // SI; "1" for shares, counts and flags
  std::string words;
  double value = 0;
  std::optional<Place> at;
};

std::vector<Quantity> quantities(const Problem&, const Result&, const Verdict&,
                                 const BenchFigures&);

// [K] Temperatures of grid cells and those of surfaces between them are two sets of numbers, and
// either may hold the highest. What is called the hottest of a sheet, or of everything, is so of
// both: no surface of a sheet is hotter than the sheet. Over the run and at the end of a step.
Extreme hottest_of_sheet(const Result&, std::size_t sheet);
double hottest_of_sheet(const StepRecord&, std::size_t sheet);
Extreme hottest_of_all(const Result&);
double hottest_of_all(const StepRecord&);

// The ledger: what the source gave, where it went, what is missing; keys ledger_<...>. The sinks
// add up to ledger_from_source with ledger_residual.
std::vector<Quantity> ledger_source(const Ledger&);
std::vector<Quantity> ledger_sinks(const std::vector<Part>& parts, const Ledger&);

// A key out of a name: other characters become _, and a key already taken gets a number.
std::string key_of(const std::string& name, const std::vector<std::string>& taken = {});

}  // namespace tabmelt
