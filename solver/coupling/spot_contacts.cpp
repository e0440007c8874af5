#include "solver/coupling/spot_contacts.h"

#include <algorithm>
#include <cmath>

namespace tabmelt {

using Index = Eigen::Index;

namespace {

// Most that a true area gains in one round. Half of it moves the nugget of the settled demo case by
// 0.2 %, no more than the last digit of the linear solver does.
constexpr double growth = 0.05;
// Of metal without a hardness. [Pa]
constexpr double rigid = 1e12;

ContactSide side(const WeldModel& m, std::uint8_t region) {
  return {m.laws[region].material, m.laws[region].table.get(), m.laws[region].enthalpy.get()};
}

}  // namespace

SpotContacts::SpotContacts(const Problem& problem, const WeldModel& model)
    : problem_(&problem),
      model_(&model),
      contacts_{ContactModel(problem.tip_contact, side(model, region::strip),
                             side(model, region::electrode)),
                ContactModel(problem.faying_contact, side(model, region::can),
                             side(model, region::strip))},
      faces_(model.planes.size()),
      radius_{problem.tip_contact.radius, problem.faying_contact.radius} {
  single_spot_ = problem.tip_contact.law == ContactLaw::constriction;
  fixed_ = problem.tip_contact.law == ContactLaw::fixed &&
           problem.faying_contact.law == ContactLaw::fixed;
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
  for (std::size_t p = 0; p < state.memory.size(); ++p) {
    for (ContactMemory& memory : state.memory[p]) {
      memory.true_fraction = 0;
      if (p == 0) memory.merged = 0;
    }
  }
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
  const ContactPlane& plane = model_->planes[0];
  const double factor = contacts_[0].stated_hardness(), face = grid.z_edges()[plane.below + 1];
  yielding_.assign(2, {});
  const auto add_row = [&](YieldingSide& side, std::size_t row, double depth) {
    const RegionLaw& law = model_->law(grid.index(0, row));
    side.depth.push_back(depth);
    std::vector<double> load{0};
    for (std::size_t i = 0; i < plane.columns; ++i) {
      const double hardness =
          law.material->hardness
              ? factor * law.table->hardness(T[static_cast<Index>(grid.index(i, row))])
              : problem_->tip_contact.hardness.value_or(rigid);
      load.push_back(load.back() + hardness * grid.ring_area_inside(i, grid.r_edges().back()));
    }
    side.load.push_back(std::move(load));
  };
  const double deepest = problem_->tip_contact.radius;
  for (std::size_t row = plane.below + 1; row < grid.nz(); ++row) {
    add_row(yielding_[0], row, grid.z_edges()[row + 1] - face);
    if (yielding_[0].depth.back() >= deepest) break;
  }
  for (std::size_t row = plane.below + 1; row-- > model_->wall_row;) {
    add_row(yielding_[1], row, face - grid.z_edges()[row]);
    if (yielding_[1].depth.back() >= deepest) break;
  }
}

void SpotContacts::touch(double force) {
  if (!single_spot_) return;
  const double whole = problem_->tip_contact.radius;
  indentation_ =
      std::max(indentation_, yielding_radius(yielding_, model_->grid.r_edges(), force, whole));
  radius_[0] = std::clamp(indentation_, model_->cold_face, whole);
  if (problem_->faying_contact.law == ContactLaw::constriction)
    radius_[1] = std::min(problem_->faying_contact.radius, radius_[0] + problem_->strip.thickness);
}

void SpotContacts::begin(const ContactState& state, const Field& T_middle) {
  planes_ = state.planes;
  memory_ = state.memory;
  indentation_ = state.indentation;
  tip_true_area_ = state.tip_true_area;
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
    const auto lower = static_cast<Index>(grid.index(inside, plane.below - first_row));
    const EdgeSides sides{k[lower], grid.dz(plane.below), k[lower + static_cast<Index>(grid.nr())],
                          grid.dz(plane.below + 1), per_area};
    return edge_share(grid.r_edges(), plane.columns, sides, radius_[p]);
  };
  faces_[p].current = edge(sigma, model_->current_rows.first, answer.g);
  faces_[p].heat = edge(k_axial, 0, answer.h);
}

