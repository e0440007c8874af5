#include "io/case/nearest.h"

#include <algorithm>
#include <cctype>

namespace tabmelt {
namespace {

std::string plain(const std::string& word) {
  std::string result;
  for (const char c : word)
    result +=
        c == '-' || c == ' ' ? '_' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return result;
}

}  // namespace

std::size_t edit_distance(const std::string& first, const std::string& second) {
  const std::string a = plain(first), b = plain(second);
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      row[j] =
          std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        row[j] = std::min(row[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, row);
  }
  return last[b.size()];
}

std::optional<std::string> nearest(const std::string& word, const std::vector<std::string>& known) {
  std::optional<std::string> best;
  if (word.size() > 100) return best;
  std::size_t least = std::max<std::size_t>(2, word.size() / 3) + 1;
  for (const std::string& candidate : known) {
    const std::size_t distance = edit_distance(word, candidate);
    // A word of two letters is within two edits of any other: something must be left in common.
    if (distance < least && distance < std::max(word.size(), candidate.size())) {
      least = distance;
      best = candidate;
    }
  }
  return best;
}

}  // namespace tabmelt
