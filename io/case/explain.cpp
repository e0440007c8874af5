#include "io/case/explain.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cctype>
#include <sstream>
#include <vector>

#include "io/case/key_path.h"
#include "io/case/metals/material_schema.h"
#include "io/case/nearest.h"
#include "io/case/overrides.h"
#include "io/case/schema.h"
#include "io/case/units.h"
#include "solver/words/glossary.h"

namespace tabmelt {
namespace {

constexpr std::size_t page_width = 98;

const std::string materials_table = "materials.<name>";

std::string wrapped(const std::string& text, const std::string& indent) {
  std::string result, line = indent;
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    if (line.size() > indent.size() && line.size() + 1 + word.size() > page_width) {
      result += line + '\n';
      line = indent + "  ";
    }
    line += (line.size() > indent.size() && line.back() != ' ' ? " " : "") + word;
  }
  return result + line + '\n';
}

std::string spread_words(const DefaultSpread& spread) {
  if (spread.text.empty()) return "";
  return wrapped(fmt::format("spread: {} ({})", spread.text, spread.reason), "    ");
}

std::string words(const Key& key) {
  std::string text = key.path + '\n' + wrapped(key.meaning, "    ");
  text += wrapped("allowed: " + allowed(key), "    ");
  if (!key.applies.words.empty()) text += wrapped("only if: " + key.applies.words, "    ");
  if (!key.standard.value.empty())
    text +=
        wrapped(fmt::format("default: {} ({})", key.standard.value, key.standard.reason), "    ");
  else if (!key.rule_in_words.empty())
    text += wrapped("default: " + key.rule_in_words, "    ");
  else if (key.required)
    text += "    required\n";
  return text + spread_words(key.spread);
}

std::string words(const Property& p) {
  std::string text = materials_table + "." + p.name + '\n' + wrapped(p.meaning, "    ");
  if (p.members.empty()) {
    const std::string form =
        p.shape == Shape::curve ? "a constant, a linear law or a table of points" : "a constant";
    text += wrapped(
        fmt::format("allowed: {}, {} to {}", form, units::in_unit(p.range.lowest, p.range.unit),
                    units::in_unit(p.range.highest, p.range.unit)),
        "    ");
  } else {
    std::vector<std::string> members;
    for (const GroupMember& m : p.members)
      members.push_back(fmt::format("{} [{}]", m.name, m.range.unit));
    text += wrapped(fmt::format("a table with {}", fmt::join(members, ", ")), "    ");
  }
  text += p.required ? "    required\n" : wrapped("if left out: " + p.if_missing, "    ");
  return text + spread_words(p.spread);
}

std::string heading(const KeyTable& section) {
  const bool repeated = is_repeated(section.path);
  const std::string title = section.path.empty()      ? "Top of the file"
                            : section.path == "strip" ? std::string("[strip] or [[strip]]")
                            : repeated                ? "[[" + section.path + "]]"
                                                      : "[" + section.path + "]";
  return title + '\n' + wrapped(section.meaning, "  ");
}

std::string section_in_words(const KeyTable& section) {
  std::string text = heading(section);
  for (const Key* key : every_key())
    if (table_of(key->path) == section.path) text += '\n' + words(*key);
  return text;
}

std::string materials_in_words() {
  std::string text = "[" + materials_table + "]\n";
  text += wrapped(
      "A material of your own, or one of the shipped ones changed: base = \"nickel-200\" takes "
      "everything from that material except what stands here. The same lines in a file "
      "materials/<name>.toml beside the case serve several cases.",
      "  ");
  text +=
      "\n"
      "  [materials.my-strip]\n"
      "  density = \"8900 kg/m3\"                      # a constant\n"
      "  specific_heat = \"445 J/kg/K\"\n"
      "  thermal_conductivity = \"90 W/m/K\"\n"
      "  [materials.my-strip.resistivity]            # a linear law, straight on at any "
      "temperature\n"
      "  value = \"7e-8 ohm m\"\n"
      "  temperature_coefficient = \"0.006 /K\"\n"
      "  reference_temperature = \"20 degC\"\n"
      "  [materials.my-strip.hardness_ratio]         # a table: kelvin, value in `unit`\n"
      "  unit = \"1\"\n"
      "  points = [[293.15, 1.0], [800, 0.6], [1700, 0.01]]\n"
      "  source = \"where the numbers come from\"      # optional, with every property\n"
      "  [materials.my-strip.melting]\n"
      "  solidus = \"1708 K\"\n"
      "  liquidus = \"1719 K\"\n"
      "  latent_heat = \"298 kJ/kg\"\n"
      "\n"
      "  [materials.my-plated-strip]                 # a skin on a sheet, both sides together\n"
      "  base = \"copper\"\n"
      "  plating = { material = \"nickel-200\", thickness = \"5 um\", sheet = \"0.10 mm\" }\n";
  for (const Property& p : material_properties()) text += '\n' + words(p);
  return text;
}

std::string words(const Term& term) {
  std::string text = term.word + '\n' + wrapped(term.meaning, "    ");
  if (!term.also.empty())
    text += wrapped(fmt::format("also: {}", fmt::join(term.also, ", ")), "    ");
  return text;
}

std::string glossary_in_words() {
  std::string text = "Words of verdicts and reports\n";
  for (const Term& term : glossary()) text += '\n' + words(term);
  return text;
}

constexpr const char* footnote = "† not checked against the publication\n";

std::string with_footnote(std::string text) {
  return text.find("†") == std::string::npos ? text : text + '\n' + footnote;
}

const char* introduction =
    "A case is a TOML file. Every quantity is a text with its unit, in any unit of its kind:\n"
    "\"0.15 mm\", \"4.7 mF\", \"16 mm2\", \"3 mohm\", \"25 N\", \"30 deg\", \"120 degC\",\n"
    "\"1e5 W/m2/K\" or \"1e5 W/(m2 K)\". Only plain numbers (counts, ratios) stand without "
    "quotes.\n"
    "Everything has a default except what is marked as required; the report lists the defaults\n"
    "that were used.\n"
    "\n"
    "z = 0 is the face between strip and can; up: strips, electrode; down: can, inside of the "
    "cell.\n"
    "\n"
    "A pure check of the computation leaves [cell] out and names everything that matters: nothing\n"
    "lies inside the can then, and leads, joints and switch add nothing unless they are given.\n"
    "\n"
    "  [electrode]\n"
    "  tip_diameter = \"1.5 mm\"\n"
    "  taper_angle = \"0 deg\"                # a plain rod\n"
    "  [strip]\n"
    "  rim_radius = \"4 mm\"                  # grounded there; the sheet ends there\n"
    "  [can]\n"
    "  thickness = \"0.3 mm\"\n"
    "  rim_radius = \"4 mm\"\n"
    "  [contact.tip]\n"
    "  law = \"fixed\"\n"
    "  area_resistance = \"2e-9 ohm m2\"\n"
    "  area_conductance = \"1e5 W/m2/K\"\n"
    "  [contact.faying]\n"
    "  law = \"fixed\"\n"
    "  area_resistance = \"8e-9 ohm m2\"\n"
    "  area_conductance = \"5e4 W/m2/K\"\n"
    "  [source]\n"
    "  kind = \"exponential current\"\n"
    "  peak = \"600 A\"\n"
    "  time_constant = \"1.5 ms\"\n"
    "  [numerics]\n"
    "  end_time = \"5 ms\"\n"
    "  [[probe]]\n"
    "  name = \"strip at the can\"\n"
    "  part = \"strip\"\n"
    "  z = \"0 mm\"\n";

std::string without_blanks(std::string text) {
  std::erase_if(text, [](char c) { return std::isspace(static_cast<unsigned char>(c)) != 0; });
  return text;
}

std::string without_brackets(std::string text) {
  std::erase_if(text, [](char c) { return c == '[' || c == ']'; });
  return trimmed(text);
}

// Tables, keys and their last names.
std::vector<std::string> explained_keys() {
  std::vector<std::string> all;
  for (const KeyTable& section : sections())
    if (!section.path.empty()) all.push_back(section.path);
  for (const Key* key : every_key()) all.push_back(key->path);
  return all;
}

}  // namespace

