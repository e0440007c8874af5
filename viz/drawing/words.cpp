#include "viz/drawing/words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tabmelt::drawing {

std::vector<double> spread(const std::vector<double>& wanted, double gap, double low, double high) {
  const std::size_t count = wanted.size();
  if (count == 0) {
    return {};
  }
  if (count > 1) {
    gap = std::min(gap, (high - low) / static_cast<double>(count - 1));
  }
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return wanted[a] < wanted[b]; });
  // Neighbours that are too close form a block centred on the mean of what its members want.
  struct Block {
    double sum = 0;  // of wanted position minus offset inside the block
    std::size_t size = 0;
    double start = 0;
  };
  std::vector<Block> blocks;
  const auto place = [&](Block& block) {
    const double length = gap * static_cast<double>(block.size - 1);
    block.start =
        std::clamp(block.sum / static_cast<double>(block.size), low, std::max(low, high - length));
  };
  for (const std::size_t n : order) {
    blocks.push_back({wanted[n], 1, 0});
    place(blocks.back());
    while (blocks.size() > 1) {
      Block& last = blocks.back();
      Block& before = blocks[blocks.size() - 2];
      const double offset = gap * static_cast<double>(before.size);
      if (before.start + offset <= last.start) {
        break;
      }
      before.sum += last.sum - offset * static_cast<double>(last.size);
      before.size += last.size;
      blocks.pop_back();
      place(blocks.back());
    }
  }
  std::vector<double> placed(count);
  std::size_t next = 0;
  for (const Block& block : blocks) {
    for (std::size_t k = 0; k < block.size; ++k) {
      placed[order[next++]] = block.start + gap * static_cast<double>(k);
    }
  }
  return placed;
}

double round_length(double limit) {
  const double power = std::pow(10.0, std::floor(std::log10(limit)));
  for (const double factor : {5.0, 2.0}) {
    if (factor * power <= limit * (1 + 1e-9)) {
      return factor * power;
    }
  }
  return power;
}

std::string short_number(double value) {
  if (value == 0 || !std::isfinite(value)) {
    return value == 0 ? "0" : "\u2013";
  }
  const int before_point = static_cast<int>(std::floor(std::log10(std::abs(value)))) + 1;
  const int decimals = std::clamp(3 - before_point, 0, 9);
  std::string digits = fmt::format("{:.{}f}", value, decimals);
  if (digits.find('.') != std::string::npos) {
    digits.erase(digits.find_last_not_of('0') + 1);
    if (digits.back() == '.') {
      digits.pop_back();
    }
  }
  return digits == "-0" ? "0" : digits;
}

std::string time_words(double seconds) {
  const double size = std::abs(seconds);
  if (size >= 1) {
    return short_number(seconds) + " s";
  }
  if (size >= 0.9995e-4 || size == 0) {
    return short_number(seconds * 1e3) + " ms";
  }
  return short_number(seconds * 1e6) + " \u00b5s";
}

}  // namespace tabmelt::drawing
