// Exact solutions of heat conduction and of melting against the solver's heat step.
#include <algorithm>
#include <cmath>

#include "tests/agreement/row.h"
#include "tests/support/slab.h"
#include "tests/verification/heated_body.h"

namespace tabmelt::agreement {
namespace {

const exact::UniformSolid steel{50, 7850, 500}, nickel{80, 8900, 500}, copper{390, 8960, 390};
constexpr double cold = 300;
const std::string carslaw = "Carslaw & Jaeger, 2nd ed. (1959), ";

double depth(double time) { return 8 * std::sqrt(steel.diffusivity() * time); }

HeatedBody half_space(double time) {
  return {column(geometric_edges(depth(time), 160, std::pow(60.0, 1.0 / 160))),
          {constant_metal(steel)},
          cold};
}

// Rise of the surface under a flux of 1e8 W/m^2 that ends at `off`.
double flux_heated(double off, double time) {
  HeatedBody body = half_space(time);
  std::vector<double> moments = graded_moments(std::min(off, time), 200, 3);
  if (time > off)
    for (const double t : graded_moments(time - off, 200, 3)) moments.push_back(off + t);
  const double q = 1e8;
  body.march(moments, [&](double t, Field& heat) { heat[0] += t < off ? q : 0; });
  return body.T_at(0, 0) - cold + (time < off ? q * body.grid().dz(0) / (2 * 50) : 0);
}

// Heat taken in [J/m^2] at a surface held at 1000 K above the start, behind h.
HeatedBody held(double time, double h) {
  HeatedBody body = half_space(time);
  body.hold(HeatedBody::Side::bottom, cold + 1000, h);
  body.march(graded_moments(time, 400, 3));
  return body;
}

double convection_heated(double time) {
  const double h = 2e5;
  const HeatedBody body = held(time, h);
  const double half = 2 * steel.conductivity / body.grid().dz(0);
  return (h * (cold + 1000) + half * body.T_at(0, 0)) / (h + half) - cold;
}

// Mean of a slab of half thickness 0.15 mm after both faces are quenched; 1 at the start.
double quenched_slab(double time) {
  HeatedBody body(column(even_edges(0, 1.5e-4, 60)), {constant_metal(steel)}, 400);
  body.hold(HeatedBody::Side::top, cold);
  body.march(graded_moments(time, 300));
  double mean = 0;
  for (std::size_t j = 0; j < 60; ++j) mean += (body.T_at(0, j) - cold) / 100 / 60;
  return mean;
}

double quenched_cylinder(double time) {
  const int cells = 80;
  HeatedBody body(full_cylinder(even_edges(0, 1e-3, cells), {0, 1e-3}), {constant_metal(copper)},
                  400);
  body.hold(HeatedBody::Side::rim, cold);
  body.march(graded_moments(time, 300));
  double sum = 0, volume = 0;
  for (std::size_t i = 0; i < static_cast<std::size_t>(cells); ++i) {
    sum += body.grid().volume(i) * (body.T_at(i, 0) - cold) / 100;
    volume += body.grid().volume(i);
  }
  return sum / volume;
}

// Centre of a disk of 0.5 mm that takes up 1e8 W/m^2.
double disk_centre(double time) {
  const double a = 5e-4, q = 1e8, far = 7 * std::sqrt(steel.diffusivity() * time);
  std::vector<double> r = even_edges(0, a, 60);
  for (const double e : geometric_edges(far, 60, 1.06))
    if (e > 0) r.push_back(a + e);
  HeatedBody body(full_cylinder(r, geometric_edges(far, 90, 1.045)), {constant_metal(steel)}, cold);
  body.march(graded_moments(time, 80, 3), [&](double, Field& heat) {
    for (std::size_t i = 0; i < 60; ++i)
      heat[static_cast<Eigen::Index>(i)] += q * body.grid().ring_area_inside(i, a);
  });
  // The half cell above carries the flux; level at the axis.
  return body.T_at(0, 0) - cold + q * body.grid().dz(0) / (2 * steel.conductivity) +
         (body.T_at(0, 0) - body.T_at(1, 0)) / 8;
}

// Two half-spaces, nickel at 1200 K above z = 0, steel at 300 K below.
struct Touch {
  double flux = 0, second = 0;
};

Touch touched(double h, double time) {
  std::vector<double> z;
  const auto lower = geometric_edges(8 * std::sqrt(steel.diffusivity() * time), 100, 1.035);
  for (auto e = lower.rbegin(); e != lower.rend(); ++e) z.push_back(-*e);
  z.back() = 0;
  for (const double e : geometric_edges(8 * std::sqrt(nickel.diffusivity() * time), 100, 1.035))
    if (e > 0) z.push_back(e);
  const mesh::AxisymmetricGrid grid(
      {0, 1e-3}, z,
      {{"second", 2, z.front(), 0, 1e-3, 1e-3}, {"first", 1, 0, z.back(), 1e-3, 1e-3}});
  HeatedBody body(grid, {constant_metal(nickel), constant_metal(steel)}, cold);
  body.start_from([](double, double height) { return height > 0 ? 1200 : 300; });
  body.touch(0, h);
  body.march(graded_moments(time, 200, 3));
  const std::size_t below = grid.row_edge(0) - 1;
  const double half1 = 0.5 * grid.dz(below + 1) / nickel.conductivity;
  const double half2 = 0.5 * grid.dz(below) / steel.conductivity;
  Touch t;
  t.flux = (body.T_at(0, below + 1) - body.T_at(0, below)) / (half1 + 1 / h + half2);
  t.second = body.T_at(0, below) + t.flux * half2;
  return t;
}

// alpha t/L^2 at which the far face of a flash-heated wall has half its final rise; the flash fills
// the first of 80 cells.
double half_time() {
  constexpr int cells = 80;
  constexpr double thickness = 2.5e-4, rise = 100;
  HeatedBody body(column(even_edges(0, thickness, cells)), {constant_metal(steel)}, cold);
  body.start_from(
      [&](double, double z) { return z < thickness / cells ? cold + cells * rise : cold; });
  const double unit = thickness * thickness / steel.diffusivity();
  std::vector<double> moments = graded_moments(0.1 * unit, 200, 3);
  for (int n = 1; n <= 200; ++n) moments.push_back((0.1 + 0.0005 * n) * unit);
  double before = 0, before_time = 0;
  for (const double time : moments) {
    body.march({time});
    // At cell centres; the face is a parabola of no slope away from the last of them.
    const double now = (9 * body.T_at(0, cells - 1) - body.T_at(0, cells - 2)) / 8 - cold;
    if (now >= 0.5 * rise)
      return (before_time + (time - before_time) * (0.5 * rise - before) / (now - before)) / unit;
    before = now;
    before_time = time;
  }
  return 0;
}

// A thin wall of 0.15 mm per unit of its area that loses heat by h alone; Biot number 4e-5.
double lumped(double time) {
  const double thickness = 1.5e-4;
  HeatedBody body(column(even_edges(0, thickness, 4)), {constant_metal(steel)}, cold + 600);
  body.hold(HeatedBody::Side::top, cold, 25);
  body.march(graded_moments(time, 200, 1));
  return body.T_at(0, 0) - cold;
}

struct Molten {
  double heat = 0, depth = 0;
};

// A wall held at 2500 K melts its way into metal at 300 K; round numbers near nickel.
Molten melted(double solidus, double liquidus, double time) {
  Material m;
  m.name = "melting metal";
  m.density = 8900;
  m.specific_heat = Curve::constant(600);
  m.specific_heat_liquid = Curve::constant(730);
  m.thermal_conductivity = Curve::constant(75);
  m.thermal_conductivity_liquid = Curve::constant(60);
  m.melting = Melting{solidus, liquidus, 298000};
  const double deep = 8 * std::sqrt(75 / (8900 * 600.0) * time);
  HeatedBody body(column(geometric_edges(deep, 300, std::pow(20.0, 1.0 / 300))), {m}, cold);
  body.hold(HeatedBody::Side::bottom, 2500);
  body.march(graded_moments(time, 600, 2));
  Molten out;
  out.heat = body.heat_taken();
  for (std::size_t j = 0; j < body.grid().nz(); ++j)
    out.depth += body.law(j).liquid_fraction(body.T_at(0, j)) * body.grid().dz(j);
  return out;
}

}  // namespace

Section exact_heat() {
  Section s{"Exact: conduction of heat",
            "Constant properties. Grids and steps are those of a fine run; the order of each is in "
            "`tests/verification`.",
            {}};
  const double band = 1e-3;
  s.rows = {{"half-space under flux, surface at 5 ms [K]", carslaw + "2.9", 569.554422946,
             flux_heated(1, 5e-3), band},
            {"... 0.5 ms after a pulse of 2 ms [K]", carslaw + "2.9", 222.626871927,
             flux_heated(2e-3, 2.5e-3), band},
            {"half-space, surface step, heat at 2 ms [J/m²]", carslaw + "2.5", 706927.521963,
             held(2e-3, INFINITY).heat_taken(), band},
            {"half-space behind a conductance, surface at 2 ms [K]", carslaw + "2.7", 448.958234561,
             convection_heated(2e-3), band},
            {"disk on a half-space, centre at 10 ms [K]", carslaw + "10.5", 634.217141884,
             disk_centre(1e-2), band},
            {"quenched slab, mean at 0.5 ms [1]", carslaw + "3.3", 0.403294491184,
             quenched_slab(5e-4), band},
            {"quenched cylinder, mean at 2 ms [1]", carslaw + "7.6", 0.19037051596,
             quenched_cylinder(2e-3), band},
            {"nickel on steel, h = 5e5, flux at 5 ms [W/m²]", carslaw + "2.14, Laplace transform",
             5.63430442099e7, touched(5e5, 5e-3).flux, band},
            {"nickel on steel, perfect contact, interface [K]", carslaw + "2.15", 816.507707261,
             touched(1e15, 5e-3).second, band},
            {"flash: α t/L² at half the rise of the far face [1]",
             "Parker et al., J. Appl. Phys. 32 (1961) 1679, rounded there to 0.1388",
             0.138785297043, half_time(), 2e-3},
            {"thin wall cooled by h, at 30 s [K]", "exponential; Biot number far below 0.1",
             167.845565709, lumped(30), band}};
  return s;
}

Section exact_melting() {
  Section s{
      "Exact: a melting front",
      "Three regions, liquid, mush and solid, with an error function each; the mush has the "
      "mean\nconductivity there and blends here. Depth is the integral of the liquid fraction. "
      "The sharp front,\nwhich is not what an enthalpy method solves, comes for comparison.",
      {}};
  const std::string alexiades =
      "Alexiades & Solomon, Melting and Freezing Processes (1993), ch. 2; shooting";
  const double time = 1e-2, root = std::sqrt(time);
  const Molten narrow = melted(1718, 1738, time), wide = melted(1678, 1778, time);
  s.rows = {{"range of 20 K, heat at 10 ms [J/m²]", alexiades, 2 * 2.56664445305e7 * root,
             narrow.heat, 1e-3},
            {"range of 100 K, heat at 10 ms [J/m²]", alexiades, 2 * 2.56804010881e7 * root,
             wide.heat, 1e-3},
            {"range of 20 K, depth against Neumann's sharp front [m]", carslaw + "11.2",
             1.86151802699e-4, narrow.depth, 0.01}};
  return s;
}

}  // namespace tabmelt::agreement
