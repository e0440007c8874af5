#include "mesh/axisymmetric_grid.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace tabmelt::mesh {
namespace {

constexpr double pi = std::numbers::pi;
// A cell filled less than this is left empty: it would add an unknown and no information.
constexpr double smallest_filling = 1e-3;

void require_increasing(const std::vector<double>& edges, const char* which) {
  if (edges.size() < 2) throw std::invalid_argument(std::string(which) + ": needs two edges");
  for (std::size_t n = 1; n < edges.size(); ++n)
    if (!(edges[n] > edges[n - 1]))
      throw std::invalid_argument(std::string(which) + ": edges must increase");
}

double radius_at(const Part& part, double z) {
  const double s = (z - part.z_bottom) / (part.z_top - part.z_bottom);
  return part.radius_bottom + s * (part.radius_top - part.radius_bottom);
}

// Integral over a row of min(R(z), r)^2 dz for an outer radius R that runs straight from a to b.
double square_integral(double a, double b, double r, double dz) {
  if (a > b) std::swap(a, b);
  if (r <= a) return dz * r * r;
  if (r >= b) return dz * (a * a + a * b + b * b) / 3;
  const double s = (r - a) / (b - a);
  return dz * (s * (a * a + a * r + r * r) / 3 + (1 - s) * r * r);
}

// Height of the row over which R(z) exceeds r.
double open_height(double a, double b, double r, double dz) {
  if (a > b) std::swap(a, b);
  if (r < a) return dz;
  if (r >= b) return 0;
  return dz * (b - r) / (b - a);
}

}  // namespace

AxisymmetricGrid::AxisymmetricGrid(std::vector<double> r_edges, std::vector<double> z_edges,
                                   const std::vector<Part>& parts, double log_beyond)
    : r_edges_(std::move(r_edges)), z_edges_(std::move(z_edges)) {
  require_increasing(r_edges_, "r edges");
  require_increasing(z_edges_, "z edges");
  if (r_edges_.front() != 0) throw std::invalid_argument("r edges: the first must be the axis");
  nr_ = r_edges_.size() - 1;
  nz_ = z_edges_.size() - 1;

  const std::size_t n = cells();
  region_.assign(n, 0);
  volume_.assign(n, 0);
  radial_area_.assign(n, 0);
  radial_inner_.assign(n, 0);
  radial_outer_.assign(n, 0);
  axial_area_.assign(n, 0);
  axial_inner_.assign(n, 0);
  axial_outer_.assign(n, 0);
  bottom_area_.assign(nr_, 0);
  bottom_outer_.assign(nr_, 0);

  // Outer radius of the material at the bottom and top of each row.
  std::vector<double> radius_low(nz_, 0), radius_high(nz_, 0);
  for (const Part& part : parts) {
    for (std::size_t j = first_row_above(part.z_bottom); j < nz_; ++j) {
      if (z_centre(j) >= part.z_top) break;
      radius_low[j] = radius_at(part, z_edges_[j]);
      radius_high[j] = radius_at(part, z_edges_[j + 1]);
      for (std::size_t i = 0; i < nr_; ++i) {
        const double r1 = r_edges_[i], r2 = r_edges_[i + 1];
        const double full = pi * (r2 * r2 - r1 * r1) * dz(j);
        const double filled = pi * (square_integral(radius_low[j], radius_high[j], r2, dz(j)) -
                                    square_integral(radius_low[j], radius_high[j], r1, dz(j)));
        if (filled < smallest_filling * full) continue;
        region_[index(i, j)] = part.region;
        volume_[index(i, j)] = filled;
      }
    }
  }

  for (std::size_t j = 0; j < nz_; ++j) {
    for (std::size_t i = 0; i < nr_; ++i) {
      const std::size_t cell = index(i, j);
      if (region_[cell] == 0) continue;
      const double face = r_edges_[i + 1];
      // The rim of a part that ends on this face is open as well: a boundary can be set there.
      const bool at_rim = i + 1 == nr_ || region_[index(i + 1, j)] == 0;
      const double height =
          at_rim ? open_height(radius_low[j], radius_high[j], face * (1 - 1e-9), dz(j))
                 : open_height(radius_low[j], radius_high[j], face, dz(j));
      if (height > 0) {
        radial_area_[cell] = 2 * pi * face * height;
        const double inner = r_centre(i);
        const double outer = i + 1 < nr_ ? r_centre(i + 1) : face;
        if (face > log_beyond) {
          radial_inner_[cell] = std::log(face / inner) / (2 * pi * height);
          radial_outer_[cell] = std::log(outer / face) / (2 * pi * height);
        } else {
          radial_inner_[cell] = (face - inner) / radial_area_[cell];
          radial_outer_[cell] = (outer - face) / radial_area_[cell];
        }
      }
      const bool covered = j + 1 < nz_ && region_[index(i, j + 1)] != 0;
      const double open_radius =
          covered ? std::min(radius_high[j], radius_low[j + 1]) : radius_high[j];
      const double area = ring_area_inside(i, open_radius);
      axial_area_[cell] = area;
      if (area > 0) {
        axial_inner_[cell] = 0.5 * dz(j) / area;
        axial_outer_[cell] = j + 1 < nz_ ? 0.5 * dz(j + 1) / area : 0;
      }
      if (j == 0) {
        bottom_area_[i] = ring_area_inside(i, radius_low[0]);
        if (bottom_area_[i] > 0) bottom_outer_[i] = 0.5 * dz(0) / bottom_area_[i];
      }
    }
  }
}

std::size_t AxisymmetricGrid::first_row_above(double z) const {
  std::size_t row = row_at(z);
  while (row < nz_ && z_centre(row) <= z) ++row;
  return row;
}

double AxisymmetricGrid::disc_area(double radius) { return pi * radius * radius; }

double AxisymmetricGrid::ring_area_inside(std::size_t i, double a) const {
  const double r1 = std::min(r_edges_[i], a), r2 = std::min(r_edges_[i + 1], a);
  return pi * (r2 * r2 - r1 * r1);
}

namespace {
std::size_t interval_at(const std::vector<double>& edges, double x) {
  const auto above = std::upper_bound(edges.begin(), edges.end(), x);
  if (above == edges.begin()) return 0;
  const auto n = static_cast<std::size_t>(above - edges.begin()) - 1;
  return std::min(n, edges.size() - 2);
}
std::size_t edge_at(const std::vector<double>& edges, double x) {
  const double tolerance = 1e-9 * (edges.back() - edges.front());
  const auto near = std::lower_bound(edges.begin(), edges.end(), x - tolerance);
  if (near == edges.end() || std::abs(*near - x) > tolerance)
    throw std::out_of_range("no grid edge at this coordinate");
  return static_cast<std::size_t>(near - edges.begin());
}
}  // namespace

std::size_t AxisymmetricGrid::row_at(double z) const { return interval_at(z_edges_, z); }
std::size_t AxisymmetricGrid::row_edge(double z) const { return edge_at(z_edges_, z); }

}  // namespace tabmelt::mesh
