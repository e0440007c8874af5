#include "solver/electric_potential/potential.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tabmelt {

namespace {

// Of the conductance of the cells beside a plane. The multigrid cycle works in single precision and
// finds nothing of what ties two bodies by less than 1e-7.
constexpr double weakest_link = 1e-5;
constexpr int most_passes = 30;

}  // namespace

Potential::Potential(const mesh::AxisymmetricGrid& grid, RowRange rows,
                     std::vector<ContactPlane> planes, std::vector<GroundedRim> rims)
    : grid_(&grid), rows_(rows), planes_(std::move(planes)), rims_(std::move(rims)) {
  if (rims_.empty()) throw std::invalid_argument("Potential: no rim is grounded");
  const auto n = grid.nr() * rows_.count;
  for (Field* field : {&phi_, &deviation_, &driven_}) field->setZero(n);
  heat_.setZero(n);
  right_.setZero(n);
  none_.setZero(n);
  allowed_.setOnes(n);
  for (const GroundedRim& rim : rims_)
    for (std::size_t j = rim.first_row; j < rim.first_row + rim.rows; ++j)
      for (std::size_t i = rim.column_edge; i < grid.nr(); ++i)
        allowed_[(j - rows_.first) * grid.nr() + i] = 0;
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
  bodies_.resize(planes_.size() + 1);
  strengthened_.assign(planes_.size(), 1);
  extra_drive_.resize(planes_.size());
  for (std::size_t j = 0; j < rows_.count; ++j) {
    std::size_t body = 0;
    for (const ContactPlane& plane : planes_) body += j + rows_.first <= plane.below ? 1 : 0;
    body_of_row_.push_back(body);
  }
}

void Potential::take_sigma(const Field& sigma) {
  const mesh::AxisymmetricGrid& grid = *grid_;
  const std::size_t offset = rows_.first * grid.nr();
  asked_sigma_ = sigma;
  sigma_ = sigma * allowed_;
  set_faces(grid, rows_, sigma_, sigma_, faces_);
  for (const ContactPlane& plane : planes_)
    faces_.axial.segment((plane.below - rows_.first) * grid.nr(), grid.nr()) = 0;
  for (const GroundedRim& rim : rims_) {
    for (std::size_t j = rim.first_row; j < rim.first_row + rim.rows; ++j) {
      const std::size_t cell = grid.index(rim.column_edge - 1, j);
      const auto c = cell - offset;
      if (sigma_[c] > 0 && grid.radial_area(cell) > 0)
        faces_.boundary[c] = sigma_[c] / grid.radial_inner(cell);
    }
  }
  const std::size_t top = rows_.first + rows_.count - 1;
  double top_area = 0;
  for (std::size_t i = 0; i < grid.nr(); ++i)
    if (sigma_[grid.index(i, top) - offset] > 0) top_area += grid.axial_area(grid.index(i, top));
  for (std::size_t i = 0; i < grid.nr(); ++i) {
    const std::size_t cell = grid.index(i, top);
    const auto c = cell - offset;
    right_[c] = sigma_[c] > 0 ? grid.axial_area(cell) / top_area : 0.0;
  }
}

double Potential::rise(std::size_t from, std::size_t to) const {
  const auto level = [&](std::size_t c) { return bodies_[body_of_row_[c / grid_->nr()]].level; };
  return deviation_[to] - deviation_[from] + (level(to) - level(from));
}

template <typename Visit>
void Potential::visit_plane(std::size_t p, Visit visit) const {
  const auto nr = grid_->nr();
  const auto first = (planes_[p].below - rows_.first) * nr;
  for (std::size_t c = first; c < first + planes_[p].columns; ++c)
    if (faces_.axial[c] > 0) visit(c, c + nr, faces_.axial[c] / strengthened_[p]);
}

template <typename Visit>
void Potential::visit_ground(Visit visit) const {
  for (const GroundedRim& rim : rims_)
    for (std::size_t j = rim.first_row - rows_.first; j < rim.first_row - rows_.first + rim.rows;
         ++j)
      visit(body_of_row_[j], j * grid_->nr() + rim.column_edge - 1);
}

void Potential::balance_levels() {
  for (Body& body : bodies_) body.surplus = body.ground = body.link = 0;
  bodies_[0].surplus = 1;
  for (std::size_t p = 0; p < planes_.size(); ++p) {
    visit_plane(p, [&](std::size_t lower, std::size_t upper, double conductance) {
      const double current = conductance * rise(lower, upper);
      bodies_[p].surplus -= current;
      bodies_[p + 1].surplus += current;
      bodies_[p].link += conductance;
    });
  }
  visit_ground([&](std::size_t body, std::size_t c) {
    bodies_[body].surplus -= faces_.boundary[c] * (deviation_[c] + bodies_[body].level);
    bodies_[body].ground += faces_.boundary[c];
  });
  // From the top body down, each with what it is tied to ground through those above: sums of
  // positive numbers only, so that no digits are lost however unlike the links are.
  for (std::size_t k = 0; k + 1 < bodies_.size(); ++k) {
    const Body& above = bodies_[k];
    const double all = above.link + above.ground;
    if (all <= 0) continue;
    bodies_[k + 1].surplus += above.surplus * above.link / all;
    bodies_[k + 1].ground += above.ground * above.link / all;
  }
  double below = 0;
  for (std::size_t k = bodies_.size(); k-- > 0;) {
    const double all = bodies_[k].link + bodies_[k].ground;
    below = all > 0 ? (bodies_[k].surplus + bodies_[k].link * below) / all : 0.0;
    bodies_[k].level += below;
  }
}

