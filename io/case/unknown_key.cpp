#include "io/case/unknown_key.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <set>
#include <vector>

#include "io/case/key_path.h"
#include "io/case/nearest.h"
#include "io/case/schema.h"

namespace tabmelt {
namespace {

std::vector<std::string> all_keys() {
  std::vector<std::string> paths;
  for (const Key* key : every_key()) paths.push_back(key->path);
  return paths;
}

// Names that may stand directly in a table.
std::vector<std::string> names_in(const std::string& section) {
  std::vector<std::string> names;
  for (const std::string& path : all_keys())
    if (table_of(path) == section) names.push_back(name_of(path));
  for (const KeyTable& s : sections()) {
    const std::string inside = section.empty() ? s.path : section + ".";
    if (section.empty() && !s.path.empty()) names.push_back(s.path.substr(0, s.path.find('.')));
    if (!section.empty() && s.path.starts_with(inside)) names.push_back(name_of(s.path));
  }
  if (section.empty()) names.emplace_back("materials");
  // Two tables may begin with the same name.
  std::set<std::string> seen;
  std::erase_if(names, [&](const std::string& name) { return !seen.insert(name).second; });
  return names;
}

// The known keys and tables closest to a path; empty if none is close.
std::string did_you_mean(const std::string& path, const std::string& section) {
  const std::string name = section.empty() ? path : path.substr(section.size() + 1);
  if (const auto near = nearest(name, names_in(section)))
    return fmt::format("did you mean \"{}\"?", joined_path(section, *near));
  // The right name in the wrong table, then anything close.
  const std::vector<std::string> keys = all_keys();
  std::vector<std::string> names, same;
  for (const std::string& key : keys) names.push_back(name_of(key));
  if (const auto near = nearest(name, names)) {
    for (const std::string& key : keys)
      if (name_of(key) == *near) same.push_back(key);
    return fmt::format("did you mean {}?", fmt::join(same, " or "));
  }
  if (const auto whole = nearest(path, keys)) return fmt::format("did you mean \"{}\"?", *whole);
  if (!section.empty() || path.find('.') == std::string::npos) return "";
  const auto table = nearest(path.substr(0, path.find('.')), names_in(""));
  return table ? fmt::format("did you mean \"{}\"?", *table) : "";
}

}  // namespace

std::string unknown_key(const std::string& path, const std::string& section) {
  const std::string meant = did_you_mean(path, section);
  const std::string shown = path.size() <= 80 ? path : path.substr(0, 80) + "...";
  if (!meant.empty()) return fmt::format("unknown key \"{}\"; {}", shown, meant);
  return fmt::format("unknown key \"{}\"; allowed {} are {}", shown,
                     section.empty() ? "at the top" : "in [" + section + "]",
                     fmt::join(names_in(section), ", "));
}

}  // namespace tabmelt
