#include "io/case/schema.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <unordered_map>

#include "io/case/units.h"

namespace tabmelt {
namespace {

void append(std::vector<Key>& list, std::vector<Key> more) {
  std::move(more.begin(), more.end(), std::back_inserter(list));
}

std::string in_range(double low, double high, const std::string& unit) {
  const bool open = high >= std::numeric_limits<double>::max();
  return open ? fmt::format("at least {}", units::in_unit(low, unit))
              : fmt::format("{} to {}", units::in_unit(low, unit), units::in_unit(high, unit));
}

}  // namespace

const std::vector<Key>& first_keys() {
  static const std::vector<Key> keys = [] {
    std::vector<Key> list = schema::arrangement_keys();
    append(list, schema::electrode_keys());
    append(list, schema::can_keys());
    return list;
  }();
  return keys;
}

const std::vector<Key>& later_keys() {
  static const std::vector<Key> keys = [] {
    std::vector<Key> list = schema::contact_keys();
    append(list, schema::pressing_keys());
    append(list, schema::source_keys());
    append(list, schema::loop_keys());
    append(list, schema::switch_keys());
    append(list, schema::charger_keys());
    append(list, schema::run_keys());
    return list;
  }();
  return keys;
}

const std::vector<KeyTable>& sections() {
  static const std::vector<KeyTable> list{
      {"", "At the top of the file, before any [table]."},
      {"cell",
       "Which cell, and which end of it. Without this table there is no cell to protect and "
       "nothing "
       "inside the can: a pure check of the computation."},
      {"arrangement", "Where the two electrodes stand."},
      {"strip",
       "The strip that is welded on: [strip], or [[strip]] once for each of several, from the tip "
       "down. Several without [cell] and [can] are welded onto each other alone."},
      {"electrode", "One electrode; both are alike."},
      {"can", "The sheet under the strips: bottom of the can, or cap."},
      {"contact.tip", "The face between electrode and top strip."},
      {"contact.faying",
       "The face between strip and can, where the weld forms; with several strips, each face below "
       "a "
       "strip."},
      {"pressing", "How the electrodes are pressed on."},
      {"source", "What delivers the current."},
      {"leads", "The two cables between source and electrodes."},
      {"joints", "Bolted and crimped joints in the loop."},
      {"switch", "What starts and stops the current."},
      {"charger", "What fills the bank again after each weld. Without this table nothing is said."},
      {"work", "How often you weld."},
      {"limits", "How hot the inside of the cell may get."},
      {"boundary", "Surroundings."},
      {"numerics", "Accuracy and length of the computation."},
      {"spread",
       "How uncertain a number is, for `tabmelt tolerance` and its like: spread.<key> = \"20 %\" "
       "(uniform, as much either way; also with a unit), \"normal 5 %\" (standard deviation), "
       "\"log-normal 1.5\" (factor of one standard deviation) or \"none\". Keys that say nothing "
       "have the spread that is explained with them, or none."},
      {"layer",
       "[[layer]], once for each layer inside the cell from the can downwards; replaces the layers "
       "that [cell] brings. `layer = []` at the top of the file leaves the inside empty."},
      {"conductor",
       "[[conductor]], once for each bus bar, solid wire or frame in the loop besides the leads."},
      {"probe", "[[probe]], once for each point whose temperature is recorded."},
  };
  return list;
}

std::vector<const Key*> every_key() {
  std::vector<const Key*> keys;
  for (const auto* list : {&first_keys(), &strip_keys(), &later_keys(), &layer_keys(),
                           &conductor_keys(), &probe_keys()})
    for (const Key& key : *list) keys.push_back(&key);
  return keys;
}

bool is_repeated(const std::string& table) {
  return table == "strip" || table == "layer" || table == "conductor" || table == "probe";
}

std::size_t most_entries(const std::string& table) { return table == "probe" ? 1000 : most_parts; }

const Key* find_key(const std::string& path) {
  static const std::unordered_map<std::string, const Key*> by_path = [] {
    std::unordered_map<std::string, const Key*> all;
    for (const Key* key : every_key()) all.emplace(key->path, key);
    return all;
  }();
  const auto found = by_path.find(path);
  return found == by_path.end() ? nullptr : found->second;
}

std::string allowed(const Key& key) {
  switch (key.kind) {
    case Kind::quantity:
      return fmt::format("a text with a unit, {}", in_range(key.lowest, key.highest, key.unit));
    case Kind::number:
      return fmt::format("a number, {}", in_range(key.lowest, key.highest, "1"));
    case Kind::count:
      return fmt::format("a whole number, {:.0f} to {:.0f}", key.lowest, key.highest);
    case Kind::choice:
      return fmt::format("one of \"{}\"", fmt::join(key.words, "\", \""));
    case Kind::boolean:
      return "true or false, without quotes";
    case Kind::text:
      return "a text in quotes";
    case Kind::material:
      return "the name of a material in quotes";
    case Kind::pairs:
      return fmt::format("a list of pairs [[\"..\", \"..\"], ...], first {}, second {}; at most {}",
                         in_range(key.lowest, key.highest, key.unit),
                         in_range(key.second_lowest, key.second_highest, key.second_unit),
                         key.most_pairs);
  }
  return "";
}

}  // namespace tabmelt
