// Gathers everything wrong with a case, each complaint with its place and the line's text.
#pragma once

#include <toml++/toml.h>

#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "io/case/complaint.h"

namespace tabmelt {

class ComplaintLog {
 public:
  // Texts are kept so that complaints can show the line they are about.
  void remember(const std::string& file, const std::string& text);
  void add(const std::string& file, int line, const std::string& message);
  // The place of a TOML node; its file is the name given to the parser.
  void add(const toml::source_region& place, const std::string& message);
  void add(const Complaint& complaint);

  bool empty() const { return list_.empty(); }
  // Nobody reads on; further complaints are only counted, and need no words.
  bool full() const { return list_.size() >= most_complaints; }
  // In the order of files as remembered, then lines. Throws InputError if there is any.
  void throw_if_any() const;

 private:
  std::vector<std::string> files_;  // in the order remembered
  std::map<std::string, std::vector<std::string>> lines_;
  static constexpr std::size_t most_complaints = 100;
  std::vector<Complaint> list_;
  std::size_t left_out_ = 0;
};

// The text of a file; throws InputError if it is missing, a folder, over `most` bytes or not text.
std::string text_of(const std::filesystem::path& file, std::uintmax_t most);

// A TOML document whose nodes know `name` as their file, remembered in the log; throws InputError
// at the first syntax error, which is as far as a document can be understood.
toml::table parsed_toml(const std::string& text, const std::string& name, ComplaintLog& log);

}  // namespace tabmelt
