// A map of verdicts as tables that others read.
//
//   map-*.h5 (HDF5)   x, y              values of the two keys, in their units (dimension scales)
//                     verdict (y, x)    number of the region; attribute `meanings` names them
//                     computed (y, x)   1 where it was run, 0 where it was inferred
//                     margin, <quantity> (y, x)   not a number where nothing is known
//                     case              the complete case
//   map-*.csv         a line for each corner
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "io/study/knob.h"
#include "solver/search/verdict_map.h"

namespace tabmelt {

struct MapQuantity {
  std::string key, unit, words;
};

struct StudiedMap {
  KnobSpan x, y;
  study::VerdictMap map;
  std::vector<MapQuantity> quantities;  // of MapCorner::numbers
  std::string case_text;                // complete
  std::string title;

  // At a share u of the span [SI]; whole numbers are rounded.
  static double value(const KnobSpan&, double u);
  std::vector<std::string> regions() const;  // those that occur, the good ones first
};

std::string map_csv(const StudiedMap&);
// In place of an earlier one. Throws OutputError.
void write_map_file(const StudiedMap&, const std::filesystem::path&);

}  // namespace tabmelt
