#include "io/case/spreads.h"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "io/case/key_path.h"
#include "io/case/units.h"

namespace tabmelt {
namespace {

using study::Distribution;
using units::UnitError;

constexpr const char* forms =
    "write \"20 %\" or \"0.1 mm\" (uniform, as much either way), \"normal 5 %\" (standard "
    "deviation), \"log-normal 1.5\" (factor) or \"none\"";

std::pair<std::string, std::string> name_and_amount(const std::string& text) {
  for (const char* name : {"uniform", "normal", "log-normal"}) {
    const std::string start = std::string(name) + " ";
    if (text.starts_with(start)) return {name, text.substr(start.size())};
  }
  return {"uniform", text};
}

// A width in SI; temperatures spread by a difference of temperatures.
double width_of(const std::string& amount, double value, const Address& address) {
  if (amount.find('%') != std::string::npos) {
    if (address.unit() == "degC")
      throw UnitError("is a share of a temperature; give a difference, such as \"5 K\"");
    return units::in_si(amount, "1") * std::abs(value);
  }
  return units::in_si(amount, address.unit() == "degC" ? "K" : address.unit());
}

Distribution whole(const std::string& name, const std::string& amount, double value,
                   const Address& address) {
  if (name == "log-normal") return Distribution::log_normal(value, units::in_si(amount, "1"));
  const double width = width_of(amount, value, address);
  return name == "normal" ? Distribution::normal(value, width)
                          : Distribution::uniform(value - width, value + width);
}

class Gathering {
 public:
  explicit Gathering(const Case& read) : read_(read), values_(read.full_text) {}

  std::vector<UncertainKey> keys() {
    for (const Key& key : first_keys()) by_default(key.path, key.spread);
    const bool several = !values_.entries("strip").empty();
    for (const Key& key : strip_keys())
      if (!several) by_default(key.path, key.spread);
    if (several) of_entries("strip", strip_keys());
    for (const Key& key : later_keys()) by_default(key.path, key.spread);
    of_entries("layer", layer_keys());
    for (const std::string& material : values_.materials())
      for (const Property& property : material_properties())
        by_default("materials." + material + "." + property.name, property.spread);
    for (const GivenSpread& given : read_.spreads) by_case(given);
    if (!complaints_.empty()) throw InputError(std::move(complaints_));
    return std::move(found_);
  }

 private:
  void of_entries(const std::string& table, const std::vector<Key>& keys) {
    for (const Key& key : keys)
      for (const std::string& entry : values_.entries(table))
        by_default(joined_path(table, entry) + "." + name_of(key.path), key.spread);
  }

  // The same number may be named in several ways ("layer.2.thickness").
  bool same(const Address& a, const Address& b) const {
    return a.key == b.key && a.property == b.property && a.material == b.material &&
           a.table == b.table && a.pair == b.pair && a.half == b.half &&
           values_.entry_number(a) == values_.entry_number(b);
  }

  // The key of the case that this one is worked out from; empty: none.
  std::string origin_of(const std::string& key) const {
    for (const Key* other : every_key())
      if (other->gives == key)
        if (const auto address = address_of(other->path); address && values_.of(*address))
          return other->path;
    return "";
  }

  void by_default(const std::string& key, const DefaultSpread& spread) {
    if (spread.text.empty()) return;
    const auto address = address_of(key);
    const auto value = address ? values_.of(*address) : std::nullopt;
    if (!value || stated(*address) || !origin_of(key).empty()) return;
    try {
      if (const auto around = spread_around(*value, spread.text, *address))
        found_.push_back({key, *address, *value, spread.text, spread.reason, false, *around});
    } catch (const UnitError&) {
      // A value so close to the end of its range that the usual spread means nothing: certain.
    }
  }

  bool stated(const Address& address) const {
    return std::any_of(read_.spreads.begin(), read_.spreads.end(), [&](const GivenSpread& given) {
      const auto other = address_of(given.key);
      return other && same(*other, address);
    });
  }

  void by_case(const GivenSpread& given) {
    const auto address = address_of(given.key);
    const auto value = address ? values_.of(*address) : std::nullopt;
    const std::string name = "spread." + given.key;
    if (!value) return complain(given, name + ": the key has no number in this case");
    if (address->is_count()) return complain(given, name + ": a whole number has no spread");
    if (const std::string origin = origin_of(given.key); !origin.empty())
      return complain(given, name + ": follows from " + origin + ", which can spread instead");
    add(given, *address, *value);
  }

  void add(const GivenSpread& given, const Address& address, double value) {
    try {
      if (const auto around = spread_around(value, given.text, address))
        found_.push_back({given.key, address, value, given.text,
                          given.learnt.empty() ? "set in the case file" : given.learnt, true,
                          *around});
    } catch (const UnitError& error) {
      complain(given, fmt::format("spread.{} = \"{}\" {}; {}", given.key, given.text, error.what(),
                                  forms));
    }
  }

  void complain(const GivenSpread& given, const std::string& message) {
    complaints_.push_back({read_.file.string(), given.line, "", message});
  }

  const Case& read_;
  CaseValues values_;
  std::vector<UncertainKey> found_;
  std::vector<Complaint> complaints_;
};

}  // namespace

std::optional<Distribution> spread_around(double value, const std::string& text,
                                          const Address& address) {
  if (text == "none") return std::nullopt;
  const auto [name, amount] = name_and_amount(text);
  const bool relative = amount.find('%') != std::string::npos || name == "log-normal";
  if (relative && value == 0) return std::nullopt;
  try {
    return whole(name, amount, value, address).within(address.lowest(), address.highest());
  } catch (const std::invalid_argument& error) {
    throw UnitError(fmt::format("is no spread: {}", error.what()));
  }
}

std::vector<UncertainKey> uncertain_keys(const Case& read) { return Gathering(read).keys(); }

}  // namespace tabmelt
