// Whether a text holds another one.
#pragma once

#include <string>

namespace tabmelt {

inline bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace tabmelt
