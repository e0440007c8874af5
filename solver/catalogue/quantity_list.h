// Collects quantities of one topic after another; what does not apply is not added.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "solver/catalogue/catalogue.h"

namespace tabmelt {

class QuantityList {
 public:
  void topic(Topic topic) { topic_ = topic; }
  void add(std::string key, std::string unit, std::string words, double value) {
    list_.push_back({topic_, std::move(key), std::move(unit), std::move(words), value, {}});
  }
  void add(std::string key, std::string unit, std::string words,
           const std::optional<double>& value) {
    if (value) add(std::move(key), std::move(unit), std::move(words), *value);
  }
  void add(std::string key, std::string unit, std::string words, const Extreme& e) {
    add(std::move(key), std::move(unit), std::move(words), e.value);
    list_.back().at = Place{e.time, e.r, e.z};
  }
  void add_flag(std::string key, const std::string& words, bool value) {
    add(std::move(key), "1", words + " (1: yes)", value ? 1.0 : 0.0);
  }
  void append(std::vector<Quantity> more) {
    for (Quantity& one : more) list_.push_back(std::move(one));
  }
  std::vector<Quantity> list() && { return std::move(list_); }

 private:
  Topic topic_ = Topic::run;
  std::vector<Quantity> list_;
};

// What leads, switch, charger and cell end bear; keys bench_<...>.
std::vector<Quantity> bench_quantities(const Problem&, const BenchFigures&);

}  // namespace tabmelt
