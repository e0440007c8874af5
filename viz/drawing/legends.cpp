#include "viz/drawing/legends.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

#include "viz/drawing/words.h"

namespace tabmelt::drawing {

void draw_scale_bar(Page& page, Point left_end, double longest, double page_per_mm) {
  const double length = round_length(longest / page_per_mm);
  const double right = left_end.x + length * page_per_mm;
  page.rectangle({left_end.x, left_end.y, right - left_end.x, 5}, palette::ink);
  page.text({0.5 * (left_end.x + right), left_end.y - 4}, short_number(length) + " mm",
            {.size = 16, .align = Align::centre, .level = Level::top});
}

Scale even_scale(const std::string& title, double low, double high, double step,
                 std::vector<Colour> (*ramp)(std::size_t bands)) {
  const double first = step * std::floor(low / step + 1e-9);
  Scale scale{title, {first}, {}};
  do {
    scale.edges.push_back(first + step * static_cast<double>(scale.edges.size()));
  } while (scale.edges.back() < high - 1e-9 * step);
  scale.colours = ramp(scale.edges.size() - 1);
  return scale;
}

double Scale::place(double value) const {
  if (!(value > edges.front())) {
    return 0;
  }
  const auto above = std::upper_bound(edges.begin(), edges.end(), value);
  if (above == edges.end()) {
    return static_cast<double>(edges.size() - 1);
  }
  const double low = *(above - 1);
  return static_cast<double>(above - edges.begin() - 1) + (value - low) / (*above - low);
}

const Colour& Scale::colour_of(double value) const {
  return colours[std::min(colours.size() - 1, static_cast<std::size_t>(place(value)))];
}

namespace {

bool lies_on(const Scale& scale, const ScaleMark& mark) {
  return mark.value >= scale.edges.front() && mark.value <= scale.edges.back();
}

// A line across the bar that shows on every colour.
void draw_mark_across(Page& page, const Polyline& line) {
  page.line(line, {.colour = palette::white, .width = 3});
  page.line(line, {.colour = palette::ink, .width = 1.2});
}

// As many marks as find room one above the other.
std::vector<ScaleMark> with_room(std::vector<ScaleMark> marks, std::size_t most) {
  while (marks.size() > most) {
    const auto minor =
        std::find_if(marks.rbegin(), marks.rend(), [](const ScaleMark& m) { return m.minor; });
    marks.erase(minor == marks.rend() ? marks.end() - 1 : minor.base() - 1);
  }
  return marks;
}

void draw_marks_beside(Page& page, const Scale& scale, const Box& box, double room) {
  constexpr double pitch = 16;
  std::vector<ScaleMark> shown;
  std::copy_if(scale.marks.begin(), scale.marks.end(), std::back_inserter(shown),
               [&](const ScaleMark& mark) { return lies_on(scale, mark); });
  const double step = box.height / static_cast<double>(scale.colours.size());
  for (const ScaleMark& mark : shown) {
    const double y = box.y + step * scale.place(mark.value);
    draw_mark_across(page, {{box.x, y}, {box.right(), y}});
  }
  shown = with_room(std::move(shown), static_cast<std::size_t>((box.height - 8) / pitch) + 1);
  std::vector<double> heights;
  for (const ScaleMark& mark : shown) {
    heights.push_back(box.y + step * scale.place(mark.value));
  }
  if (room <= 0) {
    return;
  }
  const std::vector<double> placed = spread(heights, pitch, box.y + 4, box.top() - 4);
  for (std::size_t n = 0; n < shown.size(); ++n) {
    page.line({{box.right() + 1, heights[n]},
               {box.right() + 5, heights[n]},
               {box.right() + 13, placed[n]}},
              {.colour = shown[n].colour, .width = 1.3});
    page.text({box.right() + 17, placed[n]}, shown[n].words,
              {.size = 13, .colour = shown[n].colour, .room = room - 17});
  }
}

}  // namespace

void draw_upright_scale(Page& page, const Scale& scale, const Box& box, double room_for_marks) {
  page.text({box.x - scale_numbers, box.top() + 18}, scale.title, {.size = 16, .bold = true});
  const double step = box.height / static_cast<double>(scale.colours.size());
  for (std::size_t k = 0; k < scale.colours.size(); ++k) {
    page.rectangle({box.x, box.y + step * static_cast<double>(k), box.width, step + 0.5},
                   scale.colours[k]);
  }
  page.frame(box, {.colour = palette::ink, .width = 1});
  constexpr double least_pitch = 15;
  const auto every = static_cast<std::size_t>(std::ceil(std::max(1.0, least_pitch / step)));
  for (std::size_t k = 0; k < scale.edges.size(); ++k) {
    const double y = box.y + step * static_cast<double>(k);
    page.line({{box.x, y}, {box.x - 6, y}}, {.width = 1});
    // In a low box only every second or third edge has room for its number, the largest first.
    if ((scale.edges.size() - 1 - k) % every == 0) {
      page.text({box.x - 10, y}, short_number(scale.edges[k]), {.size = 15, .align = Align::right});
    }
  }
  draw_marks_beside(page, scale, box, room_for_marks);
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
  std::vector<ScaleMark> marks = scale.marks;
  std::stable_sort(marks.begin(), marks.end(),
                   [](const ScaleMark& a, const ScaleMark& b) { return a.value < b.value; });
  double free_from = box.x - 100;
  for (const ScaleMark& mark : marks) {
    if (!lies_on(scale, mark)) {
      continue;
    }
    const double x = box.x + step * scale.place(mark.value);
    draw_mark_across(page, {{x, box.y}, {x, box.top() + 5}});
    const TextStyle style{.size = 13, .colour = mark.colour, .align = Align::left};
    const double wide = Page::text_width(mark.words, style);
    const double left = std::max(free_from, x - 0.5 * wide);
    if (left < x + 4 && left + wide < page.width() - 40) {
      page.text({left, box.top() + 14}, mark.words, style);
      free_from = left + wide + 12;
    }
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

}  // namespace tabmelt::drawing
