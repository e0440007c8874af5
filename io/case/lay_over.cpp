#include "io/case/lay_over.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>
#include <sstream>

#include "io/case/key_value.h"
#include "io/case/metals/material_schema.h"
#include "io/case/schema.h"

namespace tabmelt {

PathParts parts_of(const std::string& path) {
  PathParts parts;
  std::istringstream stream(path);
  for (std::string part; std::getline(stream, part, '.');) parts.push_back(part);
  return parts;
}

int ordinal(const std::string& text) {
  int number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  return error == std::errc() && end == text.data() + text.size() && number > 0 ? number : 0;
}

namespace {

bool has_word(const std::string& name, const std::string& word) {
  const std::string spaced = " " + name + " ";
  return spaced.find(" " + word + " ") != std::string::npos;
}

}  // namespace

std::vector<std::string> entry_names(const toml::array& list) {
  std::vector<std::string> names;
  for (const toml::node& node : list) {
    const toml::table* table = node.as_table();
    names.push_back(table ? (*table)["name"].value_or(std::string()) : std::string());
  }
  return names;
}

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

namespace {

// The literal that a file would have, from what was typed.
std::string literal_of(const Address& address, const std::string& typed) {
  const bool is_quoted = typed.size() >= 2 && (typed.front() == '"' || typed.front() == '\'') &&
                         typed.front() == typed.back();
  if (is_quoted) return quoted(typed.substr(1, typed.size() - 2));
  const Kind kind = address.kind();
  const bool bare =
      kind == Kind::number || kind == Kind::count || kind == Kind::boolean || kind == Kind::pairs;
  if (!bare) return quoted(typed);
  try {
    const toml::table understood = toml::parse("value = " + typed);
    return understood.size() == 1 ? typed : quoted(typed);
  } catch (const toml::parse_error&) {
    return quoted(typed);  // "20 %", or something the reader will complain about
  }
}

// Lays one override over the parsed case.
class Layer {
 public:
  Layer(toml::table& root, ComplaintLog& log) : root_(root), log_(log) {}

  void put(const Override& override, const Address& address, toml::node& value) {
    override_ = &override;
    place_ = value.source();
    if (address.property) return put_property(address, value);
    PathParts path = parts_of(address.key->path);
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

  toml::table* below(toml::table& from, const PathParts& path) {
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

  toml::table* entry_table(const Address& address, const PathParts& path) {
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

}  // namespace

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

}  // namespace tabmelt
