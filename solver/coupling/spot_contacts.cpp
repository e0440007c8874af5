#include "solver/coupling/spot_contacts.h"

#include <algorithm>
#include <cmath>

#include "solver/material/constants.h"

namespace tabmelt {

namespace {

// Most that a true area gains in one round. Half of it moves the nugget of the settled demo case by
// 0.2 %, no more than the last digit of the linear solver does.
constexpr double growth = 0.05;
// The plane under the tip.
constexpr std::size_t tip = 0;
// Of metal without a hardness. [Pa]
constexpr double rigid = 1e12;

ContactSide side(const RegionLaw& law) {
  return {law.material, law.table.get(), law.enthalpy.get()};
}

}  // namespace

SpotContacts::SpotContacts(const Problem& problem, const WeldModel& model)
    : problem_(&problem), model_(&model), faces_(model.planes.size()) {
  const RegionLaw* upper = &model.laws[model.electrode];
  fixed_ = true;
  for (std::size_t n = 0; n < problem.contacts.size(); ++n) {
    const Contact& contact = problem.contacts[n];
    const RegionLaw* lower = &model.sheet_law(n);
    contacts_.emplace_back(contact, side(*lower), side(*upper));
    radius_.push_back(contact.radius);
    fixed_ = fixed_ && contact.fixed;
    upper = lower;
  }
  single_spot_ = problem.under_tip().yields();
}

ContactState SpotContacts::initial_state() const {
  ContactState state;
  for (const ContactPlane& plane : model_->planes) {
    state.memory.emplace_back(plane.columns);
    PlaneHeat heat;
    heat.faces.resize(plane.columns);
    for (ContactFace& face : heat.faces) face.contact = INFINITY;
    heat.heat.assign(plane.columns, 0);
    state.planes.push_back(heat);
  }
  return state;
}

void SpotContacts::part(ContactState& state) {
  for (std::vector<ContactMemory>& plane : state.memory)
    for (ContactMemory& memory : plane) memory.true_fraction = 0;
  for (ContactMemory& memory : state.memory.front()) memory.merged = 0;
  state.indentation = 0;
  state.tip_true_area = 0;
}

double SpotContacts::covered(std::size_t plane, std::size_t column, double radius) const {
  const double area = model_->planes[plane].area[column];
  if (area <= 0) return 0;
  return std::min(1.0, model_->grid.ring_area_inside(column, radius * (1 + 1e-6)) / area);
}

void SpotContacts::find_yielding_sides(const Field& T) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  const ContactPlane& plane = model_->planes.front();
  const double factor = contacts_.front().stated_hardness(), face = grid.z_edges()[plane.below + 1];
  const std::vector<double>& r = grid.r_edges();
  yielding_.assign(2, {});
  const auto add_row = [&](YieldingSide& side, std::size_t row, double depth) {
    const RegionLaw& law = model_->law(grid.index(0, row));
    side.depth.push_back(depth);
    std::vector<double>& load = side.load.emplace_back(plane.columns + 1);
    for (std::size_t i = 0; i < plane.columns; ++i) {
      const double hardness = law.material->hardness
                                  ? factor * law.table->hardness(T[grid.index(i, row)])
                                  : problem_->under_tip().hardness.value_or(rigid);
      load[i + 1] = load[i] + hardness * constants::pi * (r[i + 1] * r[i + 1] - r[i] * r[i]);
    }
  };
  const double deepest = problem_->under_tip().radius;
  for (std::size_t row = plane.below + 1; row < grid.nz(); ++row) {
    add_row(yielding_[0], row, grid.z_edges()[row + 1] - face);
    if (yielding_[0].depth.back() >= deepest) break;
  }
  for (std::size_t row = plane.below + 1; row-- > model_->wall_row();) {
    add_row(yielding_[1], row, face - grid.z_edges()[row]);
    if (yielding_[1].depth.back() >= deepest) break;
  }
}

void SpotContacts::touch(double force) {
  if (!single_spot_) return;
  const double whole = problem_->under_tip().radius;
  indentation_ =
      std::max(indentation_, yielding_radius(yielding_, model_->grid.r_edges(), force, whole));
  radius_.front() = std::clamp(indentation_, model_->cold_face, whole);
  for (std::size_t n = 1; n < radius_.size(); ++n)
    if (problem_->contacts[n].yields())
      radius_[n] =
          std::min(problem_->contacts[n].radius, radius_.front() + problem_->stack_above(n));
}

