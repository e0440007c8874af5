// Cells and faces of revolution around the z axis.
//
// A grid is the product of radial edges r_0 = 0 < r_1 < ... and axial edges
// z_0 < z_1 < ...; cell (i, j) is the ring r_i..r_{i+1}, z_j..z_{j+1}. Each cell
// belongs to one region (0 is empty space). A region may fill a cell only in
// part (a tapered electrode does): the grid then reports the filled volume and
// the open part of each face. Nothing outside this folder computes with a radius.
//
//   index(i, j) = j * nr + i       r runs fastest, j counts upwards
//
//   volume              [m^3]   filled volume of a cell
//   radial_area(i, j)   [m^2]   open area of the face between (i, j) and (i+1, j)
//   axial_area(i, j)    [m^2]   open area of the face between (i, j) and (i, j+1)
//   *_inner, *_outer    [1/m]   integral of ds/A from a cell centre to that face:
//                               with conductivities k1, k2 [W/m/K or S/m] on the
//                               two sides the face conducts
//                                   G = 1 / (inner/k1 + outer/k2)      [W/K or S]
//
// Radial half distances use ds/A = dr/(2 pi r_face dz) (exact for T ~ r^2, the
// regular field at the axis) for faces up to `log_beyond` and the exact
// logarithm, exact for T ~ ln r, outside it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

namespace tabmelt::mesh {

// Region number of cells that hold nothing.
inline constexpr std::uint8_t empty = 0;

// A ring-shaped or full body of revolution: a frustum between two heights.
struct Part {
  std::string name;
  std::uint8_t region = 0;   // 1..255; several parts may share a region
  double z_bottom = 0;       // [m]
  double z_top = 0;          // [m]
  double radius_bottom = 0;  // [m] outer radius at z_bottom
  double radius_top = 0;     // [m] outer radius at z_top
};

class AxisymmetricGrid {
 public:
  AxisymmetricGrid() = default;
  // Throws std::invalid_argument if edges do not increase or r_edges[0] != 0.
  AxisymmetricGrid(std::vector<double> r_edges, std::vector<double> z_edges,
                   const std::vector<Part>& parts,
                   double log_beyond = std::numeric_limits<double>::infinity());

  std::size_t nr() const { return nr_; }
  std::size_t nz() const { return nz_; }
  std::size_t cells() const { return nr_ * nz_; }
  std::size_t index(std::size_t i, std::size_t j) const { return j * nr_ + i; }

  const std::vector<double>& r_edges() const { return r_edges_; }
  const std::vector<double>& z_edges() const { return z_edges_; }
  double r_centre(std::size_t i) const { return 0.5 * (r_edges_[i] + r_edges_[i + 1]); }
  double z_centre(std::size_t j) const { return 0.5 * (z_edges_[j] + z_edges_[j + 1]); }
  double dz(std::size_t j) const { return z_edges_[j + 1] - z_edges_[j]; }

  std::uint8_t region(std::size_t cell) const { return region_[cell]; }
  const std::vector<std::uint8_t>& regions() const { return region_; }
  double volume(std::size_t cell) const { return volume_[cell]; }
  const std::vector<double>& volumes() const { return volume_; }

  // Face between (i, j) and (i+1, j), stored at index(i, j); the last column holds the rim.
  double radial_area(std::size_t cell) const { return radial_area_[cell]; }
  double radial_inner(std::size_t cell) const { return radial_inner_[cell]; }
  double radial_outer(std::size_t cell) const { return radial_outer_[cell]; }
  // Face between (i, j) and (i, j+1), stored at index(i, j); the last row holds the top.
  double axial_area(std::size_t cell) const { return axial_area_[cell]; }
  double axial_inner(std::size_t cell) const { return axial_inner_[cell]; }
  double axial_outer(std::size_t cell) const { return axial_outer_[cell]; }
  // Bottom faces of the lowest row.
  double bottom_area(std::size_t i) const { return bottom_area_[i]; }
  double bottom_outer(std::size_t i) const { return bottom_outer_[i]; }

  // Area of the ring between two radii [m^2], and of the part of ring i inside radius a.
  static double disc_area(double radius);
  double ring_area_inside(std::size_t i, double a) const;

  // Number of the row that holds a coordinate; clamped to the grid.
  std::size_t row_at(double z) const;
  // Index of an edge at this height (within 1e-9 of the extent); throws std::out_of_range.
  std::size_t row_edge(double z) const;

 private:
  std::size_t first_row_above(double z) const;  // whose middle lies above this height

  std::size_t nr_ = 0, nz_ = 0;
  std::vector<double> r_edges_, z_edges_;
  std::vector<std::uint8_t> region_;
  std::vector<double> volume_;
  std::vector<double> radial_area_, radial_inner_, radial_outer_;
  std::vector<double> axial_area_, axial_inner_, axial_outer_;
  std::vector<double> bottom_area_, bottom_outer_;
};

}  // namespace tabmelt::mesh
