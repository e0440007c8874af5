#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "viz/drawing/diagram.h"
#include "viz/drawing/words.h"
#include "viz/pictures/contours.h"
#include "viz/pictures/studies/study_pages.h"

namespace tabmelt::pictures {

namespace {

const Box plot{120, 110, 960, 760};
constexpr double side_x = 1120, side_width = 440;

// Bad regions alternate in lightness too, so that neighbours part in a grey print.
constexpr std::array<Colour, 8> bad_colours{{{0.640, 0.745, 0.855},
                                             {0.945, 0.745, 0.545},
                                             {0.820, 0.640, 0.745},
                                             {0.835, 0.835, 0.600},
                                             {0.545, 0.600, 0.690},
                                             {0.880, 0.600, 0.500},
                                             {0.760, 0.790, 0.790},
                                             {0.690, 0.560, 0.480}}};
constexpr Colour good_colour{0.640, 0.850, 0.700};
constexpr Colour unknown_colour{0.930, 0.930, 0.930};

constexpr std::array<LineStyle, 3> contour_styles{
    {{palette::black, 1.6, 0, 0}, {palette::vermillion, 1.6, 9, 5}, {palette::blue, 1.6, 2, 4}}};

std::vector<Colour> region_colours(const Lobe& lobe) {
  std::vector<Colour> colours;
  std::size_t bad = 0;
  const double bands = static_cast<double>(lobe.regions.size());
  for (std::size_t n = 0; n < lobe.regions.size(); ++n) {
    if (lobe.chance)
      colours.push_back(paler(palette::good, 1 - (static_cast<double>(n) + 0.3) / bands));
    else
      colours.push_back(lobe.regions[n].good ? good_colour
                                             : bad_colours[bad++ % bad_colours.size()]);
  }
  return colours;
}

double share(const LobeAxis& axis, double value) {
  return (value - axis.from) / (axis.to - axis.from);
}

Point place(const Lobe& lobe, double x, double y) {
  return {plot.x + plot.width * share(lobe.x, x), plot.y + plot.height * share(lobe.y, y)};
}

// Each corner stands for the square around it, cut at the frame.
void fill_regions(Page& page, const Lobe& lobe, const std::vector<Colour>& colours) {
  const int n = lobe.cells;
  const double w = plot.width / n, h = plot.height / n;
  const auto region = [&](int i, int j) {
    return lobe.region[static_cast<std::size_t>(j * (n + 1) + i)];
  };
  page.rectangle(plot, unknown_colour);
  for (int j = 0; j <= n; ++j)
    for (int i = 0; i <= n;) {
      int end = i;
      while (end < n && region(end + 1, j) == region(i, j)) ++end;
      const double left = std::max(plot.x, plot.x + (i - 0.5) * w);
      const double right = std::min(plot.right(), plot.x + (end + 0.5) * w);
      const double low = std::max(plot.y, plot.y + (j - 0.5) * h);
      const double high = std::min(plot.top(), plot.y + (j + 0.5) * h);
      if (region(i, j) >= 0)
        // A little over its neighbours, so that no seam shows.
        page.rectangle({left, low, right - left, std::min(high + 0.6, plot.top()) - low},
                       colours[static_cast<std::size_t>(region(i, j))]);
      i = end + 1;
    }
}

Mesh corner_mesh(int n) {
  Mesh mesh;
  for (int j = 0; j <= n; ++j)
    for (int i = 0; i <= n; ++i)
      mesh.nodes.push_back({plot.x + plot.width * i / n, plot.y + plot.height * j / n});
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i) {
      const int corner = j * (n + 1) + i;
      mesh.cells.push_back({corner, corner + 1, corner + n + 2, corner + n + 1});
    }
  return mesh;
}

void draw_contours(Page& page, const Lobe& lobe) {
  const Mesh mesh = corner_mesh(lobe.cells);
  const Contours contours(mesh);
  for (std::size_t k = 0; k < lobe.contours.size() && k < contour_styles.size(); ++k) {
    const LineStyle& style = contour_styles[k];
    for (const double level : lobe.contours[k].levels) {
      Polyline longest;
      for (const Polyline& line : contours.lines_at(lobe.contours[k].values, level)) {
        page.line(line, style, plot);
        if (line.size() > longest.size()) longest = line;
      }
      if (longest.size() < 8) continue;
      const Point at = longest[(2 + k) * longest.size() / 6];
      const std::string words = short_number(level);
      const TextStyle text{
          .size = 14, .colour = deeper(style.colour, 0.2), .bold = true, .align = Align::centre};
      const double width = Page::text_width(words, text);
      page.rectangle({at.x - width / 2 - 3, at.y - 9, width + 6, 18}, faded(palette::paper, 0.8));
      page.text(at, words, text);
    }
  }
}

void draw_axis(Page& page, const LobeAxis& axis, bool upright) {
  const RoundAxis round = round_axis(axis.from, axis.to, 8);
  const TextStyle label{.size = 16, .align = upright ? Align::right : Align::centre};
  const double slack = 1e-9 * (axis.to - axis.from);
  for (double v = round.low; v <= axis.to + slack; v += round.step) {
    if (v < axis.from - slack) continue;
    const double s = share(axis, v);
    const std::string words = short_number(std::abs(v) < slack ? 0 : v);
    if (upright) {
      const double y = plot.y + s * plot.height;
      page.line({{plot.x - 7, y}, {plot.x, y}}, {.width = 1});
      page.text({plot.x - 12, y}, words, label);
    } else {
      const double x = plot.x + s * plot.width;
      page.line({{x, plot.y - 7}, {x, plot.y}}, {.width = 1});
      page.text({x, plot.y - 22}, words, label);
    }
  }
}

void draw_axes(Page& page, const Lobe& lobe) {
  page.frame(plot, {.width = 1.5});
  draw_axis(page, lobe.x, false);
  draw_axis(page, lobe.y, true);
  page.text({plot.centre().x, plot.y - 48}, lobe.x.title,
            {.size = 18, .bold = true, .align = Align::centre});
  page.text({page_margin, plot.top() + 20}, lobe.y.title, {.size = 18, .bold = true});
}

void draw_case(Page& page, const Lobe& lobe) {
  const Point at = place(lobe, lobe.x.value, lobe.y.value);
  if (!plot.contains(at)) return;
  page.disc(at, 9, palette::paper);
  page.disc(at, 6, palette::ink);
}

double draw_regions_legend(Page& page, const Lobe& lobe, const std::vector<Colour>& colours) {
  double y = plot.top() - 14;
  page.text({side_x, y}, lobe.chance ? "Chance of a good weld" : "What becomes of the weld",
            {.size = 20, .bold = true});
  y -= 36;
  for (std::size_t n = 0; n < lobe.regions.size(); ++n) {
    page.rectangle({side_x, y - 11, 34, 22}, colours[n]);
    page.frame({side_x, y - 11, 34, 22}, {.colour = palette::rule, .width = 1});
    page.text({side_x + 46, y}, lobe.regions[n].words,
              {.size = 17, .bold = lobe.regions[n].good && !lobe.chance, .room = 290});
    page.text({side_x + side_width, y}, fmt::format("{:.0f} %", 100 * lobe.regions[n].share),
              {.size = 17, .colour = palette::quiet_ink, .align = Align::right});
    y -= 32;
  }
  return y - 12;
}

void draw_lines_legend(Page& page, const Lobe& lobe, double y) {
  if (!lobe.contours.empty()) page.text({side_x, y}, "Lines", {.size = 20, .bold = true});
  y -= 34;
  for (std::size_t k = 0; k < lobe.contours.size() && k < contour_styles.size(); ++k) {
    page.line({{side_x, y}, {side_x + 34, y}}, contour_styles[k]);
    page.text({side_x + 46, y}, lobe.contours[k].title, {.size = 17, .room = 390});
    y -= 30;
  }
  page.disc({side_x + 17, y}, 6, palette::ink);
  page.text({side_x + 46, y}, "the case as it stands", {.size = 17});
  y -= 30;
  page.disc({side_x + 17, y}, 2, palette::ink);
  page.text({side_x + 46, y}, fmt::format("computed, {} points", lobe.runs.size()), {.size = 17});
}

}  // namespace

Page lobe_page(const Lobe& lobe) {
  Page page(page_width, page_height);
  draw_head_and_foot(page, lobe.head);
  const std::vector<Colour> colours = region_colours(lobe);
  fill_regions(page, lobe, colours);
  for (const Point& run : lobe.runs)
    page.disc(place(lobe, run.x, run.y), 1.5, faded(palette::ink, 0.35));
  draw_contours(page, lobe);
  draw_axes(page, lobe);
  draw_case(page, lobe);
  draw_lines_legend(page, lobe, draw_regions_legend(page, lobe, colours));
  return page;
}

}  // namespace tabmelt::pictures
