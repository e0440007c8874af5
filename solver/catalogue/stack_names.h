// Keys and words of the touching surfaces and sheets of a stack, from the names of its parts.
#pragma once

#include <string>
#include <vector>

#include "solver/result/result.h"

namespace tabmelt {

struct Name {
  std::string key;
  std::string words;
};

struct StackNames {
  std::vector<Name> contacts;  // "tip": "electrode on strip", "faying": "strip on can"
  std::vector<Name> sheets;    // "strip": "strip"
  std::vector<Name> layers;    // "layer_disc": "disc"

  explicit StackNames(const std::vector<Part>& parts);
  std::size_t joints() const { return contacts.size() < 2 ? 0 : contacts.size() - 1; }
  const Name& joint(std::size_t n) const { return contacts[n + 1]; }
};

}  // namespace tabmelt
