// A table in Markdown that is also readable as plain text: columns padded to equal width.
#pragma once

#include <string>
#include <vector>

#include "io/report/document.h"

namespace tabmelt::report {

class MarkdownTable {
 public:
  explicit MarkdownTable(std::vector<Column> columns);
  // One cell per column; throws std::invalid_argument otherwise. Bars and line ends in a cell are
  // made harmless.
  void add_row(std::vector<std::string> cells);
  bool empty() const { return rows_.empty(); }
  std::string text() const;

 private:
  std::vector<Column> columns_;
  std::vector<std::vector<std::string>> rows_;
};

// Text from outside in one line of Markdown table: | escaped, line ends as spaces.
std::string table_cell(const std::string& text);

}  // namespace tabmelt::report
