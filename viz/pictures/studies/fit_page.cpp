#include <algorithm>
#include <cmath>

#include "viz/drawing/diagram.h"
#include "viz/pictures/studies/inference_pages.h"

namespace tabmelt::pictures {

namespace {

constexpr double top = 850, bottom = 110;
constexpr double left = 110, plot_width = 830, side = 1100, side_width = 460;
constexpr std::size_t most_panels = 4;

Abscissa axis_of(const std::vector<double>& time) {
  return {0, time.empty() ? 1 : std::max(time.back(), 1e-9), false};
}

// The record over the model, and below it what is left in units of the noise.
void draw_channel(Page& page, const FitPanel& p, const Box& box, bool last) {
  const Abscissa axis = axis_of(p.time);
  const double gap = 42, low = 0.3 * (box.height - gap);
  Panel upper;
  upper.title = p.title;
  upper.abscissa = p.time;
  upper.curves = {{"recorded", p.recorded, {.colour = palette::sky, .width = 3}},
                  {"fitted", p.model, {.colour = palette::black, .width = 1.2}}};
  upper.label_room = 110;
  draw_panel(page, upper, axis, {box.x, box.y + low + gap, box.width, box.height - low - gap},
             false);
  Panel lower;
  lower.title = "recorded less fitted, in units of the noise";
  lower.abscissa = p.time;
  lower.curves = {{"", p.residual, {.colour = palette::vermillion, .width = 0.8}}};
  lower.from_zero = false;
  draw_panel(page, lower, axis, {box.x, box.y, box.width, low}, last);
}

double draw_rows(Page& page, const FitPicture& p) {
  double y = top;
  page.text({side, y}, "What was found", {.size = 20, .bold = true});
  y -= 36;
  for (const FitRow& row : p.rows) {
    if (y < bottom + 200) break;
    page.text({side, y}, row.words, {.size = 16, .room = side_width});
    y -= 25;
    page.text({side + 16, y}, row.value + " \u00b1 " + row.error,
              {.size = 19,
               .colour = row.doubtful ? palette::bad : palette::ink,
               .bold = true,
               .room = side_width - 16});
    y -= 33;
  }
  return y - 10;
}

}  // namespace

Page fit_page(const FitPicture& p) {
  Page page(page_width, page_height);
  draw_head_and_foot(page, p.head);
  const std::size_t count = std::min(p.panels.size(), most_panels);
  const double height = (top - bottom) / static_cast<double>(std::max<std::size_t>(count, 1));
  for (std::size_t n = 0; n < count; ++n)
    draw_channel(page, p.panels[n],
                 {left, top - height * static_cast<double>(n + 1) + (n + 1 < count ? 40 : 0),
                  plot_width, height - (n + 1 < count ? 60 : 20)},
                 n + 1 == count);
  double y = draw_rows(page, p);
  page.text({side, y}, p.matches ? "The model matches the record." : "The model does not match.",
            {.size = 19, .colour = p.matches ? palette::good : palette::bad, .bold = true});
  y -= 24;
  for (const std::string& remark : p.remarks) {
    if (y < bottom) break;
    y -= page.paragraph({side, y}, remark, {.size = 15, .colour = palette::quiet_ink}, side_width,
                        std::min(90.0, y - 70), 11) +
         12;
  }
  return page;
}

}  // namespace tabmelt::pictures