std::string explain_all() {
  std::string text = introduction;
  for (const KeyTable& section : sections()) text += '\n' + section_in_words(section);
  return with_footnote(text + '\n' + materials_in_words() + '\n' + glossary_in_words());
}

namespace {

// All keys and properties that a word may stand for; empty if there are none.
std::string keys_of(const std::string& key) {
  if (const Key* found = find_key(key)) return words(*found);
  std::string text;
  for (const KeyTable& section : sections())
    if (!section.path.empty() && (section.path == key || section.path.starts_with(key + ".")))
      text += (text.empty() ? "" : "\n") + section_in_words(section);
  if (key == "materials" || key == "material" || key == materials_table)
    text += (text.empty() ? "" : "\n") + materials_in_words();
  if (!text.empty()) return text;
  // A bare name, or a property of any material.
  for (const Key* one : every_key())
    if (name_of(one->path) == key) text += (text.empty() ? "" : "\n") + words(*one);
  for (const Property& p : material_properties())
    if (p.name == key || (key.starts_with("materials.") && p.name == name_of(key)))
      text += (text.empty() ? "" : "\n") + words(p);
  return text;
}

}  // namespace

std::string explain(const std::string& asked) {
  const std::string key = without_brackets(asked);
  if (key.empty()) return explain_all();
  const std::string bare = without_blanks(key);
  std::string text;
  if (const Term* term = find_term(key)) text = words(*term);
  if (const std::string keys = keys_of(bare); !keys.empty())
    text += (text.empty() ? "" : "\n") + keys;
  if (!text.empty()) return with_footnote(text);
  // A misspelt word of the glossary, or a misspelt key.
  std::vector<std::string> terms;
  for (const Term& term : glossary()) terms.push_back(term.word);
  const auto meant = nearest(key, terms);
  if (meant && table_of(bare).empty() && !nearest(bare, explained_keys()))
    return wrapped(fmt::format("unknown word {}; did you mean \"{}\"?", key, *meant), "");
  return wrapped(no_such_key(bare), "");
}

std::vector<std::string> explained_words() {
  std::vector<std::string> all = explained_keys();
  for (const Term& term : glossary()) {
    std::string word = term.word.substr(0, term.word.find(" ("));
    std::replace(word.begin(), word.end(), ' ', '_');
    all.push_back(word);
  }
  return all;
}

std::string template_case() {
  return R"(# A usual weld. Every value is a text with its unit; what is left out has a default.
# `tabmelt explain` describes all keys, `tabmelt explain strip` those of one table.
title = "0.15 mm nickel strip on an 18650 cell"

[cell]
size = "18650"
end = "negative bottom"        # or "positive cap"

[strip]
material = "nickel-200"        # or "nickel-plated-steel", "copper", ...
thickness = "0.15 mm"
slit = false                   # true: a slit keeps the current from returning through the strip

[pressing]
force = "30 N"                 # on each electrode

[source]                       # a car battery behind transistors; or "capacitor bank", ...
kind = "battery"
open_circuit_voltage = "12.6 V"
internal_resistance = "6 mohm"

[switch]
pulses = [["6 ms", "0 ms"]]    # on, off
)";
}

}  // namespace tabmelt
