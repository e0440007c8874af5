#include "io/case/current_trace.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "io/case/key_path.h"
#include "io/case/units.h"

namespace tabmelt {
namespace {

constexpr std::uintmax_t largest_trace = 20'000'000;  // [bytes]
constexpr int most_complaints = 5;

// Around cells and lines.
constexpr const char* blanks = " \t\r\"";

std::vector<std::string> cells_of(const std::string& line, char divider) {
  std::vector<std::string> cells;
  std::istringstream stream(line);
  for (std::string cell; std::getline(stream, cell, divider);)
    cells.push_back(trimmed(cell, blanks));
  return cells;
}

char divider_of(const std::string& header) {
  for (const char c : {'\t', ';', ','})
    if (header.find(c) != std::string::npos) return c;
  return ',';
}

struct Column {
  std::size_t index;
  std::string unit;
};

// The column whose heading starts with this word; its unit stands in brackets.
std::optional<Column> column(const std::vector<std::string>& headings, const std::string& word) {
  for (std::size_t n = 0; n < headings.size(); ++n) {
    std::string lower = headings[n];
    std::transform(lower.begin(), lower.end(), lower.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    if (!lower.starts_with(word)) continue;
    const auto open = headings[n].find_first_of("[("), close = headings[n].find_last_of(")]");
    if (open == std::string::npos || close == std::string::npos || close < open)
      return std::nullopt;
    return Column{n, headings[n].substr(open + 1, close - open - 1)};
  }
  return std::nullopt;
}

}  // namespace

circuit::TableCurrent current_trace(const std::filesystem::path& file, ComplaintLog& log) {
  const std::string name = file.string();
  // Not remembered by the log: a complaint does not show what stands in a file that is none.
  const std::string text = text_of(file, largest_trace);
  circuit::TableCurrent trace;
  std::optional<Column> time, current;
  char divider = ',';
  int number = 0, faults = 0;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line) && faults < most_complaints;) {
    ++number;
    if (number == 1 && line.starts_with("\xEF\xBB\xBF")) line.erase(0, 3);
    const std::string plain = trimmed(line, blanks);
    if (plain.empty() || plain.front() == '#') continue;
    if (!time) {
      divider = divider_of(line);
      const auto headings = cells_of(line, divider);
      time = column(headings, "time");
      current = column(headings, "current");
      if (time && current) continue;
      log.add(name, number,
              "the first line must name the columns with their units, e.g. time [ms],current [A]");
      return trace;
    }
    const auto cells = cells_of(line, divider);
    const auto cell = [&](const Column& at, const char* reference) {
      if (at.index >= cells.size()) throw units::UnitError("lacks a column");
      return units::in_si(cells[at.index] + " " + at.unit, reference);
    };
    try {
      const double t = cell(*time, "s"), i = cell(*current, "A");
      if (!trace.time.empty() && t <= trace.time.back())
        throw units::UnitError("has a time that is not after the one before it");
      trace.time.push_back(t);
      trace.current.push_back(i);
    } catch (const units::UnitError& error) {
      ++faults;
      log.add(name, number, fmt::format("this line {}", error.what()));
    }
  }
  if (!time)
    log.add(name, 0, "the file is empty; it needs a first line time [ms],current [A]");
  else if (faults == 0 && trace.time.size() < 2)
    log.add(name, 0, "needs at least two points");
  return trace;
}

}  // namespace tabmelt
