#include "solver/catalogue/stack_names.h"

#include <fmt/format.h>

#include "solver/catalogue/catalogue.h"

namespace tabmelt {

StackNames::StackNames(const std::vector<Part>& parts) {
  std::vector<std::string> taken;
  const auto name = [&](const std::string& wanted, const std::string& words) {
    taken.push_back(key_of(wanted, taken));
    return Name{taken.back(), words};
  };
  std::string above = "electrode";
  for (const Part& part : parts) {
    if (!is_sheet(part)) continue;
    contacts.push_back({contacts.empty() ? "tip" : fmt::format("faying_{}", contacts.size()),
                        above + " on " + part.name});
    sheets.push_back(name(part.name, part.name));
    above = part.name;
  }
  if (contacts.size() == 2) contacts.back().key = "faying";
  for (const Part& part : parts)
    if (part.role == Role::layer) layers.push_back(name("layer_" + part.name, part.name));
}

}  // namespace tabmelt
