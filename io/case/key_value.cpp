#include "io/case/key_value.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "io/case/nearest.h"
#include "io/case/units.h"
#include "solver/words/printable.h"

namespace tabmelt {
namespace {

using units::UnitError;

std::string kind_of(const toml::node& node) {
  switch (node.type()) {
    case toml::node_type::table:
      return "a table";
    case toml::node_type::array:
      return "a list";
    case toml::node_type::string:
      return "a text";
    case toml::node_type::integer:
      return "a whole number";
    case toml::node_type::floating_point:
      return "a number";
    case toml::node_type::boolean:
      return "a truth value";
    default:
      return "a date or time";
  }
}

std::string shown(const toml::node& node) {
  const std::string text = printable(literal(node));
  return text.size() <= 60 ? text
                           : kind_of(node) + " of " + std::to_string(text.size()) + " characters";
}

std::string example(const std::string& unit) { return fmt::format("\"1 {}\"", unit); }

double in_range(double value, const Range& range) {
  // A bound that a user types in another unit may differ by rounding.
  const double slack = 1e-12;
  if (value < range.lowest - slack * std::abs(range.lowest) ||
      value > range.highest + slack * std::abs(range.highest))
    throw UnitError("is out of range");
  return value;
}

double quantity(const toml::node& node, const Range& range) {
  const auto text = node.value_exact<std::string>();
  if (!text)
    throw UnitError(node.is_number()
                        ? fmt::format("has no unit; write it as in {}", example(range.unit))
                        : fmt::format("is {}", kind_of(node)));
  return in_range(units::in_si(*text, range.unit), range);
}

double plain_number(const toml::node& node, const Range& range) {
  if (const auto text = node.value_exact<std::string>())
    return in_range(units::in_si(*text, "1"), range);
  const auto number = node.value<double>();
  if (!node.is_number() || !number) throw UnitError(fmt::format("is {}", kind_of(node)));
  if (!std::isfinite(*number)) throw UnitError("is not a finite number");
  return in_range(*number, range);
}

std::string chosen(const std::string& text, const std::vector<std::string>& words) {
  if (std::find(words.begin(), words.end(), text) != words.end()) return text;
  const auto meant = nearest(text, words);
  throw UnitError(meant ? fmt::format("is not known; did you mean \"{}\"?", *meant)
                        : std::string("is not known"));
}

std::vector<std::pair<double, double>> pairs(const toml::node& node, const Form& form) {
  const toml::array* list = node.as_array();
  if (!list) throw UnitError(fmt::format("is {}", kind_of(node)));
  if (list->empty()) throw UnitError("is an empty list; leave the key out instead");
  if (list->size() > form.most_pairs)
    throw UnitError(
        fmt::format("has {} pairs; at most {} are read", list->size(), form.most_pairs));
  std::vector<std::pair<double, double>> result;
  for (const toml::node& entry : *list) {
    const toml::array* pair = entry.as_array();
    if (!pair || pair->size() != 2)
      throw UnitError(fmt::format("holds an entry {} that is not a pair", shown(entry)));
    const auto half = [&](std::size_t n, const Range& range) {
      try {
        return quantity((*pair)[n], range);
      } catch (const UnitError& error) {
        throw UnitError(fmt::format("holds {}, which {}", shown((*pair)[n]), error.what()));
      }
    };
    result.emplace_back(half(0, form.range), half(1, form.second));
  }
  return result;
}

Value value_of(const toml::node& node, const Form& form) {
  Value value;
  const auto text_only = [&] {
    const auto text = node.value_exact<std::string>();
    if (!text) throw UnitError(fmt::format("is {}", kind_of(node)));
    return *text;
  };
  switch (form.kind) {
    case Kind::quantity:
      value.number = quantity(node, form.range);
      break;
    case Kind::number:
      value.number = plain_number(node, form.range);
      break;
    case Kind::count:
      if (!node.is_integer()) throw UnitError(fmt::format("is {}", kind_of(node)));
      value.number = plain_number(node, form.range);
      break;
    case Kind::choice:
      value.text = chosen(text_only(), form.words);
      break;
    case Kind::boolean:
      if (!node.is_boolean()) throw UnitError(fmt::format("is {}", kind_of(node)));
      value.flag = node.value_or(false);
      break;
    case Kind::text:
    case Kind::material:
      value.text = text_only();
      if (value.text.empty()) throw UnitError("is empty");
      if (value.text.size() > 1000) throw UnitError("is longer than 1000 characters");
      if (holds_control_characters(value.text)) throw UnitError("holds control characters");
      break;
    case Kind::pairs:
      value.pairs = pairs(node, form);
      break;
  }
  return value;
}

}  // namespace

std::optional<Value> checked_value(const Key& key, const toml::node& node, ComplaintLog& log) {
  try {
    return value_of(node, key.form);
  } catch (const UnitError& error) {
    log.add(node.source(), fmt::format("{} = {} {}; allowed is {}", key.path, shown(node),
                                       error.what(), allowed(key)));
    return std::nullopt;
  }
}

Value standard_value(const Key& key, const std::string& text) {
  try {
    switch (key.form.kind) {
      case Kind::boolean:
        return value_of(toml::value<bool>(text == "true"), key.form);
      case Kind::count:
        return value_of(toml::value<std::int64_t>(std::stoll(text)), key.form);
      case Kind::number:
        return value_of(toml::value<double>(std::stod(text)), key.form);
      default:
        return value_of(toml::value<std::string>(text), key.form);
    }
  } catch (const UnitError& error) {
    throw std::logic_error(fmt::format("default of {}: {} {}", key.path, text, error.what()));
  }
}

std::string literal(const toml::node& node) {
  if (const auto number = node.value_exact<double>())
    return std::isnan(*number) ? "nan" : fmt::format("{}", *number);  // shortest that reads back
  if (const toml::array* list = node.as_array()) {
    std::string text;
    for (const toml::node& entry : *list) text += (text.empty() ? "" : ", ") + literal(entry);
    return "[" + text + "]";
  }
  if (const toml::table* table = node.as_table()) {
    std::string text;
    for (const auto& [key, entry] : *table)
      text += (text.empty() ? "" : ", ") + quoted(std::string(key.str())) + " = " + literal(entry);
    return "{" + text + "}";
  }
  std::ostringstream text;
  text << toml::toml_formatter{node, toml::format_flags::none};
  return text.str();
}

std::string quoted(const std::string& text) { return literal(toml::value<std::string>(text)); }

std::string standard_literal(const Key& key, const std::string& text) {
  const bool bare = key.form.kind == Kind::boolean || key.form.kind == Kind::count ||
                    key.form.kind == Kind::number;
  return bare ? text : quoted(text);
}

}  // namespace tabmelt
