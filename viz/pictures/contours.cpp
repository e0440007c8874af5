#include "viz/pictures/contours.h"

#include <algorithm>
#include <unordered_map>
#include <unordered_set>
#include <utility>

namespace tabmelt::pictures {

namespace {

// The side between two nodes, or a node itself if they are the same.
using Key = std::uint64_t;

Key key(std::int32_t a, std::int32_t b) {
  const auto [low, high] = std::minmax(a, b);
  return Key{static_cast<std::uint32_t>(low)} << 32 | static_cast<std::uint32_t>(high);
}

struct End {
  Key key = 0;
  Point at;
};

struct Piece {
  End from, to;
  bool rim = false;  // along the edge of the mesh
};

// A line with the sides of which lie on the rim: side k is that from point k to the next.
struct Traced {
  Polyline points;
  std::vector<bool> rim;
};

// Whether a point lies between two sides in the open; the rim and the ends of a line stay where
// they are.
struct Place {
  bool free = false;
  Point before, next;
};

bool is_ring(const Traced& line) {
  return line.points.size() > 3 && line.points.front() == line.points.back();
}

Place place_of(const Traced& line, std::size_t k) {
  const std::size_t sides = line.rim.size();
  const bool ring = is_ring(line);
  if (!ring && (k == 0 || k == sides)) return {};
  const std::size_t before = (k + sides - 1) % sides, on = k % sides;
  if (line.rim[before] || line.rim[on]) return {};
  return {true, line.points[before], line.points[on + 1]};
}

// Points in the open move by a share of the way to the middle of their neighbours.
Traced moved(const Traced& line, double share) {
  Traced smooth = line;
  for (std::size_t k = 0; k < line.points.size(); ++k) {
    if (const Place place = place_of(line, k); place.free) {
      Point& at = smooth.points[k];
      at.x += share * (0.5 * (place.before.x + place.next.x) - at.x);
      at.y += share * (0.5 * (place.before.y + place.next.y) - at.y);
    }
  }
  return smooth;
}

// There and a little more back again, so that wiggles from cell to cell vanish and curves do not
// shrink (Taubin, "A signal processing approach to fair surface design" (1995)).
Traced eased(const Traced& line) { return moved(moved(line, 0.5), -0.53); }

// Corners in the open are cut at a quarter of either side (Chaikin, "An algorithm for high-speed
// curve generation" (1974)).
Traced with_corners_cut(const Traced& line) {
  Traced cut;
  const auto add = [&](const Point& at, bool rim_before) {
    if (!cut.points.empty()) cut.rim.push_back(rim_before);
    cut.points.push_back(at);
  };
  const bool ring = is_ring(line);
  for (std::size_t k = ring ? 1 : 0; k < line.points.size(); ++k) {
    const Point& at = line.points[k];
    const Place place = place_of(line, k);
    if (!place.free) {
      add(at, k > 0 && line.rim[k - 1]);
      continue;
    }
    add({at.x + 0.25 * (place.before.x - at.x), at.y + 0.25 * (place.before.y - at.y)}, false);
    add({at.x + 0.25 * (place.next.x - at.x), at.y + 0.25 * (place.next.y - at.y)}, false);
  }
  if (ring) {
    cut.rim.push_back(line.rim.front());
    cut.points.push_back(cut.points.front());
  }
  return cut;
}

Polyline smoothed(const Traced& line) {
  return std::move(with_corners_cut(with_corners_cut(eased(line))).points);
}

std::vector<Polyline> joined(const std::vector<Piece>& pieces) {
  std::unordered_multimap<Key, std::size_t> next;
  std::unordered_set<Key> reached;
  for (std::size_t n = 0; n < pieces.size(); ++n) {
    next.emplace(pieces[n].from.key, n);
    reached.insert(pieces[n].to.key);
  }
  std::vector<bool> used(pieces.size(), false);
  std::vector<Polyline> lines;
  const auto follow = [&](std::size_t first) {
    Traced line{{pieces[first].from.at}, {}};
    std::size_t n = first;
    while (true) {
      used[n] = true;
      line.points.push_back(pieces[n].to.at);
      line.rim.push_back(pieces[n].rim);
      const auto [begin, end] = next.equal_range(pieces[n].to.key);
      const auto free =
          std::find_if(begin, end, [&](const auto& entry) { return !used[entry.second]; });
      if (free == end) {
        break;
      }
      n = free->second;
    }
    lines.push_back(smoothed(line));
  };
  // Open lines from their beginning, then the rings that are left.
  for (const bool rings : {false, true}) {
    for (std::size_t n = 0; n < pieces.size(); ++n) {
      if (!used[n] && (rings || !reached.contains(pieces[n].from.key))) {
        follow(n);
      }
    }
  }
  return lines;
}

// Appends what lies in one cell.
void add_pieces(const Mesh& mesh, const std::array<std::int32_t, 4>& corners,
                const std::array<bool, 4>* rim, const std::vector<float>& values, double level,
                std::vector<Piece>& pieces) {
  const auto value = [&](std::int32_t node) { return values[static_cast<std::size_t>(node)]; };
  std::array<bool, 4> is_high{};
  for (std::size_t k = 0; k < 4; ++k) {
    is_high[k] = value(corners[k]) >= level;
  }
  const auto high = [&](std::size_t k) { return is_high[k % 4]; };
  const auto count = std::count(is_high.begin(), is_high.end(), true);
  if (count == 0 || (count == 4 && rim == nullptr)) {
    return;
  }
  const auto corner = [&](std::size_t k) {
    const std::int32_t node = corners[k % 4];
    return End{key(node, node), mesh.nodes[static_cast<std::size_t>(node)]};
  };
  // The same for both cells at the side, to the last digit.
  const auto crossing = [&](std::size_t k) {
    const auto [a, b] = std::minmax(corners[k], corners[(k + 1) % 4]);
    const Point& p = mesh.nodes[static_cast<std::size_t>(a)];
    const Point& q = mesh.nodes[static_cast<std::size_t>(b)];
    const double share = (level - value(a)) / (static_cast<double>(value(b)) - value(a));
    return End{key(a, b), {p.x + share * (q.x - p.x), p.y + share * (q.y - p.y)}};
  };
  if (rim != nullptr) {
    for (std::size_t k = 0; k < 4; ++k) {
      if ((*rim)[k] && (high(k) || high(k + 1))) {
        pieces.push_back(
            {high(k) ? corner(k) : crossing(k), high(k + 1) ? corner(k + 1) : crossing(k), true});
      }
    }
  }
  // Where two opposite corners are high, the middle tells whether they hang together.
  double mean = 0;
  for (const std::int32_t node : corners) {
    mean += 0.25 * value(node);
  }
  for (std::size_t k = 0; k < 4; ++k) {
    if (!high(k) || high(k + 1)) {
      continue;
    }
    std::size_t back = (k + 3) % 4;  // the side at which the high place begins
    while (high(back)) {
      back = (back + 3) % 4;
    }
    std::size_t on = (k + 1) % 4;  // the side at which the next one begins
    while (!high(on + 1)) {
      on = (on + 1) % 4;
    }
    pieces.push_back({crossing(k), crossing(mean >= level ? on : back)});
  }
}

}  // namespace

Contours::Contours(const Mesh& mesh) : mesh_(mesh) {
  std::unordered_map<Key, int> sides;
  for (const auto& cell : mesh.cells) {
    for (std::size_t k = 0; k < 4; ++k) {
      ++sides[key(cell[k], cell[(k + 1) % 4])];
    }
  }
  for (const auto& cell : mesh.cells) {
    std::array<bool, 4> rim{};
    for (std::size_t k = 0; k < 4; ++k) {
      rim[k] = sides[key(cell[k], cell[(k + 1) % 4])] == 1;
    }
    rim_.push_back(rim);
  }
}

std::vector<Polyline> Contours::outlines(const std::vector<float>& at_nodes, double level) const {
  std::vector<Piece> pieces;
  for (std::size_t cell = 0; cell < mesh_.cells.size(); ++cell) {
    const bool inner = rim_[cell] == std::array<bool, 4>{};
    add_pieces(mesh_, mesh_.cells[cell], inner ? nullptr : &rim_[cell], at_nodes, level, pieces);
  }
  return joined(pieces);
}

std::vector<Polyline> Contours::lines_at(const std::vector<float>& at_nodes, double level) const {
  std::vector<Piece> pieces;
  for (const auto& cell : mesh_.cells) {
    add_pieces(mesh_, cell, nullptr, at_nodes, level, pieces);
  }
  return joined(pieces);
}

}  // namespace tabmelt::pictures
