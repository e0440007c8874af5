#include "io/study/expression.h"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <muParser.h>

#include "io/case/read_case.h"

namespace tabmelt {

struct Expression::Parser {
  mu::Parser parser;
  std::vector<double> values;
};

Expression::Expression(const std::string& text, const std::vector<std::string>& names)
    : parser_(std::make_unique<Parser>()) {
  parser_->values.assign(names.size(), 1.0);
  try {
    parser_->parser.DefineNameChars(
        "0123456789_.abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ");
    for (std::size_t n = 0; n < names.size(); ++n)
      parser_->parser.DefineVar(names[n], &parser_->values[n]);
    parser_->parser.SetExpr(text);
    parser_->parser.Eval();
  } catch (const mu::Parser::exception_type& error) {
    throw InputError({{"--least", 0, text,
                       fmt::format("{}; known are {}", error.GetMsg(), fmt::join(names, ", "))}});
  }
}

Expression::~Expression() = default;

double Expression::at(const std::vector<double>& values) const {
  std::copy(values.begin(), values.end(), parser_->values.begin());
  return parser_->parser.Eval();
}

}  // namespace tabmelt