void Potential::strengthen(std::size_t p) {
  double link = 0, metal = 0;
  strengthened_[p] = 1;
  visit_plane(p, [&](std::size_t lower, std::size_t, double conductance) {
    const ContactFace& face = contact_faces_[p][lower % grid_->nr()];
    link += conductance;
    metal += 1 / std::min(face.lower, face.upper);
  });
  if (link >= weakest_link * metal || link <= 0) return;
  const double strengthened = weakest_link * metal / link;
  visit_plane(p,
              [&](std::size_t lower, std::size_t, double) { faces_.axial[lower] *= strengthened; });
  strengthened_[p] = strengthened;
}

void Potential::drive_deviation() {
  driven_ = right_;
  for (std::size_t p = 0; p < planes_.size(); ++p) {
    const double step = bodies_[p].level - bodies_[p + 1].level;
    extra_drive_[p].clear();
    visit_plane(p, [&](std::size_t lower, std::size_t upper, double conductance) {
      const double extra =
          (faces_.axial[lower] - conductance) * (deviation_[upper] - deviation_[lower]);
      extra_drive_[p].push_back(extra);
      driven_[upper] += extra - conductance * step;
      driven_[lower] -= extra - conductance * step;
    });
  }
  visit_ground([&](std::size_t body, std::size_t c) {
    driven_[c] -= faces_.boundary[c] * bodies_[body].level;
  });
}

double Potential::missing_drive() const {
  double missing = 0;
  for (std::size_t p = 0; p < planes_.size(); ++p) {
    if (strengthened_[p] <= 1) continue;
    std::size_t n = 0;
    visit_plane(p, [&](std::size_t lower, std::size_t upper, double conductance) {
      const double extra =
          (faces_.axial[lower] - conductance) * (deviation_[upper] - deviation_[lower]);
      missing += std::abs(extra - extra_drive_[p][n++]);
    });
  }
  return missing;
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
      const auto lower = (plane.below - rows_.first) * nr + i;
      const auto upper = lower + nr;
      if (sigma_[lower] <= 0 || sigma_[upper] <= 0) continue;
      contact_faces_[p][i] = contact_face(grid, plane, i, sigma_[lower], sigma_[upper], g[p][i],
                                          edges_[p].share_in(i));
      faces_.axial[lower] = contact_faces_[p][i].conductance();
    }
    strengthen(p);
  }
  if (same)
    linear_.set_rows(faces_, none_, touching_rows_);
  else
    linear_.set_operator(faces_, none_);
  PotentialOutcome outcome;
  outcome.converged = make_passes(relative_tolerance, limit, outcome.iterations);
  if (release_planes() && !outcome.converged) {
    // The metal about the poor contact is no good measure of what else the current meets.
    linear_.set_rows(faces_, none_, touching_rows_);
    outcome.converged = make_passes(relative_tolerance, limit, outcome.iterations);
  }
  for (std::size_t j = 0; j < rows_.count; ++j) {
    const auto row = j * nr;
    phi_.segment(row, nr) = deviation_.segment(row, nr) + bodies_[body_of_row_[j]].level;
  }
  pass_contacts(outcome);
  return outcome;
}

bool Potential::make_passes(double relative_tolerance, int limit, int& iterations) {
  double last = std::numeric_limits<double>::infinity();
  balance_levels();
  for (int pass = 0; pass < most_passes; ++pass) {
    drive_deviation();
    const LinearOutcome solved = linear_.solve(driven_, relative_tolerance, limit, deviation_);
    iterations += solved.iterations;
    balance_levels();
    if (!solved.converged) return false;
    const double missing = missing_drive();
    if (missing <= relative_tolerance) return true;
    if (missing > 0.7 * last) return false;
    last = missing;
  }
  return false;
}

bool Potential::release_planes() {
  bool any = false;
  for (std::size_t p = 0; p < planes_.size(); ++p) {
    any = any || strengthened_[p] > 1;
    visit_plane(p, [&](std::size_t lower, std::size_t, double true_one) {
      faces_.axial[lower] = true_one;
    });
    strengthened_[p] = 1;
  }
  return any;
}