void SpotContacts::begin(const ContactState& state, const Field& T_middle) {
  planes_ = state.planes;
  memory_ = state.memory;
  indentation_ = state.indentation;
  tip_true_area_ = state.tip_true_area;
  last_.resize(faces_.size());
  for (Faces& faces : faces_) faces.answer.clear();
  if (single_spot_) find_yielding_sides(T_middle);
}

std::size_t SpotContacts::outermost_inside(std::size_t plane) const {
  const std::vector<double>& edges = model_->grid.r_edges();
  std::size_t i = 0;
  while (i + 1 < model_->planes[plane].columns && edges[i + 2] <= radius_[plane]) ++i;
  return i;
}

void SpotContacts::find_edges(std::size_t p, const Field& sigma, const Field& k_axial) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  const ContactPlane& plane = model_->planes[p];
  const std::size_t inside = outermost_inside(p);
  const ContactAnswer& answer = faces_[p].answer[inside];
  const auto edge = [&](const Field& k, std::size_t first_row, double per_area) {
    const auto lower = grid.index(inside, plane.below - first_row);
    const EdgeSides sides{k[lower], grid.dz(plane.below), k[lower + grid.nr()],
                          grid.dz(plane.below + 1), per_area};
    return edge_share(grid.r_edges(), plane.columns, sides, radius_[p]);
  };
  faces_[p].current = edge(sigma, model_->current_rows.first, answer.g);
  faces_[p].heat = edge(k_axial, 0, answer.h);
}

ContactMoment SpotContacts::moment_of(std::size_t p, std::size_t i, const Surfaces& surfaces,
                                      double force, bool first) const {
  const ContactPlane& plane = model_->planes[p];
  ContactMoment moment;
  // Pressing alone, before any current, overshoots nothing.
  moment.growth = first ? 0 : growth;
  moment.lower_temperature = surfaces.above(i, plane.below);
  moment.upper_temperature = surfaces.below(i, plane.below + 1);
  moment.pressure = force / mesh::AxisymmetricGrid::disc_area(radius_[p]);
  return moment;
}

void SpotContacts::open_faces(std::size_t p) {
  Faces& faces = faces_[p];
  const std::size_t columns = model_->planes[p].columns;
  faces.answer.assign(columns, {});
  faces.share.assign(columns, 0);
  for (std::size_t i = 0; i < columns; ++i) {
    faces.share[i] = covered(p, i, radius_[p]);
    faces.answer[i].memory = memory_[p][i];
  }
}

void SpotContacts::answer_by_face(std::size_t p, const Surfaces& surfaces, const Potential& field,
                                  const Field& sigma, double current, double force, bool first) {
  open_faces(p);
  Faces& faces = faces_[p];
  const double whole = mesh::AxisymmetricGrid::disc_area(radius_[p]);
  const std::size_t inside = outermost_inside(p);
  for (std::size_t i = 0; i < faces.share.size(); ++i) {
    // Beyond the last whole column, what touches is the share by which the lattice sees the edge.
    const double touching =
        model_->planes[p].area[i] * (i <= inside ? faces.share[i] : faces.current.touching_in(i));
    if (touching <= 0) continue;
    ContactMoment moment = moment_of(p, i, surfaces, force, first);
    moment.current_density =
        first ? current / whole : current * field.contacts()[p].current[i] / touching;
    faces.answer[i] = mixed(p, i, contacts_[p].answer(moment, memory_[p][i]));
    if (i == inside) find_edges(p, sigma, surfaces.k_axial());
  }
}

void SpotContacts::answer_as_one_spot(const Surfaces& surfaces, const Field& sigma, double current,
                                      double force, bool first) {
  open_faces(tip);
  Faces& faces = faces_[tip];
  const double radius = radius_[tip], whole = mesh::AxisymmetricGrid::disc_area(radius);
  ContactMoment mean = moment_of(tip, 0, surfaces, force, first);
  mean.lower_temperature = mean.upper_temperature = 0;
  double area = 0;
  for (std::size_t i = 0; i < faces.share.size(); ++i) {
    if (faces.share[i] <= 0) continue;
    const double touching = model_->planes[tip].area[i] * faces.share[i];
    const ContactMoment moment = moment_of(tip, i, surfaces, force, first);
    mean.lower_temperature += touching * moment.lower_temperature;
    mean.upper_temperature += touching * moment.upper_temperature;
    area += touching;
  }
  if (area <= 0) return;
  mean.lower_temperature /= area;
  mean.upper_temperature /= area;
  mean.current_density = current / whole;
  mean.field_radius = radius;
  const Electrode& electrode = problem_->electrode;
  const double hertz =
      hertz_radius(force, electrode.face_radius, electrode.material->elastic_modulus.value_or(0),
                   problem_->top().material->elastic_modulus.value_or(0));
  mean.spot_radius = std::min(std::max(indentation_, hertz), radius);
  ContactMemory memory = memory_[tip][0];
  memory.true_fraction = std::min(1.0, tip_true_area_ / whole);
  const std::size_t inside = outermost_inside(tip);
  const ContactAnswer one = mixed(tip, inside, contacts_[tip].answer(mean, memory));
  faces.answer[inside] = one;
  find_edges(tip, sigma, surfaces.k_axial());
  for (std::size_t i = 0; i < faces.share.size(); ++i)
    if (faces.share[i] > 0 || faces.current.share_in(i) > 0 || faces.heat.share_in(i) > 0)
      faces.answer[i] = one;
}

