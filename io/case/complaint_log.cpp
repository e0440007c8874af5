#include "io/case/complaint_log.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <sstream>

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

// Safe to print: no control characters, nothing outside ASCII unless the text is sound UTF-8.
std::string printable(const std::string& line, bool sound) {
  std::string result;
  for (const char c : line.substr(0, 160)) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7f)
      result += ' ';
    else
      result += byte < 0x80 || sound ? c : '?';
  }
  while (!result.empty() && result.back() == ' ') result.pop_back();
  // Do not end within a character of several bytes.
  if (line.size() > 160) {
    while (!result.empty() && (static_cast<unsigned char>(result.back()) & 0xC0) == 0x80)
      result.pop_back();
    if (!result.empty() && static_cast<unsigned char>(result.back()) >= 0xC0) result.pop_back();
    result += " ...";
  }
  return result;
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

void ComplaintLog::remember(const std::string& file, const std::string& text) {
  if (lines_.emplace(file, lines_of(text)).second) files_.push_back(file);
}

void ComplaintLog::add(const std::string& file, int line, const std::string& message) {
  Complaint complaint{file, line, "", message};
  const auto known = lines_.find(file);
  if (known != lines_.end() && line > 0 && static_cast<std::size_t>(line) <= known->second.size())
    complaint.excerpt = printable(known->second[static_cast<std::size_t>(line) - 1], true);
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
  std::string text{std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
  if (stream.bad()) refuse(file, "cannot be read to its end");
  return text;
}

toml::table parsed_toml(const std::string& text, const std::string& name, ComplaintLog& log) {
  if (text.find('\0') != std::string::npos)
    throw InputError({Complaint{name, 0, "", "holds zero bytes; this is not a text file"}});
  log.remember(name, text);
  try {
    return toml::parse(text, name);
  } catch (const toml::parse_error& error) {
    const auto line = static_cast<int>(error.source().begin.line);
    const auto lines = lines_of(text);
    Complaint complaint{name, line, "",
                        "not understood as TOML: " + std::string(error.description())};
    const bool sound = complaint.message.find("utf-8") == std::string::npos &&
                       complaint.message.find("UTF-8") == std::string::npos;
    complaint.message = printable(complaint.message, sound);
    if (line > 0 && static_cast<std::size_t>(line) <= lines.size())
      complaint.excerpt = printable(lines[static_cast<std::size_t>(line) - 1], sound);
    throw InputError({complaint});
  }
}

}  // namespace tabmelt
