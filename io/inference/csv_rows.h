// Text in columns, row by row, through libcsv. Columns are divided by tabs, semicolons or commas,
// whichever the first line has; empty lines and lines that start with # are passed over.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace tabmelt {

struct CsvRow {
  int line = 0;  // in the text, from 1
  std::vector<std::string> cells;
};

// Hands each row over until the function returns false; the first is that of the headings. Returns
// the divider. `what` of a text that libcsv does not understand is thrown as std::runtime_error.
char read_csv(const std::string& text, const std::function<bool(CsvRow&)>& row);

// Letters A to Z only.
std::string in_lower_case(std::string);

// "current [A]" or "current (A)": name in lower case and unit; the unit is empty if there is none.
struct Heading {
  std::string name, unit;
};
Heading heading_of(const std::string& cell);

// A plain number. A comma in place of the point is understood unless commas divide the columns.
// Nothing for what is no number; not finite for "nan" and the like.
std::optional<double> number_in(const std::string& cell, char divider);

// Nothing, or words that recorders and people write for it.
bool is_blank(const std::string& cell);

}  // namespace tabmelt
