#include "io/case/schema.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <unordered_map>

#include "io/case/units.h"

namespace tabmelt {
namespace {

std::string in_words(const Range& range) {
  const std::string low = units::in_unit(range.lowest, range.unit);
  const bool open = range.highest >= std::numeric_limits<double>::max();
  return open ? "at least " + low : low + " to " + units::in_unit(range.highest, range.unit);
}

}  // namespace

std::vector<Key> schema::joined(std::initializer_list<std::vector<Key>> lists) {
  std::vector<Key> all;
  for (const std::vector<Key>& list : lists) all.insert(all.end(), list.begin(), list.end());
  return all;
}

const std::vector<Key>& first_keys() {
  static const std::vector<Key> keys =
      schema::joined({schema::arrangement_keys(), schema::electrode_keys(), schema::can_keys()});
  return keys;
}

const std::vector<Key>& strip_keys() {
  static const std::vector<Key> keys = schema::strip_keys();
  return keys;
}

const std::vector<Key>& later_keys() {
  static const std::vector<Key> keys = schema::joined(
      {schema::contact_keys(), schema::pressing_keys(), schema::source_keys(), schema::loop_keys(),
       schema::switch_keys(), schema::charger_keys(), schema::run_keys()});
  return keys;
}

const std::vector<Key>& layer_keys() {
  static const std::vector<Key> keys = schema::layer_keys();
  return keys;
}

const std::vector<Key>& probe_keys() {
  static const std::vector<Key> keys = schema::probe_keys();
  return keys;
}

const std::vector<Key>& conductor_keys() {
  static const std::vector<Key> keys = schema::conductor_keys();
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
  const Form& form = key.form;
  switch (form.kind) {
    case Kind::quantity:
      return "a text with a unit, " + in_words(form.range);
    case Kind::number:
      return "a number, " + in_words(form.range);
    case Kind::count:
      return fmt::format("a whole number, {:.0f} to {:.0f}", form.range.lowest, form.range.highest);
    case Kind::choice:
      return fmt::format("one of \"{}\"", fmt::join(form.words, "\", \""));
    case Kind::boolean:
      return "true or false, without quotes";
    case Kind::text:
      return "a text in quotes";
    case Kind::material:
      return "the name of a material in quotes";
    case Kind::pairs:
      return fmt::format("a list of pairs [[\"..\", \"..\"], ...], first {}, second {}; at most {}",
                         in_words(form.range), in_words(form.second), form.most_pairs);
  }
  return "";
}

}  // namespace tabmelt
