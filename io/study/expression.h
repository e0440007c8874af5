// What a design makes small: an expression of keys, each in its natural unit, and of quantities of
// the run in SI, such as "3*source.parallel + source.charge_voltage" or "energy". Read by muParser.
#pragma once

#include <memory>
#include <string>
#include <vector>

namespace tabmelt {

class Expression {
 public:
  // Throws InputError with what is wrong and the names that are known.
  Expression(const std::string& text, const std::vector<std::string>& names);
  ~Expression();
  // A number for each name.
  double at(const std::vector<double>& values) const;

 private:
  struct Parser;
  std::unique_ptr<Parser> parser_;
};

}  // namespace tabmelt
