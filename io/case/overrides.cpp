#include "io/case/overrides.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "io/case/case_reader.h"
#include "io/case/key_path.h"
#include "io/case/key_value.h"
#include "io/case/lay_over.h"
#include "io/case/learnt.h"
#include "io/case/units.h"
#include "io/case/unknown_key.h"

namespace tabmelt {
namespace {

using Parts = PathParts;

std::string joined(const Parts& parts, std::size_t from, std::size_t to) {
  return fmt::format("{}", fmt::join(parts.begin() + static_cast<std::ptrdiff_t>(from),
                                     parts.begin() + static_cast<std::ptrdiff_t>(to), "."));
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
  if (pair == 0 || half == 0 || half > 2 || !key || key->form.kind != Kind::pairs)
    return std::nullopt;
  Address address{.key = key};
  address.pair = pair;
  address.half = half;
  return address;
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

Kind Address::kind() const { return property || pair > 0 ? Kind::quantity : key->form.kind; }

const Range& Address::range() const {
  if (property) return property->range;
  return half == 2 ? key->form.second : key->form.range;
}

bool Address::is_number() const {
  return kind() == Kind::quantity || kind() == Kind::number || kind() == Kind::count;
}

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
  const std::string table = table_of(key);
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
  if (!address.is_switch()) return std::nullopt;
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

namespace {

// As the case stands, without what it takes from elsewhere.
Case read_alone(const std::string& text, const std::filesystem::path& named) {
  ComplaintLog log;
  toml::table root = parsed_toml(text, named.string(), log);
  root.erase("learnt");
  return CaseReader(root, named, log).read();
}

// The file that the case, or an override, takes what was learnt from.
std::optional<std::filesystem::path> learnt_file(toml::table& root,
                                                 const std::filesystem::path& named,
                                                 const std::vector<Override>& overrides,
                                                 ComplaintLog& log) {
  std::optional<std::string> name;
  if (const toml::node* node = root.get("learnt")) {
    name = node->value_exact<std::string>();
    if (!name) log.add(node->source(), "learnt must be the name of a file in quotes");
  }
  root.erase("learnt");
  for (const Override& one : overrides)
    if (one.key == "learnt") name = trimmed(one.value);
  if (!name || *name == "none") return std::nullopt;
  const std::filesystem::path file = *name;
  return file.is_relative() ? named.parent_path() / file : file;
}

// What was learnt about a number replaces what the case says of its spread.
void spread_as_learnt(Case& read) {
  for (const LearntValue& value : read.learnt.values) {
    if (value.spread.empty()) continue;
    std::erase_if(read.spreads, [&](const GivenSpread& s) { return s.key == value.key; });
    read.spreads.push_back({value.key, value.spread, value.line, "learnt: " + read.learnt.about});
  }
}

}  // namespace

std::string with_layers_written_out(const std::string& text, const std::filesystem::path& named) {
  ComplaintLog log;
  if (parsed_toml(text, named.string(), log).contains("layer")) return text;
  const toml::table complete = toml::parse(read_alone(text, named).full_text);
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
                    const std::vector<Override>& all, const std::string& origin) {
  require_case_size(text, named);
  ComplaintLog log;
  toml::table root = parsed_toml(text, named.string(), log);
  Learnt learnt;
  if (const auto file = learnt_file(root, named, all, log)) learnt = read_learnt(*file, log);
  std::vector<Override> overrides = all, found;
  std::erase_if(overrides, [](const Override& one) { return one.key == "learnt"; });
  for (const LearntValue& value : learnt.values) found.push_back({value.key, value.value});
  std::string whole = text;
  if (touches_layers(overrides) || touches_layers(found)) {
    whole = with_layers_written_out(text, named);
    root = parsed_toml(whole, named.string(), log);
    root.erase("learnt");
  }
  if (!found.empty()) lay_over(root, found, learnt.file, log);
  if (!overrides.empty()) lay_over(root, overrides, origin, log);
  // Keys that do not exist are told alone: the case as it stands would be read without them.
  if (!all.empty() || !learnt.file.empty()) log.throw_if_any();
  Case result = CaseReader(root, named, log).read();
  result.text = whole;
  if (!overrides.empty()) result.text += "\n# Laid over it:\n";
  for (const Override& one : overrides) result.text += "#   " + one.key + " = " + one.value + "\n";
  result.learnt = std::move(learnt);
  spread_as_learnt(result);
  return result;
}

Case read_case(const std::filesystem::path& file, const std::vector<Override>& overrides) {
  return read_case_text(case_file_text(file), file, overrides);
}

}  // namespace tabmelt
