#include "io/store/findings_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace tabmelt {
namespace {

// Without what parts columns and lines.
std::string plain(std::string words) {
  std::replace_if(
      words.begin(), words.end(), [](char c) { return c == '\t' || c == '\n'; }, ' ');
  return words;
}

std::vector<std::string> parted(const std::string& text, char at) {
  std::vector<std::string> parts(1);
  for (const char c : text) {
    if (c == at) {
      parts.emplace_back();
    } else {
      parts.back() += c;
    }
  }
  return parts;
}

bool is_number(const std::string& text, double& value) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc() && end == text.data() + text.size() && std::isfinite(value);
}

}  // namespace

std::string findings_text(const Verdict& verdict) {
  std::string text;
  for (const Finding& f : verdict.findings) {
    text += fmt::format("{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\n", key(f.outcome),
                        words(f.outcome), plain(f.quantity), f.value, f.limit, plain(f.unit),
                        f.margin, f.time, f.r, f.z, f.holds ? 1 : 0);
  }
  return text;
}

std::vector<StoredFinding> findings_in(const std::string& text) {
  constexpr std::size_t most = 100, columns = 11;
  std::vector<StoredFinding> findings;
  for (const std::string& line : parted(text, '\n')) {
    const std::vector<std::string> at = parted(line, '\t');
    if (at.size() != columns || findings.size() == most) continue;
    StoredFinding f{.key = at[0], .words = at[1], .quantity = at[2], .unit = at[5]};
    if (is_number(at[3], f.value) && is_number(at[4], f.limit) && is_number(at[6], f.margin) &&
        is_number(at[7], f.time) && is_number(at[8], f.r) && is_number(at[9], f.z)) {
      f.holds = at[10] == "1";
      findings.push_back(std::move(f));
    }
  }
  return findings;
}

}  // namespace tabmelt
