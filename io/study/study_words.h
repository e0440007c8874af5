// Words, tables and numbers that the reports of all studies share.
#pragma once

#include <string>
#include <vector>

#include "io/study/knob.h"
#include "solver/sampling/chance.h"
#include "solver/search/judged.h"

namespace tabmelt {

// "fused", "surface flash", "could not be computed" for a key of a verdict or a region.
std::string region_words(const std::string& key);
std::string share_words(double share);           // "83 %", "< 1 %"
std::string chance_words(const study::Chance&);  // "83 % (77 to 88 %)"
std::string margin_words(double margin);         // "+12 %"

// Numbers of the values, that of the largest first.
std::vector<std::size_t> largest_first(const std::vector<double>& values);

// A line of comma-separated values, quoted where they must be (RFC 4180).
std::string csv_line(const std::vector<std::string>& cells);

// A run for each line: knobs in their units, then verdict, good, margin and the quantities in SI.
std::string runs_csv(const std::vector<Knob>&, const std::vector<study::Point>&,
                     const std::vector<study::Judged>&);

}  // namespace tabmelt
