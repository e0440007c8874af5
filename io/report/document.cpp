#include "io/report/document.h"

#include <stdexcept>

namespace tabmelt::report {

void Table::add_row(std::vector<Prose> cells) {
  if (cells.size() != columns_.size()) {
    throw std::invalid_argument("Table: one cell per column expected");
  }
  rows_.push_back(std::move(cells));
}

Block table_or(Table table, const char* words) {
  if (table.empty()) return Prose(words);
  return table;
}

}  // namespace tabmelt::report
