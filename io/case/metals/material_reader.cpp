#include "io/case/metals/material_reader.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "io/case/metals/material_schema.h"
#include "io/case/nearest.h"
#include "io/case/units.h"

namespace tabmelt {
namespace {

using units::UnitError;

// A linear law is kept as two points this far apart, beyond any temperature a weld reaches.
constexpr double linear_from = 200, linear_to = 6000;  // [K]
constexpr double linear_must_hold_to = 4000;           // [K]

class PropertyReader {
 public:
  PropertyReader(const std::string& material, ComplaintLog& log) : material_(material), log_(log) {}

  bool read(const Property& property, const toml::node& node, Material& into) {
    property_ = &property;
    sound_ = true;
    switch (property.shape) {
      case Shape::constant:
        read_constant(node, into);
        break;
      case Shape::curve:
        read_curve(node, into);
        break;
      case Shape::group:
        read_group(node, into);
        break;
      case Shape::list_of_groups:
        read_groups(node, into);
        break;
    }
    return sound_;
  }

 private:
  void complain(const toml::node& node, const std::string& message) {
    sound_ = false;
    log_.add(node.source(), fmt::format("materials.{}.{}{}{}", material_, property_->name,
                                        message.starts_with('.') ? "" : " ", message));
  }

  // A number in SI within the range, or a complaint and nothing.
  std::optional<double> number(const toml::node& node, const Range& range,
                               const std::string& unit_of_plain = "") {
    const std::string& unit = range.unit;
    double value = 0;
    std::string shown;
    try {
      if (const auto text = node.value_exact<std::string>()) {
        shown = "\"" + *text + "\"";
        value = units::in_si(*text, unit);
      } else if (const auto plain = node.value<double>(); plain && node.is_number()) {
        shown = fmt::format("{}", *plain);
        if (unit != "1" && unit_of_plain.empty())
          throw UnitError(fmt::format("has no unit; write it as in \"1 {}\"", unit));
        value = units::in_si(*plain, unit_of_plain, unit);
      } else {
        complain(node, fmt::format("must be a text with a unit as in \"1 {}\"", unit));
        return std::nullopt;
      }
    } catch (const UnitError& error) {
      complain(node, fmt::format("= {} {}", shown, error.what()));
      return std::nullopt;
    }
    if (value < range.lowest || value > range.highest) {
      complain(node, fmt::format("= {} is out of range; allowed {} to {}", shown,
                                 units::in_unit(range.lowest, unit),
                                 units::in_unit(range.highest, unit)));
      return std::nullopt;
    }
    return value;
  }

  std::optional<double> number(const toml::node& node) {
    return number(node, property_->range, own_unit_);
  }

  // Members of a table that are known, plus source and checked; complains about others.
  void known_only(const toml::table& table, std::vector<std::string> names) {
    names.insert(names.end(), {"source", "checked"});
    for (const auto& [key, node] : table) {
      const std::string word(key.str());
      if (std::find(names.begin(), names.end(), word) != names.end()) continue;
      const auto meant = nearest(word, names);
      complain(node, fmt::format("has no key \"{}\"; {}", word,
                                 meant ? "did you mean \"" + *meant + "\"?"
                                       : fmt::format("known are {}", fmt::join(names, ", "))));
    }
    if (const toml::node* source = table.get("source"); source && !source->is_string())
      complain(*source, ".source must be a text in quotes");
    if (const toml::node* checked = table.get("checked"); checked && !checked->is_boolean())
      complain(*checked, ".checked must be true or false");
  }

  void record(const toml::node& node, double from, double to, Material& into) {
    std::string source = "set in the case file";
    if (const toml::table* table = node.as_table()) {
      if (const auto text = (*table)["source"].value<std::string>()) source = *text;
      if (const auto checked = (*table)["checked"].value<bool>(); checked && !*checked)
        source += " (not checked against the original)";
    }
    into.sources.push_back({property_->name, source, from, to});
  }

