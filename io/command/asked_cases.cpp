#include "io/command/asked_cases.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <map>

#include "io/command/say.h"
#include "solver/cost.h"

namespace tabmelt::command {
namespace {

namespace fs = std::filesystem;

// A case is typed by a person; anything longer than this is not one.
constexpr std::size_t longest_input = 1'000'000;  // [bytes]

std::string standard_input() {
  std::string text(longest_input + 1, '\0');
  std::cin.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(std::cin.gcount()));
  if (text.size() > longest_input) {
    throw InputError({{"standard input", 0, "", "more than 1 MB; this is not a case file"}});
  }
  return text;
}

AskedCase read_argument(const std::string& argument, const std::vector<Override>& overrides) {
  if (argument == "-") {
    return {"standard-input", read_case_text(standard_input(), "standard input", overrides)};
  }
  fs::path file = argument;
  std::error_code ignored;
  if (fs::is_directory(file, ignored)) {
    file /= "case.toml";
    if (!fs::exists(file, ignored)) {
      throw InputError({{argument, 0, "", "this folder holds no case.toml"}});
    }
  }
  const bool named_by_folder = file.filename() == "case.toml";
  const fs::path whole = fs::absolute(file).lexically_normal();
  std::string name =
      named_by_folder ? whole.parent_path().filename().string() : file.stem().string();
  // "..toml" must not stand for the folder above, nor ".toml" for a hidden one.
  name.erase(0, name.find_first_not_of('.'));
  return {name.empty() ? "case" : name, read_case(file, overrides)};
}

}  // namespace

AskedCases read_what_can_be(const std::vector<std::string>& arguments,
                            const std::vector<std::string>& settings) {
  std::vector<Override> overrides;
  for (const std::string& one : settings) overrides.push_back(parsed_override(one));
  AskedCases cases;
  std::map<std::string, std::string> first_with_name;
  for (const std::string& argument : arguments) {
    try {
      AskedCase next = read_argument(argument, overrides);
      std::vector<Complaint> too_large;
      for (const std::string& one : cost_complaints(next.asked.problem))
        too_large.push_back({next.asked.file.string(), 0, "", one});
      if (!too_large.empty()) throw InputError(std::move(too_large));
      const auto [earlier, is_new] = first_with_name.emplace(next.name, argument);
      if (is_new) {
        cases.good.push_back(std::move(next));
      } else {
        cases.refused.push_back(
            {argument,
             {{argument, 0, "",
               fmt::format("has the same name \"{}\" as {}; their results would share a folder",
                           next.name, earlier->second)}}});
      }
    } catch (const InputError& error) {
      cases.refused.push_back({argument, error.complaints()});
    }
  }
  for (const AskedCase& next : cases.good)
    for (const std::string& notice : next.asked.notices)
      say(stderr, fmt::format("{}: note: {}\n", next.name, notice));
  return cases;
}

std::vector<AskedCase> read_cases(const std::vector<std::string>& arguments,
                                  const std::vector<std::string>& settings) {
  AskedCases cases = read_what_can_be(arguments, settings);
  std::vector<Complaint> complaints;
  for (const RefusedCase& refused : cases.refused)
    complaints.insert(complaints.end(), refused.complaints.begin(), refused.complaints.end());
  if (!complaints.empty()) throw InputError(std::move(complaints));
  return std::move(cases.good);
}

}  // namespace tabmelt::command
