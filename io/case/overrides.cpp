#include "io/case/overrides.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>
#include <sstream>

#include "io/case/case_reader.h"
#include "io/case/key_value.h"
#include "io/case/units.h"
#include "io/case/unknown_key.h"

namespace tabmelt {
namespace {

using Parts = std::vector<std::string>;

Parts parts_of(const std::string& path) {
  Parts parts;
  std::istringstream stream(path);
  for (std::string part; std::getline(stream, part, '.');) parts.push_back(part);
  return parts;
}

std::string joined(const Parts& parts, std::size_t from, std::size_t to) {
  return fmt::format("{}", fmt::join(parts.begin() + static_cast<std::ptrdiff_t>(from),
                                     parts.begin() + static_cast<std::ptrdiff_t>(to), "."));
}

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

// 0 if it is no whole number from 1.
int ordinal(const std::string& text) {
  int number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  return error == std::errc() && end == text.data() + text.size() && number > 0 ? number : 0;
}

std::optional<Address> entry_address(const Parts& parts) {
  // Table, entry, name: the entry may hold dots itself ("layer.0.2 mm disc.thickness").
  for (std::size_t table = 1; table + 1 < parts.size(); ++table) {
    const Key* key = find_key(joined(parts, 0, table) + "." + parts.back());
    if (!key) continue;
    Address address{.key = key};
    address.table = joined(parts, 0, table);
    address.entry = joined(parts, table, parts.size() - 1);
    return address;
  }
  return std::nullopt;
}

std::optional<Address> material_address(const Parts& parts) {
  if (parts.size() < 3 || parts.front() != "materials") return std::nullopt;
  for (const Property& property : material_properties()) {
    if (property.name != parts.back() || property.shape != Shape::constant) continue;
    Address address;
    address.property = &property;
    address.material = joined(parts, 1, parts.size() - 1);
    return address;
  }
  return std::nullopt;
}

std::optional<Address> pair_address(const Parts& parts) {
  if (parts.size() < 3) return std::nullopt;
  const int pair = ordinal(parts[parts.size() - 2]), half = ordinal(parts.back());
  const Key* key = find_key(joined(parts, 0, parts.size() - 2));
  if (pair == 0 || half == 0 || half > 2 || !key || key->kind != Kind::pairs) return std::nullopt;
  Address address{.key = key};
  address.pair = pair;
  address.half = half;
  return address;
}

// The literal that a file would have, from what was typed.
std::string literal_of(const Address& address, const std::string& typed) {
  const bool is_quoted = typed.size() >= 2 && (typed.front() == '"' || typed.front() == '\'') &&
                         typed.front() == typed.back();
  if (is_quoted) return quoted(typed.substr(1, typed.size() - 2));
  const bool bare = address.key && address.pair == 0 &&
                    (address.key->kind == Kind::number || address.key->kind == Kind::count ||
                     address.key->kind == Kind::boolean || address.key->kind == Kind::pairs);
  if (!bare) return quoted(typed);
  try {
    const toml::table understood = toml::parse("value = " + typed);
    return understood.size() == 1 ? typed : quoted(typed);
  } catch (const toml::parse_error&) {
    return quoted(typed);  // "20 %", or something the reader will complain about
  }
}

std::vector<std::string> entry_names(const toml::array& list) {
  std::vector<std::string> names;
  for (const toml::node& node : list) {
    const toml::table* table = node.as_table();
    names.push_back(table ? (*table)["name"].value_or(std::string()) : std::string());
  }
  return names;
}

bool has_word(const std::string& name, const std::string& word) {
  const std::string spaced = " " + name + " ";
  return spaced.find(" " + word + " ") != std::string::npos;
}

// By number, by whole name, or by a word that only one name has.
std::optional<std::size_t> entry_in(const toml::array& list, const std::string& entry) {
  if (const int number = ordinal(entry); number > 0 && number <= static_cast<int>(list.size()))
    return static_cast<std::size_t>(number - 1);
  const std::vector<std::string> names = entry_names(list);
  std::optional<std::size_t> found;
  for (std::size_t n = 0; n < names.size(); ++n)
    if (names[n] == entry) return n;
  for (std::size_t n = 0; n < names.size(); ++n) {
    if (!has_word(names[n], entry)) continue;
    if (found) return std::nullopt;
    found = n;
  }
  return found;
}

// Lays one override over the parsed case.
class Layer {
 public:
  Layer(toml::table& root, ComplaintLog& log) : root_(root), log_(log) {}

