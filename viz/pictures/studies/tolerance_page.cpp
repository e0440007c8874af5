#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/pictures/studies/study_pages.h"

namespace tabmelt::pictures {

namespace {

constexpr double top = 872;
const TextStyle heading{.size = 20, .bold = true};
const TextStyle plain{.size = 16};
const TextStyle quiet{.size = 15, .colour = palette::quiet_ink};

std::string percent(double share) { return fmt::format("{:.0f} %", 100 * share); }

// The answer, large enough to be read from across a workshop.
void draw_chance(Page& page, const TolerancePicture& p, const Box& box) {
  const Colour colour = p.chance >= 0.9   ? palette::good
                        : p.chance >= 0.5 ? palette::ink
                                          : palette::bad;
  page.text({box.x, box.top() - 10}, "Chance of a good weld", heading);
  page.text({box.x, box.top() - 78}, percent(p.chance),
            {.size = 88, .colour = colour, .bold = true});
  page.text({box.x, box.top() - 148},
            fmt::format("between {} and {}, 19 times in 20", percent(p.low), percent(p.high)),
            plain);
  page.paragraph({box.x, box.top() - 168}, p.note, quiet, box.width, 60, 11);
}

void draw_verdicts(Page& page, const TolerancePicture& p, const Box& box) {
  page.text({box.x, box.top() - 10}, "What becomes of it", heading);
  const double label = 190, bar = box.width - label - 70;
  double y = box.top() - 46;
  for (const ToleranceBar& v : p.verdicts) {
    if (y < box.y) break;
    page.text({box.x, y}, v.words, {.size = 16, .room = label - 10});
    const double x = box.x + label;
    page.rectangle({x, y - 9, bar, 18}, palette::plot);
    page.rectangle({x, y - 9, bar * v.value, 18}, v.good ? palette::good : palette::vermillion);
    page.line({{x + bar * v.low, y}, {x + bar * v.high, y}}, {.width = 2});
    page.text({box.right(), y}, percent(v.value), {.size = 16, .align = Align::right});
    y -= 32;
  }
}

double draw_share(Page& page, const ToleranceShare& input, const Box& box, double y) {
  const double label = 330, bar = box.width - label - 90, x = box.x + label;
  const auto place = [&](double share) { return x + bar * std::clamp(share, 0.0, 1.0); };
  page.text({box.x, y}, input.words, {.size = 16, .room = label - 12});
  page.rectangle({x, y - 8, bar, 16}, palette::plot);
  page.rectangle({x, y - 8, place(input.value) - x, 16},
                 input.rises ? palette::blue : palette::orange);
  page.line({{place(input.value - input.deviation), y}, {place(input.value + input.deviation), y}},
            {.width = 2});
  page.text({box.right(), y}, percent(std::max(0.0, input.value)),
            {.size = 16, .align = Align::right});
  return y - 27;
}

void draw_shares(Page& page, const TolerancePicture& p, const Box& box) {
  page.text({box.x, box.top() - 10}, "What decides", heading);
  page.text({box.x, box.top() - 36}, "share of each input in the scatter of a limit's margin",
            quiet);
  double y = box.top() - 70;
  for (const ToleranceLimit& limit : p.limits) {
    if (y < box.y + 27) break;
    page.text({box.x, y}, limit.words, {.size = 16, .bold = true, .room = box.width});
    y -= 27;
    if (limit.inputs.empty()) {
      page.text({box.x, y}, "no single input stands out", quiet);
      y -= 27;
    }
    for (std::size_t n = 0; n < limit.inputs.size() && n < 7 && y >= box.y; ++n)
      y = draw_share(page, limit.inputs[n], box, y);
    y -= 10;
  }
  page.rectangle({box.x, box.y - 22, 16, 12}, palette::blue);
  page.text({box.x + 24, box.y - 16}, "more of it helps", quiet);
  page.rectangle({box.x + 190, box.y - 22, 16, 12}, palette::orange);
  page.text({box.x + 214, box.y - 16}, "more of it harms", quiet);
}

// Each key on one scale: half to twice its value.
void draw_windows(Page& page, const TolerancePicture& p, const Box& box) {
  page.text({box.x, box.top() - 10}, "How far one of them may drift, the others held", heading);
  const double label = 310, words = 190, bar = box.width - label - words;
  const auto place = [&](double ratio) {
    return box.x + label + bar * (std::log2(std::clamp(ratio, 0.5, 2.0)) + 1) / 2;
  };
  double y = box.top() - 40;
  for (const double tick : {0.5, 0.7071, 1.0, 1.4142, 2.0})
    page.text({place(tick), y}, fmt::format("\u00d7{:.2g}", tick),
              {.size = 13, .colour = palette::quiet_ink, .align = Align::centre});
  y -= 26;
  for (const ToleranceWindow& w : p.windows) {
    if (y < box.y) break;
    page.text({box.x, y}, w.words, {.size = 15, .room = label - 12});
    page.rectangle({box.x + label, y - 8, bar, 16}, palette::plot);
    page.rectangle({place(w.low), y - 8, place(w.high) - place(w.low), 16},
                   paler(palette::good, 0.45));
    if (w.spread_high > w.spread_low)
      page.line({{place(w.spread_low), y}, {place(w.spread_high), y}}, {.width = 3});
    page.line({{place(1), y - 10}, {place(1), y + 10}}, {.colour = palette::ink, .width = 1.5});
    const std::string from = w.open_low ? "< " + w.from : w.from;
    const std::string to = w.open_high ? "> " + w.to : w.to;
    page.text({box.right(), y}, from + " \u2013 " + to,
              {.size = 14, .align = Align::right, .room = words - 8});
    y -= 27;
  }
  page.rectangle({box.x, box.y - 22, 16, 12}, paler(palette::good, 0.45));
  page.text({box.x + 24, box.y - 16}, "good", quiet);
  page.line({{box.x + 90, box.y - 16}, {box.x + 120, box.y - 16}}, {.width = 3});
  page.text({box.x + 130, box.y - 16}, "where nine of ten lie", quiet);
}

}  // namespace

Page tolerance_page(const TolerancePicture& p) {
  Page page(page_width, page_height);
  draw_head_and_foot(page, p.head);
  draw_chance(page, p, {page_margin, top - 230, 460, 230});
  draw_verdicts(page, p, {560, top - 230, 480, 230});
  draw_shares(page, p, {page_margin, 90, 700, 530});
  draw_windows(page, p, {790, 90, 770, 530});
  return page;
}

}  // namespace tabmelt::pictures
