// `key = value` laid over a case before it is read, so that ranges, units and complaints are those
// of the file. Any key of the case, an entry of a list by its number or name, half of a pair, or a
// constant of a material:
//
//   strip.thickness = 0.2 mm             layer.insulating disc.thickness = 0.3 mm
//   switch.pulses.1.1 = 4 ms             first pulse, its first number
//   materials.nickel-200.hardness = 1.3 GPa
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "io/case/metals/material_schema.h"
#include "io/case/read_case.h"
#include "io/case/schema.h"

namespace tabmelt {

struct Override {
  std::string key;
  std::string value;  // as in the file, quotes may be left out
};

// "key = value"; throws InputError if there is no key, no value or no sign between them.
Override parsed_override(const std::string& text);

// What a key on the command line stands for.
struct Address {
  const Key* key = nullptr;            // null for a material
  std::string table = "";              // "layer", where an entry is named
  std::string entry = "";              // number or name; empty: there is but one
  int pair = 0, half = 0;              // from 1; 0: not part of a pair
  const Property* property = nullptr;  // of a material
  std::string material = "";

  // Of the value that it names; constants of materials and halves of pairs are quantities.
  Kind kind() const;
  const Range& range() const;
  std::string unit() const { return range().unit; }
  double lowest() const { return range().lowest; }
  double highest() const { return range().highest; }
  bool is_number() const;  // false for words and truth values
  bool is_count() const { return kind() == Kind::count; }
  bool is_switch() const { return kind() == Kind::boolean; }
};

// Nothing if no key has this name. A name of a layer may be shortened to one of its words.
std::optional<Address> address_of(const std::string& key);
// The complaint about a key that is none, with the nearest known one.
std::string no_such_key(const std::string& key);

// The numbers a case uses, given or default. `full_text`: Case::full_text.
class CaseValues {
 public:
  explicit CaseValues(const std::string& full_text);
  ~CaseValues();
  // [SI]; nothing if the key has no value in this case or is no number.
  std::optional<double> of(const Address&) const;
  // true or false; nothing if the key has no value or is of another kind.
  std::optional<bool> flag(const Address&) const;
  // Names of the entries of a list; their numbers where names are not unique.
  std::vector<std::string> entries(const std::string& table) const;
  // Which entry is meant, from 1; 0 if there is no such one or the key has no list.
  int entry_number(const Address&) const;
  std::vector<std::string> materials() const;

 private:
  struct Root;
  std::unique_ptr<Root> root_;
};

// A case with overrides; later ones win. Throws InputError, where those about an override name
// `origin` as their file, and its place in the list as line.
Case read_case_text(const std::string& text, const std::filesystem::path& named,
                    const std::vector<Override>&, const std::string& origin = "--set");
Case read_case(const std::filesystem::path& file, const std::vector<Override>&);

// The text of a case with the layers that [cell] brings written out, for overrides of layers.
std::string with_layers_written_out(const std::string& text, const std::filesystem::path& named);

}  // namespace tabmelt
