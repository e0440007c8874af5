#include "io/report/markdown_table.h"

#include <fmt/format.h>

#include <algorithm>

namespace tabmelt::report {

// UTF-8 continuation bytes do not count.
std::size_t width(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  }));
}

std::string padded(const std::string& text, std::size_t to, Align align) {
  const std::size_t have = width(text);
  const std::string blanks(to > have ? to - have : 0, ' ');
  return align == Align::left ? text + blanks : blanks + text;
}

std::string table_cell(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '|') {
      out += "\\|";
    } else if (c == '\n' || c == '\r' || c == '\t') {
      out += ' ';
    } else {
      out += c;
    }
  }
  return out;
}

std::string markdown_table(const std::vector<Column>& columns,
                           std::vector<std::vector<std::string>> rows) {
  std::vector<std::size_t> widths;
  for (std::size_t n = 0; n < columns.size(); ++n) {
    // A rule needs three dashes, and one colon more to align right.
    std::size_t most = std::max<std::size_t>(width(columns[n].heading), 4);
    for (auto& row : rows) {
      row[n] = table_cell(row[n]);
      most = std::max(most, width(row[n]));
    }
    widths.push_back(most);
  }
  std::string head = "|", rule = "|", body;
  for (std::size_t n = 0; n < columns.size(); ++n) {
    const bool right = columns[n].align == Align::right;
    head += fmt::format(" {} |", padded(columns[n].heading, widths[n], columns[n].align));
    rule += fmt::format(" {}{} |", std::string(widths[n] - (right ? 1 : 0), '-'), right ? ":" : "");
  }
  for (const auto& row : rows) {
    body += "|";
    for (std::size_t n = 0; n < columns.size(); ++n) {
      body += fmt::format(" {} |", padded(row[n], widths[n], columns[n].align));
    }
    body += "\n";
  }
  return head + "\n" + rule + "\n" + body;
}

}  // namespace tabmelt::report
