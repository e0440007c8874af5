#include "solver/electric_potential/potential.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tabmelt {

using Index = Eigen::Index;

Potential::Potential(const mesh::AxisymmetricGrid& grid, RowRange rows,
                     std::vector<ContactPlane> planes, std::vector<GroundedRim> rims)
    : grid_(&grid), rows_(rows), planes_(std::move(planes)), rims_(std::move(rims)) {
  if (rims_.empty()) throw std::invalid_argument("Potential: no rim is grounded");
  const auto n = static_cast<Index>(grid.nr() * rows_.count);
  phi_.setZero(n);
  heat_.setZero(n);
  right_.setZero(n);
  none_.setZero(n);
  allowed_.setOnes(n);
  for (const GroundedRim& rim : rims_)
    for (std::size_t j = rim.first_row; j < rim.first_row + rim.rows; ++j)
      for (std::size_t i = rim.column_edge; i < grid.nr(); ++i)
        allowed_[static_cast<Index>((j - rows_.first) * grid.nr() + i)] = 0;
  for (const ContactPlane& plane : planes_) {
    ContactCurrent c;
    c.current.assign(plane.columns, 0);
    c.voltage.assign(plane.columns, 0);
    c.heat.assign(plane.columns, 0);
    contacts_.push_back(c);
    metal_heat_.emplace_back(plane.columns);
    contact_faces_.emplace_back(plane.columns);
    touching_rows_.push_back({plane.below - rows_.first, 2});
  }
}

void Potential::take_sigma(const Field& sigma) {
  const mesh::AxisymmetricGrid& grid = *grid_;
  const std::size_t offset = rows_.first * grid.nr();
  asked_sigma_ = sigma;
  sigma_ = sigma * allowed_;
  set_faces(grid, rows_, sigma_, sigma_, faces_);
  for (const ContactPlane& plane : planes_)
    faces_.axial.segment(static_cast<Index>((plane.below - rows_.first) * grid.nr()),
                         static_cast<Index>(grid.nr())) = 0;
  for (const GroundedRim& rim : rims_) {
    for (std::size_t j = rim.first_row; j < rim.first_row + rim.rows; ++j) {
      const std::size_t cell = grid.index(rim.column_edge - 1, j);
      const auto c = static_cast<Index>(cell - offset);
      if (sigma_[c] > 0 && grid.radial_area(cell) > 0)
        faces_.boundary[c] = sigma_[c] / grid.radial_inner(cell);
    }
  }
  const std::size_t top = rows_.first + rows_.count - 1;
  double top_area = 0;
  for (std::size_t i = 0; i < grid.nr(); ++i)
    if (sigma_[static_cast<Index>(grid.index(i, top) - offset)] > 0)
      top_area += grid.axial_area(grid.index(i, top));
  for (std::size_t i = 0; i < grid.nr(); ++i) {
    const std::size_t cell = grid.index(i, top);
    const auto c = static_cast<Index>(cell - offset);
    right_[c] = sigma_[c] > 0 ? grid.axial_area(cell) / top_area : 0.0;
  }
}

// Heat that edge_share.h counts to the contact though the lattice has it in the metal. It lies
// about the edge: in the edge column and the one inside it.
void Potential::share_edge_heat(std::size_t p) {
  const EdgeShare& edge = edges_[p];
  const std::size_t m = edge.column;
  if (m >= planes_[p].columns || contacts_[p].current[m] == 0) return;
  const double current = contacts_[p].current[m];
  const double excess =
      current * current * edge.slope * edge.share / contact_faces_[p][m].conductance();
  const auto move = [&](std::size_t i, double heat) {
    heat = std::clamp(heat, -contacts_[p].heat[i], metal_heat_[p][i]);
    contacts_[p].heat[i] += heat;
    metal_heat_[p][i] -= heat;
  };
  move(m, (m > 0 ? edge.touching : 1) * excess);
  if (m > 0) move(m - 1, (1 - edge.touching) * excess);
}

PotentialOutcome Potential::solve(const Field& sigma, const std::vector<std::vector<double>>& g,
                                  const std::vector<EdgeShare>& edges, double relative_tolerance,
                                  int limit) {
  const mesh::AxisymmetricGrid& grid = *grid_;
  const std::size_t nr = grid.nr();
  // While contacts settle, only their conductances change from call to call.
  const bool same = asked_sigma_.size() == sigma.size() && (asked_sigma_ == sigma).all();
  if (!same) take_sigma(sigma);
  edges_ = edges;
  for (std::size_t p = 0; p < planes_.size(); ++p) {
    const ContactPlane& plane = planes_[p];
    for (std::size_t i = 0; i < plane.columns; ++i) {
      const auto lower = static_cast<Index>((plane.below - rows_.first) * nr + i);
      const auto upper = lower + static_cast<Index>(nr);
      if (sigma_[lower] <= 0 || sigma_[upper] <= 0) continue;
      contact_faces_[p][i] = contact_face(grid, plane, i, sigma_[lower], sigma_[upper], g[p][i],
                                          edges_[p].share_in(i));
      faces_.axial[lower] = contact_faces_[p][i].conductance();
    }
  }
  if (same)
    linear_.set_rows(faces_, none_, touching_rows_);
  else
    linear_.set_operator(faces_, none_);
  PotentialOutcome outcome;
  const LinearOutcome solved = linear_.solve(right_, relative_tolerance, limit, phi_);
  outcome.iterations = solved.iterations;
  outcome.converged = solved.converged;
  pass_contacts(outcome);
  return outcome;
}

