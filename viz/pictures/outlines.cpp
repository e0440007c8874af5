#include "viz/pictures/outlines.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace tabmelt::pictures {

namespace {

struct Side {
  std::array<Point, 2> at;
  std::array<double, 2> value{};
  double along(double share) const { return std::lerp(value[0], value[1], share); }
  Point place(double share) const {
    return {std::lerp(at[0].x, at[1].x, share), std::lerp(at[0].y, at[1].y, share)};
  }
};

// Part of an interface where only one side reaches the level, drawn on that side.
void add_one_sided(const std::array<Side, 2>& sides, double level, std::vector<Polyline>& lines) {
  std::vector<double> cuts{0, 1};
  for (const Side& side : sides) {
    if ((side.value[0] >= level) != (side.value[1] >= level)) {
      cuts.push_back((level - side.value[0]) / (side.value[1] - side.value[0]));
    }
  }
  std::sort(cuts.begin(), cuts.end());
  for (std::size_t k = 1; k < cuts.size(); ++k) {
    const double middle = 0.5 * (cuts[k - 1] + cuts[k]);
    const bool first = sides[0].along(middle) >= level, second = sides[1].along(middle) >= level;
    if (first != second && cuts[k] > cuts[k - 1]) {
      const Side& hot = sides[first ? 0 : 1];
      lines.push_back({hot.place(cuts[k - 1]), hot.place(cuts[k])});
    }
  }
}

// Pieces that go on from one another become one line, so that dashes run through.
std::vector<Polyline> chained(std::vector<Polyline> lines) {
  constexpr double same = 1e-6;  // [mm]
  const auto meet = [](const Point& a, const Point& b) {
    return std::abs(a.x - b.x) < same && std::abs(a.y - b.y) < same;
  };
  std::vector<Polyline> chains;
  for (Polyline& line : lines) {
    if (!chains.empty() && meet(chains.back().back(), line.front())) {
      chains.back().insert(chains.back().end(), line.begin() + 1, line.end());
    } else {
      chains.push_back(std::move(line));
    }
  }
  return chains;
}

// Edge of the set where a field of the section is at least `level`, over all parts: isolines within
// each part, and those pieces of the interfaces where only one side reaches the level [mm].
std::vector<Polyline> set_outline(const Section& section, const std::vector<float>& at_nodes,
                                  double level) {
  std::vector<Polyline> lines = section.contours.lines_at(at_nodes, level), along;
  const auto side = [&](const std::array<std::int32_t, 2>& nodes,
                        const std::array<std::int32_t, 2>& opposite) {
    Side one;
    for (std::size_t k = 0; k < 2; ++k) {
      const bool there = nodes[k] >= 0;
      const auto n = static_cast<std::size_t>(there ? nodes[k] : opposite[k]);
      one.at[k] = section.mesh.nodes[n];
      one.value[k] = there ? at_nodes[n] : level - 1;
    }
    return one;
  };
  for (const Interface& piece : section.interfaces) {
    add_one_sided({side(piece.below, piece.above), side(piece.above, piece.below)}, level, along);
  }
  for (Polyline& line : chained(std::move(along))) {
    lines.push_back(std::move(line));
  }
  return lines;
}

}  // namespace

std::vector<Polyline> melt_outline(const StoredRun& run, const Section& section,
                                   const std::vector<float>& kelvin,
                                   const std::vector<float>& liquid) {
  if (liquid.size() != run.region.size()) {
    return {};
  }
  const bool known = kelvin.size() == run.region.size();
  const std::vector<float> temperature = known ? section.at_nodes(kelvin) : std::vector<float>();
  std::vector<float> above = section.at_nodes(liquid);  // half molten
  // [K] of each part that it has melting temperatures of.
  std::vector<std::optional<double>> half(run.parts.size());
  for (std::size_t part = 0; known && part < run.parts.size(); ++part) {
    const auto region = static_cast<std::uint8_t>(part);
    const auto solidus = sheet_number(run, region, "solidus");
    const auto liquidus = sheet_number(run, region, "liquidus");
    if (is_metal(run, region) && solidus)
      half[part] = 0.5 * (*solidus + liquidus.value_or(*solidus));
  }
  for (std::size_t n = 0; n < above.size(); ++n) {
    const std::uint8_t part = section.node_parts[n];
    if (part < half.size() && half[part]) {
      above[n] = temperature[n] - static_cast<float>(*half[part]);
    } else {
      above[n] = is_metal(run, part) ? above[n] - 0.5F : -1.0F;
    }
  }
  return set_outline(section, above, 0);
}

std::vector<Polyline> part_outlines(const StoredRun& run, const Window& window, double touching) {
  const Range range = range_of(run, window);
  const auto tip = tip_of(run);
  std::vector<Polyline> lines;
  const std::uint8_t electrode = electrode_of(run);
  const Polyline cone = silhouette(run, electrode);
  const auto hidden = [&](std::uint8_t a, std::uint8_t b) {
    return a == b ||
           (!cone.empty() && std::min(a, b) == mesh::empty && std::max(a, b) == electrode);
  };
  const auto mm = [](double metres) { return metres * millimetres; };
  // Straight lines as long as they go from edge to edge, first..end, where `seen` is true.
  const auto add = [&](std::size_t first, std::size_t end, auto seen, auto corner) {
    for (std::size_t from = first; from < end; ++from) {
      std::size_t to = from;
      while (to < end && seen(to)) ++to;
      if (to > from) lines.push_back({corner(from), corner(to)});
      from = to;
    }
  };
  for (std::size_t j = std::max<std::size_t>(range.j_begin, 1); j < range.j_end; ++j) {
    add(
        0, range.i_end,
        [&](std::size_t i) { return !hidden(region_at(run, i, j), region_at(run, i, j - 1)); },
        [&](std::size_t i) {
          return Point{mm(run.r_edges[i]), mm(run.z_edges[j])};
        });
  }
  for (std::size_t i = 1; i < range.i_end; ++i) {
    add(
        range.j_begin, range.j_end,
        [&](std::size_t j) { return !hidden(region_at(run, i - 1, j), region_at(run, i, j)); },
        [&](std::size_t j) {
          return Point{mm(run.r_edges[i]), mm(run.z_edges[j])};
        });
  }
  if (!cone.empty()) {
    Polyline line;
    for (const Point& p : tip ? tip->arc(touching) : Polyline()) {
      line.push_back({mm(p.x), mm(p.y)});
    }
    for (const Point& p : cone) {
      if (!line.empty() && mm(p.y) <= line.front().y) continue;  // there the arc ends
      line.push_back({mm(p.x), mm(p.y)});
    }
    lines.push_back(std::move(line));
  }
  return lines;
}

}  // namespace tabmelt::pictures