  void put(const Override& override, const Address& address, toml::node& value) {
    override_ = &override;
    place_ = value.source();
    if (address.property) return put_property(address, value);
    Parts path = parts_of(address.key->path);
    const std::string name = path.back();
    path.pop_back();
    toml::table* table = address.table.empty() ? below(root_, path) : entry_table(address, path);
    if (!table) return;
    if (address.pair > 0)
      put_half(*table, name, address, value);
    else
      table->insert_or_assign(name, std::move(value));
  }

 private:
  void complain(const std::string& message) { log_.add(place_, override_->key + ": " + message); }

  toml::table* below(toml::table& from, const Parts& path) {
    toml::table* table = &from;
    for (const std::string& part : path) {
      toml::node* node = table->get(part);
      if (!node) node = &table->insert(part, toml::table{}).first->second;
      if (const toml::array* list = node->as_array();
          list && list->size() == 1 && list->is_homogeneous<toml::table>())
        node = node->as_array()->get(0);
      if (node->is_array()) {
        complain(fmt::format("there are several {}; name one by its number or name", part));
        return nullptr;
      }
      table = node->as_table();
      if (!table) return nullptr;  // the reader complains about the file
    }
    return table;
  }

  toml::table* entry_table(const Address& address, const Parts& path) {
    const toml::node* node = root_.at_path(address.table).node();
    if (!node || node->is_table()) {
      const bool may_be_one = !is_repeated(address.table) || address.table == "strip";
      if (address.entry == "1" && may_be_one) return below(root_, path);
      complain(node ? fmt::format("there is only one [{}]", address.table)
                    : fmt::format("the case has no [[{}]]", address.table));
      return nullptr;
    }
    toml::array* list = root_.at_path(address.table).as_array();
    if (!list) return nullptr;
    const auto found = entry_in(*list, address.entry);
    toml::table* table = found ? list->get(*found)->as_table() : nullptr;
    if (!table)
      complain(fmt::format("no single [[{}]] is meant by \"{}\"; there are 1 to {}: {}",
                           address.table, address.entry, list->size(),
                           fmt::join(entry_names(*list), ", ")));
    return table;
  }

  void put_half(toml::table& table, const std::string& name, const Address& address,
                toml::node& value) {
    toml::array* rows = table[name].as_array();
    const std::size_t row = static_cast<std::size_t>(address.pair - 1);
    toml::array* pair = rows && row < rows->size() ? rows->get(row)->as_array() : nullptr;
    if (!pair || pair->size() != 2)
      return complain(
          fmt::format("the case has no pair {} in {}", address.pair, address.key->path));
    pair->replace(pair->cbegin() + (address.half - 1), std::move(value));
  }

  void put_property(const Address& address, toml::node& value) {
    toml::table* materials = below(root_, {"materials"});
    if (!materials) return;
    toml::table* own = below(*materials, {address.material});
    if (!own) return;
    // A material that the case does not bring itself: the shipped one, changed.
    if (own->empty()) own->insert("base", address.material);
    own->insert_or_assign(address.property->name, std::move(value));
  }

