#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/pictures/studies/inference_pages.h"

namespace tabmelt::pictures {

namespace {

constexpr double top = 862, bottom = 100, panel_gap = 34;
constexpr std::size_t most_panels = 8, most_chances = 8;
const TextStyle heading{.size = 20, .bold = true};

double highest(const std::vector<double>& values) {
  double most = 0;
  for (const double v : values) most = std::max(most, v);
  return most;
}

// A density over equal shares of what was believed before: flat before, wherever it is now.
void draw_belief(Page& page, const LearnPanel& p, const Box& box) {
  page.text({box.x, box.top() + 14}, p.words, {.size = 16, .bold = true, .room = box.width - 150});
  page.text(
      {box.right(), box.top() + 14}, p.middle,
      {.size = 15, .colour = palette::blue, .bold = true, .align = Align::right, .room = 145});
  page.rectangle(box, palette::plot);
  const std::size_t bars = p.after.size();
  const double most = std::max(highest(p.after), highest(p.before)) * 1.08;
  if (bars == 0 || !(most > 0)) return;
  const double width = box.width / static_cast<double>(bars);
  Polyline outline;
  for (std::size_t n = 0; n < bars; ++n) {
    const double x = box.x + width * static_cast<double>(n);
    page.rectangle({x + 1, box.y, width - 2, box.height * p.after[n] / most},
                   paler(palette::blue, 0.35));
    const double y = box.y + box.height * p.before[n] / most;
    outline.push_back({x, y});
    outline.push_back({x + width, y});
  }
  page.line(outline, {.colour = palette::ink, .width = 1.8, .dash = 6, .gap = 4});
  page.frame(box, {.colour = palette::quiet_ink, .width = 1});
  const TextStyle small{.size = 13, .colour = palette::quiet_ink};
  page.text({box.x, box.y - 12}, p.from, small);
  TextStyle right = small;
  right.align = Align::right;
  page.text({box.right(), box.y - 12}, p.to, right);
}

void draw_bar(Page& page, const Box& box, double low, double value, double high,
              const Colour& colour) {
  page.rectangle(box, palette::plot);
  page.rectangle({box.x, box.y, box.width * value, box.height}, colour);
  const double y = box.y + box.height / 2;
  page.line({{box.x + box.width * low, y}, {box.x + box.width * high, y}}, {.width = 1.6});
}

double draw_chances(Page& page, const LearnPicture& p, const Box& box) {
  page.text({box.x, box.top() - 10}, "Chance of a good weld", heading);
  page.text({box.x, box.top() - 36}, "grey: before, green: now; lines: 19 times in 20",
            {.size = 15, .colour = palette::quiet_ink});
  double y = box.top() - 68;
  for (std::size_t n = 0; n < std::min(p.chances.size(), most_chances); ++n) {
    const LearnChance& c = p.chances[n];
    page.text({box.x, y}, c.words, {.size = 15, .room = box.width});
    y -= 26;
    const double bar = box.width - 90;
    draw_bar(page, {box.x, y + 2, bar, 8}, c.before_low, c.before, c.before_high,
             paler(palette::ink, 0.6));
    draw_bar(page, {box.x, y - 10, bar, 10}, c.after_low, c.after, c.after_high,
             paler(palette::good, 0.3));
    page.text({box.right(), y},
              fmt::format("{:.0f} \u2192 {:.0f} %", 100 * c.before, 100 * c.after),
              {.size = 15, .align = Align::right});
    y -= 32;
  }
  return y - 6;
}

}  // namespace

Page learn_page(const LearnPicture& p) {
  Page page(page_width, page_height);
  draw_head_and_foot(page, p.head);
  page.text({page_margin, top - 10}, "What is now believed", heading);
  page.text({page_margin + 250, top - 10}, "dashed: before, blue: now",
            {.size = 15, .colour = palette::quiet_ink});
  const double height = (top - 60 - bottom) / 4 - panel_gap - 20, width = 430;
  for (std::size_t n = 0; n < std::min(p.panels.size(), most_panels); ++n) {
    const auto row = static_cast<double>(n / 2), column = static_cast<double>(n % 2);
    draw_belief(page, p.panels[n],
                {page_margin + column * (width + 50),
                 top - 60 - (row + 1) * (height + panel_gap + 20) + 34, width, height});
  }
  if (p.panels.empty())
    page.text({page_margin, top - 60}, "Nothing stands out: every unknown is believed as before.",
              {.size = 16});
  const Box side{1020, bottom, 540, top - bottom};
  double y = draw_chances(page, p, side);
  page.text({side.x, y}, "Next test weld", heading);
  y -= 26;
  y -= page.paragraph({side.x, y}, p.next, {.size = 17}, side.width, 70, 12) + 18;
  for (const std::string& remark : p.remarks) {
    if (y < bottom + 30) break;
    y -= page.paragraph({side.x, y}, remark, {.size = 14, .colour = palette::quiet_ink}, side.width,
                        std::min(80.0, y - bottom), 10) +
         10;
  }
  return page;
}

}  // namespace tabmelt::pictures
