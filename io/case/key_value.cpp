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

double in_range(double value, double lowest, double highest) {
  // A bound that a user types in another unit may differ by rounding.
  const double slack = 1e-12;
  if (value < lowest - slack * std::abs(lowest) || value > highest + slack * std::abs(highest))
    throw UnitError("is out of range");
  return value;
}

double quantity(const toml::node& node, const std::string& unit, double lowest, double highest) {
  const auto text = node.value_exact<std::string>();
  if (!text)
    throw UnitError(node.is_number() ? fmt::format("has no unit; write it as in {}", example(unit))
                                     : fmt::format("is {}", kind_of(node)));
  return in_range(units::in_si(*text, unit), lowest, highest);
}

double plain_number(const Key& key, const toml::node& node) {
  if (const auto text = node.value_exact<std::string>())
    return in_range(units::in_si(*text, "1"), key.lowest, key.highest);
  const auto number = node.value<double>();
  if (!node.is_number() || !number) throw UnitError(fmt::format("is {}", kind_of(node)));
  if (!std::isfinite(*number)) throw UnitError("is not a finite number");
  return in_range(*number, key.lowest, key.highest);
}

std::string chosen(const Key& key, const std::string& text) {
  if (std::find(key.words.begin(), key.words.end(), text) != key.words.end()) return text;
  const auto meant = nearest(text, key.words);
  throw UnitError(meant ? fmt::format("is not known; did you mean \"{}\"?", *meant)
                        : std::string("is not known"));
}

std::vector<std::pair<double, double>> pairs(const Key& key, const toml::node& node) {
  const toml::array* list = node.as_array();
  if (!list) throw UnitError(fmt::format("is {}", kind_of(node)));
  if (list->empty()) throw UnitError("is an empty list; leave the key out instead");
  if (list->size() > key.most_pairs)
    throw UnitError(fmt::format("has {} pairs; at most {} are read", list->size(), key.most_pairs));
  std::vector<std::pair<double, double>> result;
  for (const toml::node& entry : *list) {
    const toml::array* pair = entry.as_array();
    if (!pair || pair->size() != 2)
      throw UnitError(fmt::format("holds an entry {} that is not a pair", shown(entry)));
    const auto half = [&](std::size_t n, const std::string& unit, double lowest, double highest) {
      try {
        return quantity((*pair)[n], unit, lowest, highest);
      } catch (const UnitError& error) {
        throw UnitError(fmt::format("holds {}, which {}", shown((*pair)[n]), error.what()));
      }
    };
    result.emplace_back(half(0, key.unit, key.lowest, key.highest),
                        half(1, key.second_unit, key.second_lowest, key.second_highest));
  }
  return result;
}

Value value_of(const Key& key, const toml::node& node) {
  Value value;
  const auto text_only = [&] {
    const auto text = node.value_exact<std::string>();
    if (!text) throw UnitError(fmt::format("is {}", kind_of(node)));
    return *text;
  };
  switch (key.kind) {
    case Kind::quantity:
      value.number = quantity(node, key.unit, key.lowest, key.highest);
      break;
    case Kind::number:
      value.number = plain_number(key, node);
      break;
    case Kind::count:
      if (!node.is_integer()) throw UnitError(fmt::format("is {}", kind_of(node)));
      value.number = plain_number(key, node);
      break;
    case Kind::choice:
      value.text = chosen(key, text_only());
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
      value.pairs = pairs(key, node);
      break;
  }
  return value;
}

}  // namespace

std::optional<Value> checked_value(const Key& key, const toml::node& node, ComplaintLog& log) {
  try {
    return value_of(key, node);
  } catch (const UnitError& error) {
    log.add(node.source(), fmt::format("{} = {} {}; allowed is {}", key.path, shown(node),
                                       error.what(), allowed(key)));
    return std::nullopt;
  }
}

Value standard_value(const Key& key, const std::string& text) {
  try {
    if (key.kind == Kind::quantity || key.kind == Kind::choice || key.kind == Kind::text ||
        key.kind == Kind::material)
      return value_of(key, toml::value<std::string>(text));
    if (key.kind == Kind::boolean) return value_of(key, toml::value<bool>(text == "true"));
    if (key.kind == Kind::count) return value_of(key, toml::value<std::int64_t>(std::stoll(text)));
    return value_of(key, toml::value<double>(std::stod(text)));
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
  const bool bare =
      key.kind == Kind::boolean || key.kind == Kind::count || key.kind == Kind::number;
  return bare ? text : quoted(text);
}

}  // namespace tabmelt