void SpotContacts::answer_plane(std::size_t p, const Surfaces& surfaces, const Potential& field,
                                const Field& sigma, double current, double force, bool first) {
  const ContactPlane& plane = model_->planes[p];
  const double radius = radius_[p];
  const double whole = mesh::AxisymmetricGrid::disc_area(radius);
  // Pressing alone, before any current, overshoots nothing.
  const double bound = first ? 0 : growth;
  Faces& faces = faces_[p];
  faces.answer.assign(plane.columns, {});
  faces.share.assign(plane.columns, 0);
  ContactMoment mean;
  double area = 0;
  const bool tip = p == 0 && single_spot_;
  const std::size_t inside = outermost_inside(p);
  for (std::size_t i = 0; i < plane.columns; ++i) {
    faces.share[i] = covered(p, i, radius);
    faces.answer[i].memory = memory_[p][i];
    // Beyond the last whole column, what touches is the share by which the lattice sees the edge.
    const double touching =
        plane.area[i] * (tip || i <= inside ? faces.share[i] : faces.current.touching_in(i));
    if (touching <= 0) continue;
    ContactMoment moment;
    moment.growth = bound;
    moment.lower_temperature = surfaces.above(i, plane.below);
    moment.upper_temperature = surfaces.below(i, plane.below + 1);
    moment.pressure = force / whole;
    moment.current_density =
        first ? current / whole : current * field.contacts()[p].current[i] / touching;
    if (tip) {
      mean.lower_temperature += touching * moment.lower_temperature;
      mean.upper_temperature += touching * moment.upper_temperature;
      area += touching;
    } else {
      faces.answer[i] = contacts_[p].answer(moment, memory_[p][i]);
      if (i == inside) find_edges(p, sigma, surfaces.k_axial());
    }
  }
  if (area <= 0) return;
  // The tip touches as one spot: one voltage, one temperature, one hardness.
  mean.lower_temperature /= area;
  mean.upper_temperature /= area;
  mean.pressure = force / whole;
  mean.current_density = current / whole;
  mean.field_radius = radius;
  const Problem& problem = *problem_;
  mean.spot_radius =
      std::max(indentation_, hertz_radius(force, problem.electrode.face_radius,
                                          problem.electrode.material->elastic_modulus.value_or(0),
                                          problem.strip.material->elastic_modulus.value_or(0)));
  mean.spot_radius = std::min(mean.spot_radius, radius);
  mean.growth = bound;
  ContactMemory memory = memory_[p][0];
  memory.true_fraction = std::min(1.0, tip_true_area_ / whole);
  const ContactAnswer one = contacts_[p].answer(mean, memory);
  faces.answer[inside] = one;
  find_edges(p, sigma, surfaces.k_axial());
  for (std::size_t i = 0; i < plane.columns; ++i)
    if (faces.share[i] > 0 || faces.current.share_in(i) > 0 || faces.heat.share_in(i) > 0)
      faces.answer[i] = one;
}

void SpotContacts::answer(const Field& T_middle, const Field& k_axial, const Potential& field,
                          const Field& sigma, double current, double force, bool first) {
  touch(force);
  const Surfaces surfaces(*model_, T_middle, k_axial, planes_);
  for (std::size_t p = 0; p < model_->planes.size(); ++p)
    answer_plane(p, surfaces, field, sigma, current, force, first);
}

void SpotContacts::answer_lifted(const Field& T_middle, const Field& k_axial,
                                 const Potential& field, const Field& sigma) {
  const std::size_t columns = model_->planes[0].columns;
  faces_[0].answer.assign(columns, {});
  faces_[0].share.assign(columns, 0);
  faces_[0].current = faces_[0].heat = {};
  for (std::size_t i = 0; i < columns; ++i) faces_[0].answer[i].memory = memory_[0][i];
  const Surfaces surfaces(*model_, T_middle, k_axial, planes_);
  for (std::size_t p = 1; p < model_->planes.size(); ++p)
    answer_plane(p, surfaces, field, sigma, 0, 0, true);
}

void SpotContacts::settle(const Field& k_axial, const Potential& field, double square_current) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  for (std::size_t p = 0; p < model_->planes.size(); ++p) {
    const ContactPlane& plane = model_->planes[p];
    for (std::size_t i = 0; i < plane.columns; ++i) {
      const auto lower = static_cast<Index>(grid.index(i, plane.below));
      const auto upper = lower + static_cast<Index>(grid.nr());
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
  const ContactAnswer& tip = faces_[0].answer[0];
  indentation = std::max(indentation, tip.spot_radius);
  true_area =
      std::max(true_area, tip.memory.true_fraction * mesh::AxisymmetricGrid::disc_area(radius_[0]));
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
