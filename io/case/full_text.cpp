#include "io/case/full_text.h"

#include <fmt/format.h>

#include <algorithm>

#include "io/case/key_path.h"

namespace tabmelt {
namespace {

std::string without_quotes(const std::string& literal) {
  const bool is_quoted = literal.size() >= 2 && literal.front() == '"' && literal.back() == '"';
  return is_quoted ? literal.substr(1, literal.size() - 2) : literal;
}

}  // namespace

void FullText::set(const std::string& path, const std::string& literal, bool is_default) {
  const std::string table = table_of(path), name = name_of(path);
  const bool in_entry = table == open_list_ && !table.empty();
  const std::string key =
      in_entry ? fmt::format("{}.{}.{}", table, entry_count_[table], name) : path;
  inputs_.push_back({key, without_quotes(literal), is_default});
  const std::string line = name + " = " + literal + (is_default ? "  # default" : "") + "\n";
  if (in_entry) {
    entries_ += line;
    return;
  }
  if (std::find(order_.begin(), order_.end(), table) == order_.end()) order_.push_back(table);
  tables_[table] += line;
}

void FullText::open_entry(const std::string& list) {
  open_list_ = list;
  ++entry_count_[list];
  entries_ += "\n[[" + list + "]]\n";
}

void FullText::replace_source_file(const std::vector<double>& time,
                                   const std::vector<double>& current) {
  std::string& table = tables_["source"];
  const std::size_t at = table.find("file = ");
  if (at == std::string::npos) return;
  table.replace(at, 0, "# measured current, read from this file: ");
  table += "table = [\n";
  for (std::size_t n = 0; n < time.size(); ++n)
    table += fmt::format("  [\"{} s\", \"{} A\"],\n", time[n], current[n]);
  table += "]\n";
}

std::string FullText::text(const std::string& materials, bool empty_layers) const {
  std::string result = "# Every value of the case; those it left out are marked as defaults.\n";
  const auto top = tables_.find("");
  if (top != tables_.end()) result += top->second;
  if (empty_layers) result += "layer = []\n";
  for (const std::string& table : order_)
    if (!table.empty()) result += "\n[" + table + "]\n" + tables_.at(table);
  result += entries_;
  if (!materials.empty()) result += "\n# Materials as used.\n" + materials + "\n";
  return result;
}

}  // namespace tabmelt