  void take_unit(const toml::table& table) {
    own_unit_.clear();
    if (const toml::node* unit = table.get("unit")) {
      const auto text = unit->value_exact<std::string>();
      if (!text) {
        complain(*unit, ".unit must be a text in quotes");
      } else {
        try {
          units::in_si(1.0, *text, property_->range.unit);
          own_unit_ = *text;
        } catch (const UnitError& error) {
          complain(*unit, fmt::format(".unit = \"{}\" {}", *text, error.what()));
        }
      }
    }
  }

  void read_constant(const toml::node& node, Material& into) {
    own_unit_.clear();
    const toml::node* value = &node;
    if (const toml::table* table = node.as_table()) {
      known_only(*table, {"value", "unit"});
      take_unit(*table);
      value = table->get("value");
      if (!value) return complain(node, "needs `value`");
    }
    if (const auto v = number(*value); v && sound_) {
      property_->set(into, *v);
      record(node, 293.15, 293.15, into);
    }
  }

  void read_curve(const toml::node& node, Material& into) {
    own_unit_.clear();
    Curve curve;
    const toml::table* table = node.as_table();
    if (!table) {
      if (const auto v = number(node)) curve = Curve::constant(*v);
    } else {
      known_only(*table,
                 {"value", "unit", "points", "temperature_coefficient", "reference_temperature"});
      take_unit(*table);
      const toml::node* points = table->get("points");
      const toml::node* value = table->get("value");
      if (static_cast<bool>(points) == static_cast<bool>(value))
        return complain(node, "needs either `value` or `points`");
      if (points)
        curve = from_points(*points);
      else
        curve = linear(*table, *value);
    }
    if (!sound_ || curve.empty()) return;
    record(node, curve.lowest_temperature(), curve.highest_temperature(), into);
    property_->set_curve(into, std::move(curve));
  }

  Curve from_points(const toml::node& node) {
    Curve curve;
    const toml::array* list = node.as_array();
    if (!list || list->empty()) {
      complain(node, ".points must be a list [[T, value], ...] with T in kelvin");
      return {};
    }
    for (const toml::node& point : *list) {
      const toml::array* pair = point.as_array();
      if (!pair || pair->size() != 2) {
        complain(point, ".points must hold pairs [T, value] with T in kelvin");
        return {};
      }
      const auto T = number((*pair)[0], {"K", 1, 5e4}, "K");
      const auto value = number((*pair)[1]);
      if (!T || !value) continue;
      if (!curve.empty() && *T <= curve.temperature.back())
        complain(point,
                 fmt::format("has points whose temperatures do not increase: {} K after {} K", *T,
                             curve.temperature.back()));
      curve.temperature.push_back(*T);
      curve.value.push_back(*value);
    }
    return curve;
  }

  Curve linear(const toml::table& table, const toml::node& value) {
    const toml::node* coefficient = table.get("temperature_coefficient");
    const toml::node* reference = table.get("reference_temperature");
    const auto v = number(value);
    if (!coefficient && !reference) return v ? Curve::constant(*v) : Curve{};
    if (!coefficient || !reference) {
      complain(value, "needs temperature_coefficient and reference_temperature together");
      return {};
    }
    const auto a = number(*coefficient, {"1/K", -1, 1});
    const auto T0 = number(*reference, {"degC", 1, 5e4});
    if (!v || !a || !T0) return {};
    if (*a == 0) return Curve::constant(*v);
    const auto law = [&](double T) { return *v * (1 + *a * (T - *T0)); };
    // The law must stay above zero between the two points that stand for it.
    const double zero = *T0 - 1 / *a;
    const double from = *a > 0 ? std::max(linear_from, *T0 - 0.95 * (*T0 - zero)) : linear_from;
    const double to = *a < 0 ? std::min(linear_to, *T0 + 0.95 * (zero - *T0)) : linear_to;
    if (to < linear_must_hold_to) {
      complain(
          *coefficient,
          fmt::format("falls to zero at {:.0f} K; a linear law must hold to {:.0f} K, use points",
                      zero, linear_must_hold_to));
      return {};
    }
    return Curve{{from, to}, {law(from), law(to)}};
  }

