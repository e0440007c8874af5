#include "io/case/learnt.h"

#include <fmt/format.h>

#include <sstream>

#include "io/case/key_value.h"
#include "io/case/overrides.h"

namespace tabmelt {
namespace {

constexpr std::uintmax_t largest_file = 1'000'000;  // [bytes]

int line_at(const toml::node& node) { return static_cast<int>(node.source().begin.line); }

void read_entry(const toml::table& entry, Learnt& into, ComplaintLog& log) {
  LearntValue value;
  value.line = line_at(entry);
  for (const auto& [name, node] : entry) {
    const auto text = node.value_exact<std::string>();
    const std::string key(name.str());
    std::string* place = key == "key"      ? &value.key
                         : key == "value"  ? &value.value
                         : key == "spread" ? &value.spread
                                           : nullptr;
    if (!place)
      log.add(node.source(),
              fmt::format("[[learnt]]: unknown {}; there are key, value and spread", key));
    else if (!text)
      log.add(node.source(), fmt::format("[[learnt]]: {} must be a text", key));
    else
      *place = *text;
  }
  if (value.key.empty() || value.value.empty())
    return log.add(entry.source(), "[[learnt]] needs key and value");
  if (!address_of(value.key)) return log.add(entry.source(), no_such_key(value.key));
  into.values.push_back(std::move(value));
}

}  // namespace

Learnt read_learnt(const std::filesystem::path& file, ComplaintLog& log) {
  Learnt learnt;
  learnt.file = file.string();
  const toml::table root = parsed_toml(text_of(file, largest_file), learnt.file, log);
  learnt.about = root["about"].value_or(std::string());
  for (const auto& [name, node] : root)
    if (name.str() != "about" && name.str() != "learnt")
      log.add(name.source(), fmt::format("unknown key {}; this file has about and [[learnt]]",
                                         std::string(name.str())));
  const toml::array* list = root["learnt"].as_array();
  if (!list) {
    log.add(learnt.file, 0, "holds no [[learnt]]: key, value and spread of each number");
    return learnt;
  }
  for (const toml::node& node : *list) {
    if (const toml::table* entry = node.as_table())
      read_entry(*entry, learnt, log);
    else
      log.add(node.source(), "learnt must be a list of tables: write [[learnt]]");
  }
  return learnt;
}

std::string learnt_text(const Learnt& learnt) {
  std::string text = "about = " + quoted(learnt.about) + "\n";
  for (const LearntValue& value : learnt.values) {
    text +=
        fmt::format("\n[[learnt]]\nkey = {}\nvalue = {}\n", quoted(value.key), quoted(value.value));
    if (!value.spread.empty()) text += "spread = " + quoted(value.spread) + "\n";
  }
  return text;
}

std::string taking_learnt(const std::string& case_text, const std::string& name) {
  ComplaintLog log;
  const toml::table root = parsed_toml(case_text, "the case", log);
  const toml::node* old = root.get("learnt");
  std::string text = "learnt = " + quoted(name) + "\n";
  std::istringstream lines(case_text);
  int number = 0;
  for (std::string line; std::getline(lines, line);)
    if (++number < (old ? line_at(*old) : 0) || !old ||
        number > static_cast<int>(old->source().end.line))
      text += line + "\n";
  return text;
}

}  // namespace tabmelt
