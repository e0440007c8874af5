// Exact answers of the discretisation itself, and of the enthalpy curve.
#include <cmath>

#include "mesh/axisymmetric_grid.h"
#include "solver/finite_volume/diffusion.h"
#include "solver/finite_volume/line_multigrid.h"
#include "solver/phase_change/enthalpy.h"
#include "tests/agreement/row.h"
#include "tests/support/manufactured_conduction.h"
#include "tests/verification/heated_body.h"

namespace tabmelt::agreement {
namespace {

// Column of two cells with a contact between them: conductance per area from centre to centre.
double face_conductance() {
  const mesh::AxisymmetricGrid grid = column({0, 2e-5, 7e-5});
  ContactPlane plane{0, 1, {grid.ring_area_inside(0, 1)}, {grid.ring_area_inside(0, 1)}};
  return contact_face(grid, plane, 0, 390, 50, 2e5).conductance();
}

// Ten rings of a cylinder of 1 mm that make 1e11 W/m^3, rim held: rise of ring i.
double heated_ring(std::size_t i) {
  const mesh::AxisymmetricGrid grid = full_cylinder(even_edges(0, 1e-3, 10), {0, 1e-3});
  const Field k = Field::Constant(10, 50);
  FaceConductances faces;
  set_faces(grid, {0, 1}, k, k, faces);
  faces.boundary[9] = 50 / grid.radial_inner(9);
  Field heat(10), T = Field::Zero(10);
  for (std::size_t n = 0; n < 10; ++n) heat[static_cast<Eigen::Index>(n)] = 1e11 * grid.volume(n);
  LineMultigrid linear;
  linear.set_operator(faces, Field::Zero(10));
  linear.solve(heat, 1e-14, 100, T);
  return T[static_cast<Eigen::Index>(i)];
}

// The manufactured field on a cylinder of n by n even cells, 2 ms: worst cell [K].
double manufactured_error(int n) {
  const exact::ManufacturedConduction field{1e-3, 8e-4, 400, 2e-3, 60, -4e-4, 4e6};
  const double base = 500;
  Material m;
  m.name = "metal with falling conductivity";
  m.density = 8000;
  m.specific_heat = Curve::constant(500);
  m.thermal_conductivity = {{base - 400, base + 600}, {60 * (1 + 0.16), 60 * (1 - 0.24)}};
  HeatedBody body(full_cylinder(even_edges(0, 1e-3, n), even_edges(0, 8e-4, n)), {m}, base);
  const auto& grid = body.grid();
  body.start_from([&](double r, double z) { return base + field.theta(r, z, 0); });
  body.march(graded_moments(2e-3, 4 * n, 1), [&](double t, Field& heat) {
    const auto at = [&](std::size_t i, std::size_t j) -> double& {
      return heat[static_cast<Eigen::Index>(grid.index(i, j))];
    };
    for (std::size_t j = 0; j < grid.nz(); ++j)
      for (std::size_t i = 0; i < grid.nr(); ++i)
        at(i, j) +=
            field.source(grid.r_centre(i), grid.z_centre(j), t) * grid.volume(grid.index(i, j));
    for (std::size_t i = 0; i < grid.nr(); ++i) {
      const double area = grid.ring_area_inside(i, 1), r = grid.r_centre(i);
      at(i, 0) += field.flux_z(r, 0, t) * area;
      at(i, grid.nz() - 1) -= field.flux_z(r, field.height, t) * area;
    }
    for (std::size_t j = 0; j < grid.nz(); ++j)
      at(grid.nr() - 1, j) -= field.flux_r(field.radius, grid.z_centre(j), t) *
                              grid.radial_area(grid.index(grid.nr() - 1, j));
  });
  return body.mean_square_error([&](double r, double z) { return base + field.theta(r, z, 2e-3); });
}

}  // namespace

Section exact_cells() {
  Section s{"Exact: the cells themselves",
            "What the discrete equations must give to round-off, a manufactured field, and the "
            "enthalpy curve.",
            {}};
  const std::string harmonic = "Patankar, Numerical Heat Transfer and Fluid Flow (1980), 4.2";
  Material m;
  m.name = "test curve";
  m.density = 1;
  m.specific_heat = {{200, 1700}, {428, 608}};
  m.specific_heat_liquid = Curve::constant(730);
  m.melting = Melting{1700, 1728, 298000};
  const Enthalpy law(m);
  const std::string curve = "quadrature of c(T)";
  s.rows = {{"copper on steel, h = 2e5, centre to centre [W/m²/K]", harmonic, 180974.477958,
             face_conductance(), 1e-9},
            {"heated cylinder, innermost of 10 rings [K]",
             "g R²/4k on 10 rings, exact discrete form", 500, heated_ring(0), 1e-9},
            {"... outermost ring [K]", "g R²/4k on 10 rings, exact discrete form", 50,
             heated_ring(9), 1e-9},
            {"manufactured field, error on 16 cells over that on 32 [1]",
             "Roache, J. Fluids Eng. 124 (2002) 4: second order", 4,
             manufactured_error(16) / manufactured_error(32), 0.1},
            {"enthalpy, 300 K to mid-melting 1714 K [J/kg]", curve, 891539,
             law.at(1714) - law.at(300), 1e-9},
            {"temperature at 1 MJ/kg [K]", curve, 1723.5706168, law.temperature(1e6 + law.at(300)),
             1e-9}};
  return s;
}

}  // namespace tabmelt::agreement
