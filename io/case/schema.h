// Every key of a case file, once: what it means, what is allowed, what it is if left out, and
// which value of the problem it sets. The reader, the checks, the list of defaults, the complete
// case text and the explanations all come from this list.
#pragma once

#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "io/case/draft.h"

namespace tabmelt {

enum class Kind {
  quantity,  // text with a unit
  number,    // plain number
  count,     // whole number
  choice,    // one of some words
  boolean,   // true or false
  text,      // any text
  material,  // name of a material
  pairs,     // list of pairs of quantities
};

// A number with its unit and what is allowed.
struct Range {
  std::string unit = "1";  // natural unit, in which ranges are printed
  double lowest = 0;       // [SI], ends included
  double highest = std::numeric_limits<double>::max();
};

// What a value may look like.
struct Form {
  Kind kind = Kind::text;
  Range range = {};                     // numbers; the first half of pairs
  Range second = {};                    // pairs
  std::size_t most_pairs = 0;           // pairs
  std::vector<std::string> words = {};  // choice
};

// A value after checking.
struct Value {
  int count() const { return static_cast<int>(number); }

  double number = 0;  // quantity in SI, number or count
  bool flag = false;  // boolean
  std::string text;   // choice, text, or name of the material
  MaterialPtr material;
  std::vector<std::pair<double, double>> pairs;  // SI
};

// A default: the text a user would have typed (without quotes), and why.
struct Standard {
  std::string value;
  std::string reason;
};

// How a number usually spreads around its value, as spread.<key> would say it (io/case/spreads.h),
// and why so much; empty: certain.
struct DefaultSpread {
  std::string text = "";
  std::string reason = "";
};

// Whether a key has a meaning in a case, and when it has, in words.
struct Condition {
  std::function<bool(const Draft&)> holds = nullptr;  // null: always
  std::string words = "";
};

struct Key {
  std::string path;  // "electrode.tip_diameter"
  Form form = {};
  std::string meaning = "";  // one sentence

  bool required = false;   // no default, or `rule` may find none
  Standard standard = {};  // default that never changes; empty: see rule
  DefaultSpread spread = {};
  // Another key that is worked out from this one where it is given. A case may not state both, so
  // this one spreads in its place.
  std::string gives = "";
  // Default that depends on the rest of the case (keys further up the list are known); nothing:
  // left unset.
  std::function<std::optional<Standard>(const Draft&)> rule = nullptr;
  std::string rule_in_words = "";
  Condition applies = {};

  std::function<void(Draft&, const Value&)> set = nullptr;
};

// Keys in the order in which they are read: those of arrangement, electrode and can, those of
// [strip] or each [[strip]], and the rest. Those of [[layer]], [[conductor]] and [[probe]] may
// occur any number of times too. Keys of a list set its last entry.
const std::vector<Key>& first_keys();
const std::vector<Key>& strip_keys();
const std::vector<Key>& later_keys();
const std::vector<Key>& layer_keys();
const std::vector<Key>& probe_keys();
const std::vector<Key>& conductor_keys();
// All lists together.
std::vector<const Key*> every_key();
// Whether a table may occur any number of times: [[layer]]. A single [strip] stands for a list of
// one.
bool is_repeated(const std::string& table);
// How many of them a case may have.
std::size_t most_entries(const std::string& repeated_table);

// One sentence for each table of a case file, in the order in which they are explained.
struct KeyTable {
  std::string path;  // "contact.tip"; empty: the top of the file
  std::string meaning;
};
const std::vector<KeyTable>& sections();

const Key* find_key(const std::string& path);  // in all lists; null if unknown

// "allowed 0.1 mm to 20 mm", "one of flat, domed", ...
std::string allowed(const Key& key);

namespace schema {
std::vector<Key> joined(std::initializer_list<std::vector<Key>> lists);

// Forms as the lists of keys write them.
inline Form quantity(const std::string& unit, double lowest, double highest) {
  return {Kind::quantity, {unit, lowest, highest}};
}
inline Form number(double lowest, double highest) { return {Kind::number, {"1", lowest, highest}}; }
inline Form count(double lowest, double highest) { return {Kind::count, {"1", lowest, highest}}; }
inline Form pairs(const Range& first, const Range& second, std::size_t most = 1000) {
  return {Kind::pairs, first, second, most};
}
inline Form choice(std::vector<std::string> words) {
  return {.kind = Kind::choice, .words = std::move(words)};
}

// [ohm m^2] between this strip and the sheet below.
double strip_film(const MaterialPtr& strip);

// The parts of the list, each in a file of its own.
std::vector<Key> arrangement_keys();  // title, cell, arrangement
std::vector<Key> electrode_keys();
std::vector<Key> can_keys();
std::vector<Key> strip_keys();
std::vector<Key> contact_keys();
std::vector<Key> source_keys();
std::vector<Key> esr_keys();   // part of source_keys()
std::vector<Key> loop_keys();  // leads, joints
std::vector<Key> switch_keys();
std::vector<Key> charger_keys();  // charger, work
std::vector<Key> pressing_keys();
std::vector<Key> run_keys();  // limits, boundary, numerics
std::vector<Key> layer_keys();
std::vector<Key> probe_keys();
std::vector<Key> conductor_keys();
}  // namespace schema

}  // namespace tabmelt
