// Test welds from a table in columns, a line for each weld. The first line names the columns:
//
//   any key of the case that is a number or yes/no, with its unit:   source.charge_voltage [V]
//   held          yes or no: something resisted the peel
//   peel          button or clean: whether a button of strip stayed on the can
//   peel force [N]
//   spark, stuck tip, hole     yes or no
//   note, date, weld           left alone
//
// Any outcome may be blank. Without a unit in the heading the cells have one: "28 N".
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "io/study/knob.h"
#include "solver/inference/outcomes.h"

namespace tabmelt {

struct TestWeld {
  int line = 0;
  study::Point settings;  // [SI], one for each knob of the table
  inference::Noted noted;
};

struct WeldTable {
  std::filesystem::path file;
  std::vector<Knob> knobs;  // of the columns that are keys; their values are those of the case
  std::vector<TestWeld> welds;
  std::vector<std::string> notes;
};

// Throws InputError: headings that are neither a key this case uses nor an outcome, cells that
// cannot be, values out of a key's range, no weld with an outcome.
WeldTable read_welds(const std::filesystem::path& file, const Case&);

// "source.charge_voltage 6 V, pressing.force 30 N"
std::string setting_words(const std::vector<Knob>&, const study::Point&);

// Welds of one setting with opposite notes of one thing: their lines and what they disagree on.
struct Disagreement {
  int one = 0, other = 0;
  std::string about;
};
std::vector<Disagreement> disagreements(const WeldTable&);

}  // namespace tabmelt
