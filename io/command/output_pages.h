// What the files of a run hold: a page per format, made from the lists that write them.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace tabmelt::command {

// "output" (all pages), "result.vtkhdf", "history.csv", "summary.json", "index.csv"; nothing for
// any other word. Which keys there are depends on the case: the pages are those of the template
// case, of which a short coarse run is computed.
std::optional<std::string> output_page(const std::string& asked);

// The words that output_page() knows.
const std::vector<std::string>& output_page_words();

}  // namespace tabmelt::command