  toml::table& root_;
  ComplaintLog& log_;
  const Override* override_ = nullptr;
  toml::source_region place_;
};

// Values that know their place in the list, so that complaints do.
toml::table parsed_values(const std::vector<Override>& overrides,
                          const std::vector<std::optional<Address>>& addresses,
                          const std::string& origin) {
  std::string text;
  for (std::size_t n = 0; n < overrides.size(); ++n)
    text += fmt::format("v{} = {}\n", n,
                        addresses[n] ? literal_of(*addresses[n], overrides[n].value) : "0");
  return toml::parse(text, origin);
}

void lay_over(toml::table& root, const std::vector<Override>& overrides, const std::string& origin,
              ComplaintLog& log) {
  std::string shown;
  std::vector<std::optional<Address>> addresses;
  for (const Override& one : overrides) {
    shown += one.key + " = " + one.value + "\n";
    addresses.push_back(address_of(one.key));
  }
  log.remember(origin, shown);
  toml::table values = parsed_values(overrides, addresses, origin);
  Layer layer(root, log);
  for (std::size_t n = 0; n < overrides.size(); ++n) {
    toml::node& value = *values.get(fmt::format("v{}", n));
    if (addresses[n])
      layer.put(overrides[n], *addresses[n], value);
    else
      log.add(value.source(), no_such_key(overrides[n].key));
  }
}

bool touches_layers(const std::vector<Override>& overrides) {
  return std::any_of(overrides.begin(), overrides.end(),
                     [](const Override& one) { return one.key.starts_with("layer."); });
}

std::optional<std::string> text_at(const toml::table& root, const Address& address) {
  if (address.property) {
    const auto node = root["materials"][address.material][address.property->name];
    if (const auto plain = node.value<std::string>()) return plain;
    return node["value"].value<std::string>();
  }
  const Parts path = parts_of(address.key->path);
  const toml::node* node = &root;
  for (const std::string& part : path) {
    const toml::table* table = node->as_table();
    node = table ? table->get(part) : nullptr;
    if (!node) return std::nullopt;
    const toml::array* list = node->as_array();
    if (!list || part == path.back()) continue;
    const std::string wanted = address.entry.empty() ? "1" : address.entry;
    if (address.entry.empty() && list->size() != 1) return std::nullopt;
    const auto found = entry_in(*list, wanted);
    if (!found) return std::nullopt;
    node = list->get(*found);
  }
  if (address.pair > 0) {
    const toml::array* rows = node->as_array();
    const std::size_t row = static_cast<std::size_t>(address.pair - 1);
    const toml::array* pair = rows && row < rows->size() ? rows->get(row)->as_array() : nullptr;
    if (!pair) return std::nullopt;
    node = pair->get(static_cast<std::size_t>(address.half - 1));
  }
  if (const auto text = node->value_exact<std::string>()) return text;
  if (!node->is_number() && !node->is_boolean()) return std::nullopt;
  return literal(*node);
}

}  // namespace

std::string Address::unit() const {
  if (property) return property->unit;
  if (half == 2) return key->second_unit;
  return key->unit.empty() ? "1" : key->unit;
}

double Address::lowest() const {
  if (property) return property->lowest;
  return half == 2 ? key->second_lowest : key->lowest;
}

double Address::highest() const {
  if (property) return property->highest;
  return half == 2 ? key->second_highest : key->highest;
}

bool Address::is_number() const {
  return property || pair > 0 || key->kind == Kind::quantity || key->kind == Kind::number ||
         key->kind == Kind::count;
}

bool Address::is_count() const { return key && key->kind == Kind::count; }

Override parsed_override(const std::string& text) {
  const auto sign = text.find('=');
  const std::string key = trimmed(text.substr(0, sign));
  const std::string value = sign == std::string::npos ? "" : trimmed(text.substr(sign + 1));
  if (key.empty() || value.empty())
    throw InputError({{"--set", 0, "",
                       fmt::format("\"{}\" is not of the form key=value, such as "
                                   "strip.thickness=\"0.2 mm\"",
                                   text.substr(0, 200))}});
  if (value.find('\n') != std::string::npos)
    throw InputError({{"--set", 0, "", fmt::format("the value of {} has several lines", key)}});
  return {key, value};
}

std::optional<Address> address_of(const std::string& key) {
  const Parts parts = parts_of(key);
  if (parts.size() > 20) return std::nullopt;
  if (const Key* plain = find_key(key)) {
    Address address{.key = plain};
    if (const std::string table = key.substr(0, key.find('.'));
        table != "strip" && is_repeated(table))
      address.table = table;
    return address;
  }
  if (auto material = material_address(parts)) return material;
  if (auto pair = pair_address(parts)) return pair;
  return entry_address(parts);
}

std::string no_such_key(const std::string& key) {
  const auto dot = key.rfind('.');
  const std::string table = dot == std::string::npos ? "" : key.substr(0, dot);
  const bool known = std::any_of(sections().begin(), sections().end(),
                                 [&](const KeyTable& section) { return section.path == table; });
  return unknown_key(key, known ? table : "");
}

struct CaseValues::Root {
  toml::table table;
};

CaseValues::CaseValues(const std::string& full_text)
    : root_(std::make_unique<Root>(Root{toml::parse(full_text)})) {}

CaseValues::~CaseValues() = default;

std::optional<double> CaseValues::of(const Address& address) const {
  if (!address.is_number()) return std::nullopt;
  const auto text = text_at(root_->table, address);
  if (!text) return std::nullopt;
  try {
    return units::in_si(*text, address.unit());
  } catch (const units::UnitError&) {
    return std::nullopt;
  }
}

std::optional<bool> CaseValues::flag(const Address& address) const {
  if (!address.key || address.key->kind != Kind::boolean) return std::nullopt;
  const auto text = text_at(root_->table, address);
  return text ? std::optional(*text == "true") : std::nullopt;
}

std::vector<std::string> CaseValues::entries(const std::string& table) const {
  const toml::array* list = root_->table[table].as_array();
  if (!list) return {};
  std::vector<std::string> names = entry_names(*list);
  for (std::size_t n = 0; n < names.size(); ++n)
    if (names[n].empty() || std::count(names.begin(), names.end(), names[n]) != 1)
      names[n] = std::to_string(n + 1);
  return names;
}

int CaseValues::entry_number(const Address& address) const {
  if (address.table.empty() || address.entry.empty()) return 0;
  const toml::array* list = root_->table[address.table].as_array();
  const auto found = list ? entry_in(*list, address.entry) : std::nullopt;
  return found ? static_cast<int>(*found) + 1 : 0;
}

std::vector<std::string> CaseValues::materials() const {
  std::vector<std::string> names;
  if (const toml::table* all = root_->table["materials"].as_table())
    for (const auto& [name, node] : *all) names.emplace_back(name.str());
  return names;
}

std::string with_layers_written_out(const std::string& text, const std::filesystem::path& named) {
  ComplaintLog log;
  if (parsed_toml(text, named.string(), log).contains("layer")) return text;
  const toml::table complete = toml::parse(tabmelt::read_case_text(text, named).full_text);
  const toml::array* layers = complete["layer"].as_array();
  std::string result = text + "\n";
  for (std::size_t n = 0; layers && n < layers->size(); ++n) {
    result += "\n[[layer]]\n";
    for (const auto& [name, node] : *layers->get(n)->as_table())
      result += std::string(name.str()) + " = " + literal(node) + "\n";
  }
  return result;
}

Case read_case_text(const std::string& text, const std::filesystem::path& named,
                    const std::vector<Override>& overrides, const std::string& origin) {
  if (overrides.empty()) return tabmelt::read_case_text(text, named);
  require_case_size(text, named);
  ComplaintLog log;
  const std::string whole = touches_layers(overrides) ? with_layers_written_out(text, named) : text;
  toml::table root = parsed_toml(whole, named.string(), log);
  lay_over(root, overrides, origin, log);
  // Keys that do not exist are told alone: the case as it stands would be read without them.
  log.throw_if_any();
  Case result = CaseReader(root, named, log).read();
  result.text = whole + "\n# Laid over it:\n";
  for (const Override& one : overrides) result.text += "#   " + one.key + " = " + one.value + "\n";
  return result;
}

Case read_case(const std::filesystem::path& file, const std::vector<Override>& overrides) {
  return read_case_text(case_file_text(file), file, overrides);
}

}  // namespace tabmelt
