#include "viz/pictures/current_lines.h"

#include <algorithm>
#include <cmath>

#include "viz/pictures/contours.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

CurrentLines current_lines(const StoredRun& run, const Frame& frame, int tubes,
                           const Window& window) {
  CurrentLines result;
  if (frame.current_density.size() != 3 * run.region.size()) {
    return result;
  }
  const std::size_t nr = columns(run);
  Range range = range_of(run, window);
  range.j_end = std::min(range.j_end + 1, rows(run));  // its middle lies beyond the window's edge
  // Nodes at the radial edges, where the integral over whole cells is exact, and at the rows'
  // middles, where the current density is stored.
  Mesh mesh;
  std::vector<float> inside;
  const std::uint8_t electrode = electrode_of(run);
  const Polyline cone = silhouette(run, electrode);
  const double known = value_at(run, "current", frame.time).value_or(0);
  for (std::size_t j = range.j_begin; j < range.j_end; ++j) {
    const double middle = 0.5 * (run.z_edges[j] + run.z_edges[j + 1]);
    std::vector<double> enclosed{0};
    bool electrode_only = true;
    for (std::size_t i = 0; i < nr; ++i) {
      const std::uint8_t part = region_at(run, i, j);
      electrode_only = electrode_only && (part == electrode || part == mesh::empty);
      // Where the electrode fills a cell in part, only that part carries current.
      const double reach =
          part == electrode && !cone.empty() ? radius_at(cone, middle) : run.r_edges[i + 1];
      const double inner = std::min(run.r_edges[i], reach);
      const double outer = std::min(run.r_edges[i + 1], reach);
      const double density = frame.current_density[3 * (j * nr + i) + 1];
      enclosed.push_back(enclosed.back() - density * M_PI * (outer * outer - inner * inner));
    }
    // No current leaves the electrode sideways: its rows all carry the same.
    const double row_total = enclosed.back();
    const double correction =
        electrode_only && known != 0 && row_total != 0 ? std::abs(known / row_total) : 1;
    const auto first = static_cast<std::int32_t>(mesh.nodes.size());
    const auto width = static_cast<std::int32_t>(nr + 1);
    for (std::int32_t i = 0; i < width; ++i) {
      const auto n = static_cast<std::size_t>(i);
      mesh.nodes.push_back({run.r_edges[n] * millimetres, middle * millimetres});
      inside.push_back(static_cast<float>(enclosed[n] * correction));
      if (i > 0 && first > 0) {
        mesh.cells.push_back({first - width + i - 1, first - width + i, first + i, first + i - 1});
      }
    }
    if (std::abs(row_total * correction) > std::abs(result.total)) {
      result.total = row_total * correction;
    }
  }
  if (result.total == 0) {
    return result;
  }
  const Contours contours(mesh);
  for (int k = 1; k < tubes; ++k) {
    for (Polyline& line : contours.lines_at(inside, result.total * k / tubes)) {
      result.lines.push_back(std::move(line));
    }
  }
  return result;
}

Point current_direction(const StoredRun& run, const Frame& frame, Point at) {
  const auto cell = cell_at(run, at);
  if (!cell) return {};
  return {frame.current_density[3 * *cell], frame.current_density[3 * *cell + 1]};
}

}  // namespace tabmelt::pictures