void Potential::pass_contacts(PotentialOutcome& outcome) {
  const mesh::AxisymmetricGrid& grid = *grid_;
  const std::size_t nr = grid.nr(), offset = rows_.first * nr;
  for (std::size_t p = 0; p < planes_.size(); ++p) {
    for (std::size_t i = 0; i < planes_[p].columns; ++i) {
      const auto lower = static_cast<Index>((planes_[p].below - rows_.first) * nr + i);
      const auto upper = lower + static_cast<Index>(nr);
      const double current =
          faces_.axial[lower] > 0 ? faces_.axial[lower] * (phi_[upper] - phi_[lower]) : 0.0;
      contacts_[p].current[i] = current;
      contacts_[p].voltage[i] = current != 0 ? current * contact_faces_[p][i].contact : 0;
      contacts_[p].heat[i] = current * contacts_[p].voltage[i];
      metal_heat_[p][i] =
          current * current * (contact_faces_[p][i].lower + contact_faces_[p][i].upper);
    }
    share_edge_heat(p);
  }
  for (const double share : contacts_.back().current) outcome.can_share += share;
  const std::size_t top = rows_.first + rows_.count - 1;
  for (std::size_t i = 0; i < nr; ++i) {
    const std::size_t cell = grid.index(i, top);
    const auto c = static_cast<Index>(cell - offset);
    if (right_[c] > 0)
      outcome.resistance += right_[c] * (phi_[c] + right_[c] * grid.axial_inner(cell) / sigma_[c]);
  }
}

double Potential::find_heat() {
  const mesh::AxisymmetricGrid& grid = *grid_;
  const std::size_t nr = grid.nr(), offset = rows_.first * nr;
  const auto step = static_cast<Index>(nr);
  // Each face's heat, shared by the resistances on its two sides.
  heat_ = faces_.boundary * phi_.square();
  for (std::size_t j = 0; j < rows_.count; ++j) {
    bool across = j + 1 < rows_.count;
    for (const ContactPlane& plane : planes_) across = across && plane.below != j + rows_.first;
    for (std::size_t i = 0; i < nr; ++i) {
      const std::size_t local = j * nr + i, cell = local + offset;
      const auto c = static_cast<Index>(local);
      if (faces_.radial[c] > 0) {
        const double current = faces_.radial[c] * (phi_[c] - phi_[c + 1]);
        heat_[c] += current * current * grid.radial_inner(cell) / sigma_[c];
        heat_[c + 1] += current * current * grid.radial_outer(cell) / sigma_[c + 1];
      }
      if (across && faces_.axial[c] > 0) {
        const double current = faces_.axial[c] * (phi_[c] - phi_[c + step]);
        heat_[c] += current * current * grid.axial_inner(cell) / sigma_[c];
        heat_[c + step] += current * current * grid.axial_outer(cell) / sigma_[c + step];
      }
    }
  }
  double contact_heat = 0;
  for (std::size_t p = 0; p < planes_.size(); ++p) {
    for (std::size_t i = 0; i < planes_[p].columns; ++i) {
      const auto lower = static_cast<Index>((planes_[p].below - rows_.first) * nr + i);
      if (contacts_[p].current[i] != 0) {
        const ContactFace& face = contact_faces_[p][i];
        const double below = metal_heat_[p][i] * face.lower / (face.lower + face.upper);
        heat_[lower] += below;
        heat_[lower + step] += metal_heat_[p][i] - below;
      }
      contact_heat += contacts_[p].heat[i];
    }
  }
  const std::size_t top = rows_.first + rows_.count - 1;
  for (std::size_t i = 0; i < nr; ++i) {
    const std::size_t cell = grid.index(i, top);
    const auto c = static_cast<Index>(cell - offset);
    if (right_[c] > 0) heat_[c] += right_[c] * right_[c] * grid.axial_inner(cell) / sigma_[c];
  }
  return heat_.sum() + contact_heat;
}

std::vector<double> Potential::current_density() const {
  const mesh::AxisymmetricGrid& grid = *grid_;
  const std::size_t nr = grid.nr(), offset = rows_.first * nr;
  std::vector<double> density(2 * nr * rows_.count, 0);
  const auto step = static_cast<Index>(nr);
  for (std::size_t j = 0; j < rows_.count; ++j) {
    for (std::size_t i = 0; i < nr; ++i) {
      const std::size_t local = j * nr + i, cell = local + offset;
      const auto c = static_cast<Index>(local);
      if (sigma_[c] <= 0) continue;
      double out = 0, in = 0;  // radial density at outer and inner face
      if (grid.radial_area(cell) > 0) {
        out =
            faces_.boundary[c] > 0
                ? faces_.boundary[c] * phi_[c] / grid.radial_area(cell)
                : (i + 1 < nr ? faces_.radial[c] * (phi_[c] - phi_[c + 1]) / grid.radial_area(cell)
                              : 0.0);
      }
      if (i > 0 && grid.radial_area(cell - 1) > 0)
        in = faces_.radial[c - 1] * (phi_[c - 1] - phi_[c]) / grid.radial_area(cell - 1);
      double up = 0, low = 0;  // upward density at top and bottom face
      if (grid.axial_area(cell) > 0)
        up = j + 1 < rows_.count
                 ? faces_.axial[c] * (phi_[c] - phi_[c + step]) / grid.axial_area(cell)
                 : -right_[c] / grid.axial_area(cell);
      if (j > 0 && grid.axial_area(cell - nr) > 0)
        low = faces_.axial[c - step] * (phi_[c - step] - phi_[c]) / grid.axial_area(cell - nr);
      density[2 * local] = 0.5 * (in + out);
      density[2 * local + 1] = 0.5 * (low + up);
    }
  }
  return density;
}

}  // namespace tabmelt