  std::optional<std::vector<double>> members_of(const toml::table& table) {
    std::vector<std::string> names;
    for (const GroupMember& member : property_->members) names.push_back(member.name);
    known_only(table, names);
    std::vector<double> values;
    for (const GroupMember& member : property_->members) {
      const toml::node* node = table.get(member.name);
      if (!node) {
        complain(table, fmt::format("needs `{}`", member.name));
        continue;
      }
      // Temperatures of a transition are absolute, in kelvin or degC.
      Range range = member.range;
      if (range.unit == "K") range.unit = "degC";
      if (const auto v = number(*node, range)) values.push_back(*v);
    }
    if (!sound_ || values.size() != property_->members.size()) return std::nullopt;
    return values;
  }

  void read_group(const toml::node& node, Material& into) {
    const toml::table* table = node.as_table();
    if (!table) return complain(node, "must be a table");
    const auto values = members_of(*table);
    if (!values) return;
    if (property_->name == "melting" && (*values)[1] < (*values)[0])
      return complain(node, "has a liquidus below its solidus");
    if (property_->name == "transformation" && (*values)[1] <= (*values)[0])
      return complain(node, "has `to` at or below `from`");
    property_->set_group(into, *values);
    const double to = property_->members.size() > 2 ? (*values)[1] : (*values)[0];
    record(node, (*values)[0], to, into);
  }

  void read_groups(const toml::node& node, Material& into) {
    if (node.is_table()) return read_group(node, into);
    const toml::array* list = node.as_array();
    if (!list) return complain(node, "must be a table, or a list of tables [[..]]");
    for (const toml::node& entry : *list) read_group(entry, into);
  }

  std::string material_;
  ComplaintLog& log_;
  const Property* property_ = nullptr;
  std::string own_unit_;
  bool sound_ = true;
};

}  // namespace

void check_property_names(const std::string& name, const toml::table& table, ComplaintLog& log) {
  std::vector<std::string> known{"description", "base", "plating"};
  for (const Property& property : material_properties()) known.push_back(property.name);
  for (const auto& [key, node] : table) {
    const std::string word(key.str());
    if (std::find(known.begin(), known.end(), word) != known.end()) continue;
    const auto meant = nearest(word, known);
    log.add(key.source(), fmt::format("material \"{}\" has no property \"{}\"; {}", name, word,
                                      meant ? "did you mean \"" + *meant + "\"?"
                                            : fmt::format("known are {}", fmt::join(known, ", "))));
  }
  for (const char* text : {"description", "base"})
    if (const toml::node* node = table.get(text); node && !node->is_string())
      log.add(node->source(), fmt::format("materials.{}.{} must be a text in quotes", name, text));
}

std::shared_ptr<const Material> read_material(const std::string& name, const PropertyNodes& nodes,
                                              const toml::source_region& place, ComplaintLog& log) {
  auto material = std::make_shared<Material>();
  material->name = name;
  if (const auto text = nodes.find("description"); text != nodes.end())
    material->description = text->second->value_or(std::string());
  PropertyReader reader(name, log);
  bool sound = true;
  for (const Property& property : material_properties()) {
    const auto found = nodes.find(property.name);
    if (found != nodes.end()) {
      sound = reader.read(property, *found->second, *material) && sound;
    } else if (property.required) {
      log.add(place, fmt::format("material \"{}\" lacks {}, which every material needs (e.g. "
                                 "{} = \"1 {}\")",
                                 name, property.name, property.name, property.range.unit));
      sound = false;
    }
  }
  if (material->melting && material->boiling &&
      material->boiling->temperature <= material->melting->liquidus) {
    log.add(place, fmt::format("material \"{}\" boils below its liquidus", name));
    sound = false;
  }
  return sound ? material : nullptr;
}

}  // namespace tabmelt
