// Writes a case with every value in it, so that it reads back to the same problem.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "io/case/read_case.h"

namespace tabmelt {

class FullText {
 public:
  // A key of a single table; the last dot divides table and name.
  void set(const std::string& path, const std::string& literal, bool is_default);
  // What set() was told, entries by their number.
  const std::vector<InputValue>& inputs() const { return inputs_; }
  // Opens the next entry of [[layer]], [[conductor]] or [[probe]]; set() with their paths then
  // fills it.
  void open_entry(const std::string& list);
  // Writes a measured current into the case in place of the name of its file.
  void replace_source_file(const std::vector<double>& time, const std::vector<double>& current);

  // Tables in the order first set, then the entries, then the materials.
  std::string text(const std::string& materials, bool empty_layers) const;

 private:
  std::vector<std::string> order_;
  std::map<std::string, std::string> tables_;
  std::string entries_;
  std::string open_list_;
  std::map<std::string, int> entry_count_;  // by list
  std::vector<InputValue> inputs_;
};

}  // namespace tabmelt
