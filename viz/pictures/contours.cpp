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
};

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
    Polyline line{pieces[first].from.at};
    std::size_t n = first;
    while (true) {
      used[n] = true;
      line.push_back(pieces[n].to.at);
      const auto [begin, end] = next.equal_range(pieces[n].to.key);
      const auto free =
          std::find_if(begin, end, [&](const auto& entry) { return !used[entry.second]; });
      if (free == end) {
        break;
      }
      n = free->second;
    }
    lines.push_back(std::move(line));
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
            {high(k) ? corner(k) : crossing(k), high(k + 1) ? corner(k + 1) : crossing(k)});
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
