#include "viz/drawing/legends.h"

#include <algorithm>
#include <cmath>

#include "viz/drawing/words.h"

namespace tabmelt::drawing {

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

}  // namespace tabmelt::drawing
