#include "io/inference/csv_rows.h"

#include <csv.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <limits>
#include <memory>
#include <stdexcept>

namespace tabmelt {
namespace {

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(" \t\r\"");
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of(" \t\r\"") - first + 1);
}

// That of the first line with something in it.
char divider_of(const std::string& text) {
  std::size_t begin = 0;
  while (begin < text.size()) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::string line = trimmed(text.substr(begin, end - begin));
    if (!line.empty() && line.front() != '#') {
      for (const char c : {'\t', ';', ','})
        if (line.find(c) != std::string::npos) return c;
      return ',';
    }
    begin = end + 1;
  }
  return ',';
}

struct Reading {
  const std::function<bool(CsvRow&)>* hand_over = nullptr;
  CsvRow row{1, {}};
  bool goes_on = true;
};

void cell_read(void* bytes, std::size_t length, void* reading) {
  static_cast<Reading*>(reading)->row.cells.push_back(
      trimmed(std::string(static_cast<const char*>(bytes), length)));
}

void row_read(int, void* pointer) {
  Reading& reading = *static_cast<Reading*>(pointer);
  CsvRow& row = reading.row;
  const bool empty = std::all_of(row.cells.begin(), row.cells.end(),
                                 [](const std::string& cell) { return cell.empty(); });
  const bool remark = !row.cells.empty() && row.cells.front().starts_with('#');
  if (!empty && !remark && reading.goes_on) reading.goes_on = (*reading.hand_over)(row);
  row.cells.clear();
  ++row.line;
}

struct Parser {
  Parser(char divider) {
    if (csv_init(&it, CSV_REPALL_NL) != 0) throw std::runtime_error("libcsv cannot be started");
    csv_set_delim(&it, static_cast<unsigned char>(divider));
  }
  ~Parser() { csv_free(&it); }
  Parser(const Parser&) = delete;
  Parser& operator=(const Parser&) = delete;
  csv_parser it{};
};

}  // namespace

std::string in_lower_case(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

char read_csv(const std::string& whole, const std::function<bool(CsvRow&)>& row) {
  std::string text = whole.starts_with("\xEF\xBB\xBF") ? whole.substr(3) : whole;
  // Each line end would count twice.
  std::erase(text, '\r');
  const char divider = divider_of(text);
  Parser parser(divider);
  Reading reading{&row};
  // In pieces, so that a reader who has seen enough need not wait for the rest.
  constexpr std::size_t piece = 1 << 16;
  for (std::size_t at = 0; at < text.size() && reading.goes_on; at += piece) {
    const std::size_t length = std::min(piece, text.size() - at);
    if (csv_parse(&parser.it, text.data() + at, length, cell_read, row_read, &reading) != length)
      throw std::runtime_error(csv_strerror(csv_error(&parser.it)));
  }
  if (reading.goes_on) csv_fini(&parser.it, cell_read, row_read, &reading);
  return divider;
}

Heading heading_of(const std::string& cell) {
  const auto open = cell.find_first_of("[("), close = cell.find_last_of(")]");
  if (open == std::string::npos || close == std::string::npos || close < open)
    return {in_lower_case(trimmed(cell)), ""};
  return {in_lower_case(trimmed(cell.substr(0, open))),
          trimmed(cell.substr(open + 1, close - open - 1))};
}

std::optional<double> number_in(const std::string& cell, char divider) {
  std::string text = trimmed(cell);
  if (divider != ',' && std::count(text.begin(), text.end(), ',') == 1 &&
      text.find('.') == std::string::npos)
    std::replace(text.begin(), text.end(), ',', '.');
  if (text.starts_with('+')) text.erase(0, 1);
  const std::string word = in_lower_case(text);
  if (word == "nan" || word == "inf" || word == "-inf" || word == "-nan")
    return std::numeric_limits<double>::quiet_NaN();
  double number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return number;
}

bool is_blank(const std::string& cell) {
  const std::string word = in_lower_case(trimmed(cell));
  return word.empty() || word == "-" || word == "?" || word == "n/a" || word == "unknown";
}

}  // namespace tabmelt
