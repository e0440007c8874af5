#include "io/case/complaint_log.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "io/case/key_depth.h"
#include "solver/words/printable.h"

namespace tabmelt {
namespace {

std::string joined(const std::vector<Complaint>& list) {
  std::string text;
  for (const Complaint& c : list) {
    text += c.line > 0 ? fmt::format("{}, line {}: {}", c.file, c.line, c.message)
                       : fmt::format("{}: {}", c.file, c.message);
    text += '\n';
    if (!c.excerpt.empty()) text += "    " + c.excerpt + '\n';
  }
  if (!text.empty()) text.pop_back();
  return text;
}

// What is shown of a line, in one line.
std::string excerpt_of(const std::string& line) {
  constexpr std::size_t longest = 160;
  std::string shown = printable(line.substr(0, longest));
  if (line.size() > longest) {
    // The cut may have gone through a character.
    while (!shown.empty() && shown.back() == '?') shown.pop_back();
    shown += " ...";
  }
  while (!shown.empty() && shown.back() == ' ') shown.pop_back();
  return shown;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

[[noreturn]] void refuse(const std::filesystem::path& file, const std::string& message) {
  throw InputError({Complaint{file.string(), 0, "", message}});
}

}  // namespace

InputError::InputError(std::vector<Complaint> list)
    : std::runtime_error(joined(list)), complaints_(std::move(list)) {}

void refuse_input(const std::string& message) { throw InputError({{"", 0, "", message}}); }

void ComplaintLog::remember(const std::string& file, const std::string& text) {
  if (lines_.emplace(file, lines_of(text)).second) files_.push_back(file);
}

void ComplaintLog::add(const std::string& file, int line, const std::string& message) {
  Complaint complaint{file, line, "", message};
  const auto known = lines_.find(file);
  if (known != lines_.end() && line > 0 && static_cast<std::size_t>(line) <= known->second.size())
    complaint.excerpt = excerpt_of(known->second[static_cast<std::size_t>(line) - 1]);
  add(complaint);
}

void ComplaintLog::add(const Complaint& complaint) {
  if (full())
    ++left_out_;
  else
    list_.push_back(complaint);
}

void ComplaintLog::add(const toml::source_region& place, const std::string& message) {
  add(place.path ? *place.path : std::string(), static_cast<int>(place.begin.line), message);
}

void ComplaintLog::throw_if_any() const {
  if (list_.empty()) return;
  std::vector<Complaint> sorted = list_;
  const auto rank = [&](const Complaint& c) {
    return std::find(files_.begin(), files_.end(), c.file) - files_.begin();
  };
  std::stable_sort(sorted.begin(), sorted.end(), [&](const Complaint& a, const Complaint& b) {
    return std::pair(rank(a), a.line) < std::pair(rank(b), b.line);
  });
  if (left_out_ > 0)
    sorted.push_back({sorted.back().file, 0, "", fmt::format("and {} complaints more", left_out_)});
  throw InputError(std::move(sorted));
}

std::string text_of(const std::filesystem::path& file, std::uintmax_t most) {
  std::error_code error;
  const auto status = std::filesystem::status(file, error);
  if (!std::filesystem::exists(status)) refuse(file, "there is no such file");
  if (std::filesystem::is_directory(status))
    refuse(file, "this is a folder; a case is a text file, usually named <something>.toml");
  if (!std::filesystem::is_regular_file(status)) refuse(file, "this is not an ordinary file");
  const std::uintmax_t size = std::filesystem::file_size(file, error);
  if (error) refuse(file, "cannot be read: " + error.message());
  if (size > most) refuse(file, fmt::format("has {} bytes; allowed are at most {}", size, most));
  std::ifstream stream(file, std::ios::binary);
  if (!stream) refuse(file, "cannot be opened for reading");
  // What the file holds may be more than its size said.
  std::string text(std::min(most, size + 4096), '\0');
  stream.read(text.data(), static_cast<std::streamsize>(text.size()));
  const auto length = static_cast<std::size_t>(stream.gcount());
  if (stream.bad()) refuse(file, "cannot be read to its end");
  if (length == text.size() && stream.peek() != std::ifstream::traits_type::eof())
    refuse(file, "is longer than its size says");
  text.resize(length);
  return text;
}

toml::table parsed_toml(const std::string& text, const std::string& name, ComplaintLog& log) {
  if (text.find('\0') != std::string::npos)
    refuse(name, "holds zero bytes; this is not a text file");
  log.remember(name, text);
  if (const int line = line_of_too_deep_key(text)) {
    log.add(name, line, fmt::format("a key of more than {} parts", most_key_parts));
    log.throw_if_any();
  }
  try {
    return toml::parse(text, name);
  } catch (const toml::parse_error& error) {
    // Told alone: nothing behind it can be understood.
    ComplaintLog alone;
    alone.remember(name, text);
    alone.add(name, static_cast<int>(error.source().begin.line),
              printable("not understood as TOML: " + std::string(error.description())));
    alone.throw_if_any();
    throw;
  }
}

}  // namespace tabmelt
