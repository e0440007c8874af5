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
std::optional<Point> anchor_of(const StoredRun& run, const Sight& sight, std::uint8_t region) {
  const Window& window = sight.window();
  const std::vector<RowReach> reach = reach_of(run, region);
  double low = window.z_max, high = window.z_min;
  for (const RowReach& row : reach) {
    low = std::min(low, std::max(run.z_edges[row.row], window.z_min));
    high = std::max(high, std::min(run.z_edges[row.row + 1], window.z_max));
  }
  if (low >= high) return std::nullopt;
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
  Point at = sight.at(-std::min(r, window.r_max), z);
  at.x += 12;  // well inside the part
  return at;
}

struct Named {
  std::uint8_t region = 0;
  std::string name;
  Point anchor;
  double placed = 0;  // height of the name
};

// The parts that show, with their names at least `gap` apart and as far from the panel's ends.
std::vector<Named> named_parts(const StoredRun& run, const Sight& sight, double gap, double rim) {
  std::vector<Named> parts;
  std::vector<double> heights;
  for (const std::uint8_t region : regions_inside(run, sight.window())) {
    if (const auto at = anchor_of(run, sight, region)) {
      parts.push_back({region, in_words::capitalised(name_of(run, region)), *at, 0});
      heights.push_back(at->y);
    }
  }
  const auto placed = spread(heights, gap, sight.box.y + rim, sight.box.top() - rim);
  for (std::size_t n = 0; n < parts.size(); ++n) parts[n].placed = placed[n];
  return parts;
}

// Thickness of what lies between the electrode and the lowest part.
std::string thickness_words(const StoredRun& run, std::uint8_t region) {
  const auto extent = extent_of(run, region);
  if (!extent || region == electrode_of(run) || !(extent->low > run.z_edges.front())) return {};
  return fmt::format("{} mm", short_number((extent->high - extent->low) * millimetres));
}

}  // namespace

void draw_part_names(Page& page, const Sight& sight, const StoredRun& run) {
  const Box& box = sight.box;
  for (const Named& part : named_parts(run, sight, 44, 20)) {
    const double y = part.placed;
    const Polyline leader{{box.x - 22, y}, {box.x - 8, part.anchor.y}, part.anchor};
    page.line(leader, {.colour = palette::white, .width = 3});
    page.line(leader, {.colour = palette::quiet_ink, .width = 1.2});
    page.disc(part.anchor, 4, palette::white);
    page.disc(part.anchor, 2.8, palette::ink);
    const std::string size = thickness_words(run, part.region);
    page.text({box.x - 28, y + (size.empty() ? 0 : 9)}, part.name,
              {.size = 16, .bold = true, .align = Align::right, .room = box.x - 40});
    page.text({box.x - 28, y - 9}, size,
              {.size = 14, .colour = palette::quiet_ink, .align = Align::right});
  }
}

void draw_part_tags(Page& page, const Sight& sight, const StoredRun& run) {
  const TextStyle style{.size = 13};
  constexpr double high = 17;
  for (const Named& part : named_parts(run, sight, high + 2, 12)) {
    const double wide = Page::text_width(part.name, style);
    const Box tag{sight.box.x + 6, part.placed - 0.5 * high, wide + 10, high};
    if (std::abs(part.placed - part.anchor.y) > 0.5 * high) {
      const Polyline leader{{tag.right(), part.placed}, {tag.right() + 14, part.anchor.y}};
      page.line(leader, {.colour = palette::white, .width = 2.6});
      page.line(leader, {.colour = palette::ink, .width = 1});
    }
    page.rectangle(tag, faded(palette::white, 0.82));
    page.text({tag.x + 5, part.placed}, part.name, style);
  }
}

}  // namespace tabmelt::pictures
