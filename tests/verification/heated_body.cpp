#include "tests/verification/heated_body.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "solver/coupling/surfaces.h"

namespace tabmelt {

using Index = Eigen::Index;

HeatedBody::HeatedBody(mesh::AxisymmetricGrid grid, std::vector<Material> materials, double start)
    : grid_(std::move(grid)), materials_(std::move(materials)) {
  for (const Material& m : materials_) enthalpies_.push_back(std::make_unique<Enthalpy>(m));
  for (std::size_t c = 0; c < grid_.cells(); ++c) {
    const std::uint8_t region = grid_.region(c);
    laws_.push_back(region == 0 ? nullptr : enthalpies_[region - 1U].get());
  }
  const auto n = static_cast<Index>(grid_.cells());
  H_.setZero(n);
  T_.setConstant(n, start);
  rate_.setZero(n);
  start_from([start](double, double) { return start; });
}

void HeatedBody::start_from(const std::function<double(double r, double z)>& temperature) {
  for (std::size_t c = 0; c < grid_.cells(); ++c) {
    if (!laws_[c]) continue;
    const auto n = static_cast<Index>(c);
    T_[n] = temperature(grid_.r_centre(c % grid_.nr()), grid_.z_centre(c / grid_.nr()));
    H_[n] = laws_[c]->at(T_[n]);
  }
}

void HeatedBody::hold(Side side, double temperature, double h) {
  held_.push_back({side, h});
  held_temperature_ = temperature;
}

void HeatedBody::touch(double z, double h, double q) {
  touch(z, h, [q](double, double) { return q; });
}

void HeatedBody::touch(double z, double h, ContactHeat q) {
  Touching t{{grid_.row_edge(z) - 1, grid_.nr(), {}, {}}, h, std::move(q)};
  for (std::size_t i = 0; i < grid_.nr(); ++i) {
    const double area = grid_.axial_area(grid_.index(i, t.plane.below));
    t.plane.area.push_back(area);
    t.plane.open_area.push_back(area);
  }
  touching_.push_back(t);
}

void HeatedBody::set_boundary(const Held& held, const Field& k_r, const Field& k_z) {
  const auto add = [&](std::size_t cell, double k, double distance, double area) {
    if (laws_[cell] && area > 0)
      faces_.boundary[static_cast<Index>(cell)] += 1 / (distance / k + 1 / (held.h * area));
  };
  for (std::size_t i = 0; held.side == Side::bottom && i < grid_.nr(); ++i)
    add(i, k_z[static_cast<Index>(i)], grid_.bottom_outer(i), grid_.bottom_area(i));
  for (std::size_t i = 0; held.side == Side::top && i < grid_.nr(); ++i) {
    const std::size_t cell = grid_.index(i, grid_.nz() - 1);
    add(cell, k_z[static_cast<Index>(cell)], grid_.axial_inner(cell), grid_.axial_area(cell));
  }
  for (std::size_t j = 0; held.side == Side::rim && j < grid_.nz(); ++j) {
    const std::size_t cell = grid_.index(grid_.nr() - 1, j);
    add(cell, k_r[static_cast<Index>(cell)], grid_.radial_inner(cell), grid_.radial_area(cell));
  }
}

void HeatedBody::set_operator(const Field& T, double time) {
  Field k_z = Field::Zero(T.size()), k_r = k_z;
  for (std::size_t c = 0; c < grid_.cells(); ++c) {
    if (!laws_[c]) continue;
    const auto n = static_cast<Index>(c);
    k_z[n] = materials_[grid_.region(c) - 1U].conductivity_z(T[n]);
    k_r[n] = materials_[grid_.region(c) - 1U].conductivity_r(T[n]);
  }
  set_faces(grid_, {0, grid_.nz()}, k_r, k_z, faces_);
  contact_heat_.setZero(T.size());
  for (const Touching& t : touching_) {
    for (std::size_t i = 0; i < grid_.nr(); ++i) {
      const auto lower = static_cast<Index>(grid_.index(i, t.plane.below));
      const Index upper = lower + static_cast<Index>(grid_.nr());
      const ContactFace face = contact_face(grid_, t.plane, i, k_z[lower], k_z[upper], t.h);
      faces_.axial[lower] = face.conductance();
      const HeatShare share =
          contact_heat_share(face, t.q(grid_.r_centre(i), time) * t.plane.area[i]);
      contact_heat_[lower] += share.lower;
      contact_heat_[upper] += share.upper;
    }
  }
  for (const Held& held : held_) set_boundary(held, k_r, k_z);
}

void HeatedBody::march(const std::vector<double>& moments, const Source& source) {
  HeatStep step(grid_, laws_, {1e-9, 100, 400});
  for (const double moment : moments) {
    const double dt = moment - time_;
    if (dt <= 0) continue;
    Field middle = T_;
    step.temperatures(H_ + 0.5 * dt * rate_, middle);
    // Right after a sudden start the rate says nothing about half a step ahead.
    set_operator(middle.min(T_.maxCoeff() + 500).max(T_.minCoeff() - 500).max(100.0),
                 time_ + 0.5 * dt);
    Field heat = contact_heat_;
    if (source) source(time_ + 0.5 * dt, heat);
    const HeatStepOutcome outcome =
        step.advance(faces_, heat, held_temperature_, dt, H_, T_, rate_);
    if (!outcome.converged) throw std::runtime_error("heat step did not converge");
    conducted_out_ += outcome.conducted_out;
    time_ = moment;
  }
}

double HeatedBody::mean_square_error(const std::function<double(double r, double z)>& exact) const {
  double sum = 0, volume = 0;
  for (std::size_t c = 0; c < grid_.cells(); ++c) {
    if (!laws_[c]) continue;
    const double e = T_[static_cast<Index>(c)] -
                     exact(grid_.r_centre(c % grid_.nr()), grid_.z_centre(c / grid_.nr()));
    sum += grid_.volume(c) * e * e;
    volume += grid_.volume(c);
  }
  return std::sqrt(sum / volume);
}

Material constant_metal(const exact::UniformSolid& solid) {
  Material m;
  m.name = "metal of constant properties";
  m.density = solid.density;
  m.specific_heat = Curve::constant(solid.specific_heat);
  m.thermal_conductivity = Curve::constant(solid.conductivity);
  return m;
}

std::vector<double> even_edges(double from, double to, int cells) {
  std::vector<double> edges;
  for (int n = 0; n <= cells; ++n) edges.push_back(from + (to - from) * n / cells);
  return edges;
}

std::vector<double> geometric_edges(double to, int cells, double ratio) {
  std::vector<double> edges{0};
  for (int n = 0; n < cells; ++n) edges.push_back(edges.back() + std::pow(ratio, n));
  const double scale = to / edges.back();
  for (double& e : edges) e *= scale;
  edges.back() = to;
  return edges;
}

std::vector<double> graded_moments(double end, int steps, double power) {
  std::vector<double> moments;
  for (int n = 1; n <= steps; ++n)
    moments.push_back(end * std::pow(static_cast<double>(n) / steps, power));
  return moments;
}

mesh::AxisymmetricGrid full_cylinder(std::vector<double> r, std::vector<double> z) {
  const mesh::Part all{"all", 1, z.front(), z.back(), r.back(), r.back()};
  return {std::move(r), std::move(z), {all}};
}

mesh::AxisymmetricGrid column(std::vector<double> z) {
  return full_cylinder({0, 1 / std::sqrt(std::numbers::pi)}, std::move(z));
}

}  // namespace tabmelt