void SpotContacts::answer(const Field& T_middle, const Field& k_axial, const Potential& field,
                          const Field& sigma, double current, double force, bool first,
                          double weight) {
  touch(force);
  weight_ = weight;
  for (std::size_t p = 0; p < faces_.size(); ++p) last_[p] = faces_[p].answer;
  const Surfaces surfaces(*model_, T_middle, k_axial, planes_);
  if (single_spot_)
    answer_as_one_spot(surfaces, sigma, current, force, first);
  else
    answer_by_face(tip, surfaces, field, sigma, current, force, first);
  for (std::size_t p = tip + 1; p < model_->planes.size(); ++p)
    answer_by_face(p, surfaces, field, sigma, current, force, first);
}

ContactAnswer SpotContacts::mixed(std::size_t p, std::size_t i, ContactAnswer now) const {
  if (weight_ >= 1 || i >= last_[p].size()) return now;
  const ContactAnswer& last = last_[p][i];
  if (last.g <= 0 || now.g <= 0) return now;
  now.g = last.g * std::pow(now.g / last.g, weight_);
  now.expelled_share = last.expelled_share + weight_ * (now.expelled_share - last.expelled_share);
  return now;
}

void SpotContacts::answer_lifted(const Field& T_middle, const Field& k_axial,
                                 const Potential& field, const Field& sigma) {
  open_faces(tip);
  faces_[tip].share.assign(faces_[tip].share.size(), 0);
  faces_[tip].current = faces_[tip].heat = {};
  const Surfaces surfaces(*model_, T_middle, k_axial, planes_);
  for (std::size_t p = tip + 1; p < model_->planes.size(); ++p)
    answer_by_face(p, surfaces, field, sigma, 0, 0, true);
}

void SpotContacts::settle(const Field& k_axial, const Potential& field, double square_current) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  for (std::size_t p = 0; p < model_->planes.size(); ++p) {
    const ContactPlane& plane = model_->planes[p];
    for (std::size_t i = 0; i < plane.columns; ++i) {
      const auto lower = grid.index(i, plane.below);
      const auto upper = lower + grid.nr();
      planes_[p].faces[i] = contact_face(grid, plane, i, k_axial[lower], k_axial[upper],
                                         faces_[p].answer[i].h, faces_[p].heat.share_in(i));
      planes_[p].heat[i] =
          field.contacts()[p].heat[i] * square_current * (1 - faces_[p].answer[i].expelled_share);
    }
  }
  growing_ = false;
  for (std::size_t p = 0; p < faces_.size(); ++p) {
    for (std::size_t i = 0; i < faces_[p].answer.size(); ++i) {
      growing_ = growing_ || faces_[p].answer[i].held_back;
      memory_[p][i].true_fraction = faces_[p].answer[i].memory.true_fraction;
    }
  }
  if (single_spot_) remember_tip(indentation_, tip_true_area_);
}

void SpotContacts::remember_tip(double& indentation, double& true_area) const {
  const ContactAnswer& spot = faces_[tip].answer[0];
  indentation = std::max(indentation, spot.spot_radius);
  true_area = std::max(true_area,
                       spot.memory.true_fraction * mesh::AxisymmetricGrid::disc_area(radius_[tip]));
}

void SpotContacts::keep(ContactState& state) const {
  for (std::size_t p = 0; p < faces_.size(); ++p)
    for (std::size_t i = 0; i < faces_[p].answer.size(); ++i)
      state.memory[p][i] = faces_[p].answer[i].memory;
  if (single_spot_) {
    state.indentation = std::max(state.indentation, indentation_);
    remember_tip(state.indentation, state.tip_true_area);
  }
}

}  // namespace tabmelt
