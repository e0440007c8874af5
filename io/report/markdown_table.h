// A table in Markdown that is also readable as plain text: columns padded to equal width.
#pragma once

#include <string>
#include <vector>

#include "io/report/document.h"

namespace tabmelt::report {

// One cell per column in each row. Bars and line ends in a cell are made harmless.
std::string markdown_table(const std::vector<Column>& columns,
                           std::vector<std::vector<std::string>> rows);

// Text from outside in one line of Markdown table: | escaped, line ends as spaces.
std::string table_cell(const std::string& text);

// On a screen: characters, not bytes.
std::size_t width(const std::string& text);
std::string padded(const std::string& text, std::size_t to, Align align);

}  // namespace tabmelt::report
