#include "viz/annotations.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numeric>
#include <sstream>

#include "viz/stored_values.h"

namespace tabmelt {

namespace {
constexpr double head_room = 56;  // height for the verdict, between the title and the drawings
}

void draw_head_and_foot(Page& page, const StoredRun& run, const std::string& picture,
                        const std::string& detail) {
  const double right = page.width() - page_margin;
  const TextStyle what{.size = 24, .bold = true, .align = Align::right};
  const TextStyle more{.size = 17, .colour = palette::quiet_ink, .align = Align::right};
  page.text({right, page.height() - 40}, picture, what);
  page.text({right, page.height() - 72}, detail, more);

  const TextStyle title{.size = 28, .bold = true};
  const double taken = std::max(Page::text_width(picture, what), Page::text_width(detail, more));
  const double room = right - page_margin - taken - 40;
  const FittedText name = fitted(title_of(run), title, room, 1.2 * title.size, 18);
  for (const std::string& line : name.lines) {
    page.text({page_margin, page.height() - 40}, line, name.style);
  }
  const FittedText verdict = fitted(verdict_of(run), {.size = 16}, room, head_room, 12);
  double y = page.height() - 70;
  for (const std::string& line : verdict.lines) {
    page.text({page_margin, y}, line, verdict.style);
    y -= verdict.pitch;
  }

  const TextStyle small{.size = 13, .colour = palette::quiet_ink};
  page.line({{page_margin, 38}, {right, 38}}, {.colour = palette::rule, .width = 1});
  std::string origin = "tabmelt";
  if (!run.program_version.empty()) {
    origin += " " + run.program_version;
  }
  if (!run.path.empty()) {
    origin += "  \u00b7  " + std::filesystem::path(run.path).filename().string();
  }
  page.text({page_margin, 22}, origin, small);
  if (!run.complete) {
    page.text({page.width() / 2, 22}, "run cut short: what was stored until then",
              {.size = 14, .colour = palette::bad, .bold = true, .align = Align::centre});
  }
  page.text({right, 22}, "computed, not measured: peel a sample before welding a pack",
            {.size = 13, .colour = palette::quiet_ink, .align = Align::right});
}

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

std::vector<std::string> wrapped(const std::string& words, const TextStyle& style, double width,
                                 std::size_t most) {
  std::vector<std::string> lines;
  std::istringstream stream(words);
  std::string word, line;
  while (stream >> word) {
    const std::string longer = line.empty() ? word : line + " " + word;
    if (Page::text_width(longer, style) <= width || line.empty()) {
      line = longer;
    } else if (lines.size() + 1 == most) {
      lines.push_back(line + " \u2026");
      return lines;
    } else {
      lines.push_back(line);
      line = word;
    }
  }
  if (!line.empty()) {
    lines.push_back(line);
  }
  return lines;
}

FittedText fitted(const std::string& words, TextStyle style, double width, double height,
                  double smallest) {
  for (;; style.size -= 1) {
    const double pitch = 1.16 * style.size;
    const bool last = style.size - 1 < smallest;
    const auto most = static_cast<std::size_t>(height / pitch);
    // One line more than fits tells whether this size is small enough.
    auto lines = wrapped(words, style, width, last ? most : most + 1);
    if (last || lines.size() <= most) {
      return {std::move(lines), style, pitch};
    }
  }
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

void draw_scale_bar(Page& page, Point left_end, double longest, double page_per_mm) {
  const double length = round_length(longest / page_per_mm);
  const double right = left_end.x + length * page_per_mm;
  page.rectangle({left_end.x, left_end.y, right - left_end.x, 5}, palette::ink);
  page.text({0.5 * (left_end.x + right), left_end.y - 4}, short_number(length) + " mm",
            {.size = 16, .align = Align::centre, .level = Level::top});
}

void draw_upright_scale(Page& page, const Scale& scale, const Box& box) {
  page.text({box.x, box.top() + 18}, scale.title, {.size = 16, .bold = true});
  const double step = box.height / static_cast<double>(scale.colours.size());
  for (std::size_t k = 0; k < scale.colours.size(); ++k) {
    page.rectangle({box.x, box.y + step * static_cast<double>(k), box.width, step + 0.5},
                   scale.colours[k]);
  }
  page.frame(box, {.colour = palette::ink, .width = 1});
  constexpr double least_pitch = 14;
  const auto every = static_cast<std::size_t>(std::ceil(std::max(1.0, least_pitch / step)));
  for (std::size_t k = 0; k < scale.edges.size(); ++k) {
    const double y = box.y + step * static_cast<double>(k);
    page.line({{box.right(), y}, {box.right() + 6, y}}, {.width = 1});
    // In a low box only every second or third edge has room for its number, the hottest first.
    if ((scale.edges.size() - 1 - k) % every == 0) {
      page.text({box.right() + 11, y}, short_number(scale.edges[k]), {.size = 15});
    }
  }
}

void draw_flat_scale(Page& page, const Scale& scale, const Box& box) {
  page.text({box.x - 16, box.centre().y}, scale.title,
            {.size = 15, .bold = true, .align = Align::right});
  const double step = box.width / static_cast<double>(scale.colours.size());
  for (std::size_t k = 0; k < scale.colours.size(); ++k) {
    page.rectangle({box.x + step * static_cast<double>(k), box.y, step + 0.5, box.height},
                   scale.colours[k]);
  }
  page.frame(box, {.colour = palette::ink, .width = 1});
  for (std::size_t k = 0; k < scale.edges.size(); ++k) {
    const double x = box.x + step * static_cast<double>(k);
    page.line({{x, box.y}, {x, box.y - 5}}, {.width = 1});
    page.text({x, box.y - 9}, short_number(scale.edges[k]),
              {.size = 14, .align = Align::centre, .level = Level::top});
  }
}

double draw_table(Page& page, const std::string& title, const std::vector<Row>& rows,
                  Point top_left, double width) {
  double y = top_left.y - 10;
  const double right = top_left.x + width;
  page.text({top_left.x, y}, title, {.size = 16, .bold = true});
  y -= 17;
  page.line({{top_left.x, y}, {right, y}}, {.colour = palette::rule, .width = 1.5});
  for (const Row& row : rows) {
    y -= 16;
    page.text({top_left.x, y}, row.name, {.size = 15, .colour = palette::quiet_ink});
    page.text({right, y}, row.value, {.size = 15, .colour = row.colour, .align = Align::right});
    y -= 9;
  }
  return y;
}

}  // namespace tabmelt
