// The names of the parts beside a section panel.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solver/catalogue/catalogue.h"
#include "solver/words/in_words.h"
#include "viz/drawing/words.h"
#include "viz/pictures/section_panel.h"

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

void draw_part_tags(Page& page, const Sight& sight, const StoredRun& run) {
  const TextStyle style{.size = 13};
  constexpr double high = 17;
  const Box& box = sight.box;
  std::vector<double> heights;
  std::vector<std::string> names;
  for (const std::uint8_t region : regions_inside(run, sight.window())) {
    Point at;
    if (anchor_of(run, sight, region, at)) {
      heights.push_back(at.y);
      names.push_back(in_words::capitalised(name_of(run, region)));
    }
  }
  if (names.empty()) {
    return;
  }
  const std::vector<double> placed = spread(heights, high + 2, box.y + 12, box.top() - 12);
  for (std::size_t n = 0; n < names.size(); ++n) {
    const double wide = Page::text_width(names[n], style);
    const Box tag{box.x + 6, placed[n] - 0.5 * high, wide + 10, high};
    if (std::abs(placed[n] - heights[n]) > 0.5 * high) {
      page.line({{tag.right(), placed[n]}, {tag.right() + 14, heights[n]}},
                {.colour = palette::white, .width = 2.6});
      page.line({{tag.right(), placed[n]}, {tag.right() + 14, heights[n]}},
                {.colour = palette::ink, .width = 1});
    }
    page.rectangle(tag, faded(palette::white, 0.82));
    page.text({tag.x + 5, placed[n]}, names[n], style);
  }
}

}  // namespace tabmelt::pictures
