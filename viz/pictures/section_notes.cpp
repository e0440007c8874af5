// Words around a section panel: names of the parts and the inner wall's peak against its limit.
#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "solver/catalogue/catalogue.h"
#include "solver/words/in_words.h"
#include "viz/drawing/words.h"
#include "viz/pictures/section_panel.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

namespace {
// Where a leader to a part ends: on the part's surface that faces the left edge of the panel.
bool anchor_of(const StoredRun& run, const Sight& sight, std::uint8_t region, Point& at) {
  const Window& window = sight.window();
  const std::vector<RowReach> reach = reach_of(run, region);
  double low = window.z_max, high = window.z_min;
  for (const RowReach& row : reach) {
    low = std::min(low, std::max(run.z_edges[row.row], window.z_min));
    high = std::max(high, std::min(run.z_edges[row.row + 1], window.z_max));
  }
  if (low >= high) {
    return false;
  }
  const double z = 0.5 * (low + high);
  double r = 0;
  for (const RowReach& row : reach) {
    if (run.z_edges[row.row] <= z && z <= run.z_edges[row.row + 1]) {
      r = run.r_edges[row.outer_edge];
    }
  }
  // A cone is drawn straight although its cells lie in steps.
  if (const Polyline surface = silhouette(run, region); !surface.empty()) {
    r = std::min(r, radius_at(surface, z));
  }
  at = sight.at(-std::min(r, window.r_max), z);
  at.x += 12;  // well inside the part
  return true;
}

// The layer inside the cell that passed its limit furthest, in words; empty if none did.
std::string worst_layer(const StoredRun& run) {
  std::string words;
  double furthest = 0;
  const auto layers = layers_of(run);
  for (std::size_t n = 1; n <= layers.size(); ++n) {
    const auto limit = cell_side_limit(run, n);
    const auto peak = scalar_of(run, fmt::format("cell_side_{}_peak", n));
    if (limit && peak && *peak - *limit > furthest) {
      furthest = *peak - *limit;
      words = fmt::format("{} {}, limit {}: exceeded",
                          in_words::capitalised(name_of(run, layers[n - 1])), celsius_words(*peak),
                          celsius_words(*limit));
    }
  }
  return words;
}

}  // namespace

void draw_part_names(Page& page, const Sight& sight, const StoredRun& run) {
  const std::vector<std::uint8_t> regions = regions_inside(run, sight.window());
  std::vector<Point> anchors;
  std::vector<double> heights;
  std::vector<std::string> names, sizes;
  for (const std::uint8_t region : regions) {
    Point at;
    if (!anchor_of(run, sight, region, at)) {
      continue;
    }
    anchors.push_back(at);
    heights.push_back(at.y);
    names.push_back(in_words::capitalised(name_of(run, region)));
    Extent extent;
    extent_of(run, region, extent);
    const bool layer = region != electrode_of(run) && extent.low > run.z_edges.front();
    sizes.push_back(
        layer ? fmt::format("{} mm", short_number((extent.high - extent.low) * millimetres))
              : std::string());
  }
  const Box& box = sight.box;
  const std::vector<double> placed = spread(heights, 44, box.y + 20, box.top() - 20);
  for (std::size_t n = 0; n < anchors.size(); ++n) {
    const double y = placed[n];
    const Polyline leader{{box.x - 22, y}, {box.x - 8, anchors[n].y}, anchors[n]};
    page.line(leader, {.colour = palette::white, .width = 3});
    page.line(leader, {.colour = palette::quiet_ink, .width = 1.2});
    page.disc(anchors[n], 4, palette::white);
    page.disc(anchors[n], 2.8, palette::ink);
    const double lift = sizes[n].empty() ? 0 : 9;
    page.text({box.x - 28, y + lift}, names[n],
              {.size = 16, .bold = true, .align = Align::right, .room = box.x - 40});
    page.text({box.x - 28, y - 9}, sizes[n],
              {.size = 14, .colour = palette::quiet_ink, .align = Align::right});
  }
}

void draw_inner_wall_note(Page& page, const Sight& sight, const StoredRun& run) {
  double wall = 0;
  const auto peak = peak_of(run, "inner_wall_temperature");
  if (!inner_wall_height(run, wall) || !peak) {
    return;
  }
  const auto limit = inner_wall_limit(run);
  const bool over = limit && peak->value > *limit;
  const std::string reached =
      fmt::format("peak {} at {}", celsius_words(peak->value), time_words(peak->time));
  const std::string against =
      limit ? fmt::format("limit {}: {}", celsius_words(*limit), over ? "exceeded" : "kept")
            : std::string("no limit given");
  const TextStyle head{.size = 16, .bold = true}, body{.size = 15};
  const TextStyle worst{.size = 15, .colour = palette::bad, .bold = true};
  const TextStyle judged{.size = 15,
                         .colour = !limit ? palette::quiet_ink
                                   : over ? palette::bad
                                          : palette::good,
                         .bold = limit.has_value()};
  const std::string layer = worst_layer(run);
  const double width =
      34 + std::max({Page::text_width("Inner can wall", head), Page::text_width(reached, body),
                     Page::text_width(against, judged),
                     layer.empty() ? 0.0 : Page::text_width(layer, worst)});
  const Box& panel = sight.box;
  const double height = layer.empty() ? 80 : 103;
  const double y_wall = sight.at(0, wall).y;
  // Below the wall, where it is cold, or in the upper corner if nothing is drawn below it.
  const bool below = y_wall > panel.y + height + 30;
  const Box box{panel.right() - width - 18, below ? panel.y + 18 : panel.top() - height - 18, width,
                height};
  const double x = box.x + 30, y_box = below ? box.top() : box.y;
  if (y_wall >= panel.y - 1 && y_wall < panel.top()) {
    page.line({{x, y_box}, {x, y_wall}}, {.colour = palette::ink, .width = 4});
    page.line({{x, y_box}, {x, y_wall}}, {.colour = inner_wall_colour, .width = 2});
  }
  page.rectangle(box, faded(palette::white, 0.94));
  page.rectangle({box.x, box.y, 6, box.height}, inner_wall_colour);
  page.frame(box, {.colour = palette::ink, .width = 1});
  page.text({box.x + 18, box.top() - 17}, "Inner can wall", head);
  page.text({box.x + 18, box.top() - 40}, reached, body);
  page.text({box.x + 18, box.top() - 62}, against, judged);
  page.text({box.x + 18, box.top() - 85}, layer, worst);
}

}  // namespace tabmelt::pictures