void Potential::pass_contacts(PotentialOutcome& outcome) {
  const mesh::AxisymmetricGrid& grid = *grid_;
  const std::size_t nr = grid.nr(), offset = rows_.first * nr;
  for (std::size_t p = 0; p < planes_.size(); ++p) {
    for (std::size_t i = 0; i < planes_[p].columns; ++i) {
      const auto lower = (planes_[p].below - rows_.first) * nr + i;
      const auto upper = lower + nr;
      const double current =
          faces_.axial[lower] > 0 ? faces_.axial[lower] * rise(lower, upper) : 0.0;
      contacts_[p].current[i] = current;
      contacts_[p].voltage[i] = current != 0 ? current * contact_faces_[p][i].contact : 0;
      contacts_[p].heat[i] = current * contacts_[p].voltage[i];
      metal_heat_[p][i] =
          current * current * (contact_faces_[p][i].lower + contact_faces_[p][i].upper);
    }
    share_edge_heat(p);
  }
  if (!contacts_.empty())
    for (const double share : contacts_.back().current) outcome.base_share += share;
  const std::size_t top = rows_.first + rows_.count - 1;
  for (std::size_t i = 0; i < nr; ++i) {
    const std::size_t cell = grid.index(i, top);
    const auto c = cell - offset;
    if (right_[c] > 0)
      outcome.resistance += right_[c] * (phi_[c] + right_[c] * grid.axial_inner(cell) / sigma_[c]);
  }
}

double Potential::find_heat() {
  const mesh::AxisymmetricGrid& grid = *grid_;
  const std::size_t nr = grid.nr(), offset = rows_.first * nr;
  // Each face's heat, shared by the resistances on its two sides.
  heat_ = faces_.boundary * phi_.square();
  for (std::size_t j = 0; j < rows_.count; ++j) {
    bool across = j + 1 < rows_.count;
    for (const ContactPlane& plane : planes_) across = across && plane.below != j + rows_.first;
    for (std::size_t i = 0; i < nr; ++i) {
      const std::size_t c = j * nr + i, cell = c + offset;
      if (faces_.radial[c] > 0) {
        const double current = faces_.radial[c] * (deviation_[c] - deviation_[c + 1]);
        heat_[c] += current * current * grid.radial_inner(cell) / sigma_[c];
        heat_[c + 1] += current * current * grid.radial_outer(cell) / sigma_[c + 1];
      }
      if (across && faces_.axial[c] > 0) {
        const double current = faces_.axial[c] * (deviation_[c] - deviation_[c + nr]);
        heat_[c] += current * current * grid.axial_inner(cell) / sigma_[c];
        heat_[c + nr] += current * current * grid.axial_outer(cell) / sigma_[c + nr];
      }
    }
  }
  double contact_heat = 0;
  for (std::size_t p = 0; p < planes_.size(); ++p) {
    for (std::size_t i = 0; i < planes_[p].columns; ++i) {
      const auto lower = (planes_[p].below - rows_.first) * nr + i;
      if (contacts_[p].current[i] != 0) {
        const ContactFace& face = contact_faces_[p][i];
        const double below = metal_heat_[p][i] * face.lower / (face.lower + face.upper);
        heat_[lower] += below;
        heat_[lower + nr] += metal_heat_[p][i] - below;
      }
      contact_heat += contacts_[p].heat[i];
    }
  }
  const std::size_t top = rows_.first + rows_.count - 1;
  for (std::size_t i = 0; i < nr; ++i) {
    const std::size_t cell = grid.index(i, top);
    const auto c = cell - offset;
    if (right_[c] > 0) heat_[c] += right_[c] * right_[c] * grid.axial_inner(cell) / sigma_[c];
  }
  return heat_.sum() + contact_heat;
}

std::vector<double> Potential::current_density() const {
  const mesh::AxisymmetricGrid& grid = *grid_;
  const std::size_t nr = grid.nr(), offset = rows_.first * nr;
  std::vector<double> density(2 * nr * rows_.count, 0);
  for (std::size_t j = 0; j < rows_.count; ++j) {
    for (std::size_t i = 0; i < nr; ++i) {
      const std::size_t c = j * nr + i, cell = c + offset;
      if (sigma_[c] <= 0) continue;
      double out = 0, in = 0;  // radial density at outer and inner face
      if (grid.radial_area(cell) > 0) {
        out = faces_.boundary[c] > 0
                  ? faces_.boundary[c] * phi_[c] / grid.radial_area(cell)
                  : (i + 1 < nr ? faces_.radial[c] * (deviation_[c] - deviation_[c + 1]) /
                                      grid.radial_area(cell)
                                : 0.0);
      }
      if (i > 0 && grid.radial_area(cell - 1) > 0)
        in =
            faces_.radial[c - 1] * (deviation_[c - 1] - deviation_[c]) / grid.radial_area(cell - 1);
      double up = 0, low = 0;  // upward density at top and bottom face
      if (grid.axial_area(cell) > 0)
        up = j + 1 < rows_.count ? faces_.axial[c] * rise(c + nr, c) / grid.axial_area(cell)
                                 : -right_[c] / grid.axial_area(cell);
      if (j > 0 && grid.axial_area(cell - nr) > 0)
        low = faces_.axial[c - nr] * rise(c, c - nr) / grid.axial_area(cell - nr);
      density[2 * c] = 0.5 * (in + out);
      density[2 * c + 1] = 0.5 * (low + up);
    }
  }
  return density;
}

}  // namespace tabmelt
