// Many cases in one table: a line per case for the terminal, and the same as index.csv with the
// keys that differ between the cases as columns.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "io/case/read_case.h"
#include "solver/result/result.h"
#include "solver/verdict/verdict.h"

namespace tabmelt::command {

enum class RowState { computed, unfinished, wrong_input };

struct IndexRow {
  std::string name;  // of the case
  std::string file;
  RowState state = RowState::unfinished;
  // Only if computed:
  std::string verdict;  // the leading outcome in words
  bool good = false;
  double nugget = 0;                // [m] verdict.h
  double smallest_good_nugget = 0;  // [m]
  double margin = 0;                // [1] the least of the findings that a good weld must pass
  std::string margin_of;            // their outcome in words
  std::string cell_side;            // "within limits", "EXCEEDED", "not settled", "not judged"
  double peak_current = 0;          // [A]
  double peak_inner_wall = 0;       // [K]
  double energy = 0;                // [J] from the source
};

// A case that was computed, or cut short.
IndexRow index_row(const std::string& name, const Case&, const Result&, const Verdict&);

// The finding that comes nearest to spoiling the weld, or has spoilt it by most: of all hazards and
// of the state of the bond; null if nothing was judged.
const Finding* weakest_finding(const Verdict&);

// One line per case. No name is cut; lines are as long as the longest name needs.
std::string index_text(const std::vector<IndexRow>&);

// A key of a case file whose value is not the same in all cases.
struct DifferingKey {
  std::string key;
  std::vector<std::string> values;  // one per case, empty where it has none
};
// In the order of the first case that has them; title and [[probe]] are left out, they change no
// weld. Properties of materials
// that several cases use are keys too (materials.<name>.<property>).
std::vector<DifferingKey> differing_keys(const std::vector<const Case*>&);

// RFC 4180; heading with units in brackets, SI. `cases` as rows; null where a file was no case.
std::string index_csv(const std::vector<IndexRow>& rows, const std::vector<const Case*>& cases);

// Writes index.csv into the folder, or index-2.csv and so on where there is one: none is ever
// overwritten. Returns the file; throws OutputError.
std::filesystem::path write_index(const std::filesystem::path& folder, const std::string& csv);

}  // namespace tabmelt::command
