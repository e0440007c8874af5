#include "io/case/full_text.h"

#include <algorithm>

namespace tabmelt {
namespace {

std::pair<std::string, std::string> divided(const std::string& path) {
  const auto dot = path.rfind('.');
  if (dot == std::string::npos) return {"", path};
  return {path.substr(0, dot), path.substr(dot + 1)};
}

}  // namespace

void FullText::set(const std::string& path, const std::string& literal, bool is_default) {
  const auto [table, name] = divided(path);
  const std::string line = name + " = " + literal + (is_default ? "  # default" : "") + "\n";
  if (table == open_list_ && !table.empty()) {
    entries_ += line;
    return;
  }
  if (std::find(order_.begin(), order_.end(), table) == order_.end()) order_.push_back(table);
  tables_[table] += line;
}

void FullText::open_entry(const std::string& list) {
  open_list_ = list;
  entries_ += "\n[[" + list + "]]\n";
}

void FullText::remark(const std::string& path, const std::string& text) {
  std::string line = "# " + text;
  std::replace_if(
      line.begin(), line.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20; }, ' ');
  tables_[divided(path).first] += line + "\n";
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
