// Collects complaints in words; each starts with the case keys it is about: "key, key: ...".
#pragma once

#include <cmath>
#include <sstream>
#include <string>
#include <vector>

namespace tabmelt {

class ComplaintList {
 public:
  void add(const std::string& keys, const std::string& message) {
    list_.push_back(keys + ": " + message);
  }
  void unless(bool sound, const std::string& keys, const std::string& message) {
    if (!sound) add(keys, message);
  }
  void positive(double value, const std::string& key) {
    unless(std::isfinite(value) && value > 0, key, "must be above zero");
  }
  void not_negative(double value, const std::string& key) {
    unless(std::isfinite(value) && value >= 0, key, "must not be negative");
  }
  std::vector<std::string> list() const { return list_; }

 private:
  std::vector<std::string> list_;
};

inline std::string in_millimetres(double metres) {
  std::ostringstream text;
  text << metres * 1e3 << " mm";
  return text.str();
}

inline std::string in_celsius(double kelvin) {
  std::ostringstream text;
  text << kelvin - 273.15 << " degC";
  return text.str();
}

}  // namespace tabmelt
