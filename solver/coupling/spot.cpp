#include "solver/coupling/spot.h"

#include <algorithm>
#include <cmath>

#include "solver/coupling/step_control.h"

namespace tabmelt {

namespace {

// Electrodynamic repulsion of the narrowed current, Slade, Electrical Contacts, 2nd ed. (2014),
// coefficient of F = c I^2 [N/A^2].
constexpr double blow_off_coefficient = 4.45e-7;
// What still holds a contact that repulsion would open: the burst bridge keeps the current. [N]
constexpr double least_force = 1e-3;
// A temperature rise of this size all over the joint counts as nothing in the error norm. [K]
constexpr double smallest_rise = 2.0;
// How far [K] a prediction may run past the end of boiling. All beyond it leaves, of a prediction
// as of a solution; that it was to leave still tells of an energy thrown off that was not foreseen.
constexpr double largest_overshoot = 400;

double left_after_blow_off(double force, double current) {
  return std::max(least_force, force - blow_off_coefficient * current * current);
}

std::vector<const Enthalpy*> laws_of(const WeldModel& m) {
  std::vector<const Enthalpy*> law(m.grid.cells(), nullptr);
  for (std::size_t c = 0; c < law.size(); ++c)
    if (m.grid.region(c) != mesh::empty) law[c] = m.law(c).enthalpy.get();
  return law;
}

}  // namespace

Spot::Spot(const Problem& problem, const WeldModel& model)
    : problem_(&problem),
      model_(&model),
      contacts_(problem, model),
      potential_(model.grid, model.current_rows, model.planes, model.rims),
      heat_step_(model.grid, laws_of(model),
                 {problem.numerics.newton_tolerance, problem.numerics.newton_limit, 200}) {
  const auto n = model.grid.cells();
  k_axial_.setZero(n);
  k_radial_.setZero(n);
  sigma_.setZero(model.current_rows.count * model.grid.nr());
  cold_capacity_.setZero(n);
  row_H_.assign(model.grid.nr(), 0);
  row_T_.assign(model.grid.nr(), 0);
  for (std::size_t c = 0; c < model.grid.cells(); ++c)
    if (model.grid.region(c) != mesh::empty)
      cold_capacity_[c] = model.grid.volume(c) * model.law(c).enthalpy->heat_capacity(0);
  for (const RegionLaw& law : model.laws)
    if (law.enthalpy)
      lowest_boiled_ = std::min(lowest_boiled_, law.enthalpy->boiling() + Enthalpy::boiling_width);
  const double joint = mesh::AxisymmetricGrid::disc_area(problem.contacts.back().radius) *
                       problem.stack_above(problem.sheets.size()) *
                       model.sheet_law(0).enthalpy->heat_capacity(0);
  negligible_rise_ = joint * smallest_rise * smallest_rise;
}

SpotState Spot::initial_state() const {
  SpotState s;
  const auto n = model_->grid.cells();
  s.H.setZero(n);
  s.T.setConstant(n, problem_->boundary.ambient);
  s.rate.setZero(n);
  s.earlier_rate.setZero(n);
  s.heat.setZero(n);
  for (std::size_t c = 0; c < model_->grid.cells(); ++c)
    if (model_->grid.region(c) != mesh::empty)
      s.H[c] = model_->law(c).enthalpy->at(problem_->boundary.ambient);
  s.contact = contacts_.initial_state();
  return s;
}

void Spot::press(SpotState& state, double force) {
  for (std::size_t j = 0; j < model_->grid.nz(); ++j) conductivities(j, state.T);
  contacts_.begin(state.contact, state.T);
  contacts_.answer(state.T, k_axial_, potential_, sigma_, 0, force, true, 1);
  contacts_.keep(state.contact);
}

void Spot::conductivities(std::size_t row, const Field& T) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  const std::size_t offset = model_->current_rows.first * grid.nr();
  for (std::size_t c = row * grid.nr(); c < (row + 1) * grid.nr(); ++c) {
    if (grid.region(c) == mesh::empty) continue;
    const PropertyTable& table = *model_->law(c).table;
    k_axial_[c] = table.conductivity_z(T[c]);
    k_radial_[c] = k_axial_[c] * table.radial_ratio();
    if (c >= offset && model_->law(c).carries_current)
      sigma_[c - offset] = 1.0 / table.resistivity(T[c]);
  }
}

void Spot::begin(const SpotState& state, double dt) {
  const std::size_t nr = model_->grid.nr();
  T_middle_.resize(state.T.size());
  for (std::size_t j = 0; j < model_->grid.nz(); ++j) {
    const double *H = state.H.data() + j * nr, *T = state.T.data() + j * nr,
                 *rate = state.rate.data() + j * nr;
    double* middle = T_middle_.data() + j * nr;
    for (std::size_t i = 0; i < nr; ++i) {
      row_H_[i] = H[i] + 0.5 * dt * rate[i];
      middle[i] = T[i];
    }
    heat_step_.temperatures(j, row_H_.data(), middle);
    // The extrapolation of a step that turns out too long may run away; it is rejected later.
    for (std::size_t i = 0; i < nr; ++i) middle[i] = std::clamp(middle[i], 200.0, 6000.0);
    conductivities(j, T_middle_);
  }
  contacts_.begin(state.contact, T_middle_);
  g_.assign(model_->planes.size(), {});
  edges_.assign(model_->planes.size(), {});
  resistance_ = state.resistance;
  change_ = base_share_ = 0;
  touches_ = true;
  linear_iterations_ = 0;
}

bool Spot::round(double force, double current, bool first, double weight) {
  force_ = left_after_blow_off(force, current);
  contacts_.answer(T_middle_, k_axial_, potential_, sigma_, current, force_, first,
                   contacts_.fixed() ? 1 : weight);
  for (std::size_t p = 0; p < g_.size(); ++p) {
    const SpotContacts::Faces& faces = contacts_.faces()[p];
    edges_[p] = faces.current;
    g_[p].resize(faces.answer.size());
    for (std::size_t i = 0; i < g_[p].size(); ++i) g_[p][i] = faces.answer[i].g;
  }
  // A field between rounds need not be sharper than the rounds themselves.
  const Numerics& numerics = problem_->numerics;
  if (!solve_potential(contacts_.fixed()
                           ? numerics.linear_tolerance
                           : std::max(numerics.linear_tolerance, numerics.coupling_tolerance)))
    return false;
  contacts_.settle(k_axial_, potential_, current * current);
  return true;
}

bool Spot::solve_potential(double tolerance) {
  const PotentialOutcome field = potential_.solve(sigma_, g_, edges_, tolerance);
  linear_iterations_ += field.iterations;
  change_ = std::abs(field.resistance - resistance_) / field.resistance;
  resistance_ = field.resistance;
  base_share_ = field.base_share;
  return field.converged;
}

bool Spot::conclude_rounds() {
  if (!contacts_.fixed() && !solve_potential(problem_->numerics.linear_tolerance)) return false;
  resistance_ = potential_.find_heat();
  return true;
}

void Spot::rest(bool touches, double force) {
  touches_ = touches;
  force_ = touches ? left_after_blow_off(force, 0) : 0;
  if (touches)
    contacts_.answer(T_middle_, k_axial_, potential_, sigma_, 0, force_, true, 1);
  else
    contacts_.answer_lifted(T_middle_, k_axial_, potential_, sigma_);
}

double Spot::plane_heat(bool flows, double square_current, double dt, SpotState& next,
                        SpotStep& out) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  const std::size_t nr = grid.nr();
  const double current_rms = std::sqrt(square_current);
  Field& heat = next.heat;
  double expelled_power = 0;
  for (std::size_t p = 0; p < model_->planes.size(); ++p) {
    const ContactPlane& plane = model_->planes[p];
    const SpotContacts::Faces& faces = contacts_.faces()[p];
    PlaneHeat now;
    now.faces.resize(plane.columns);
    now.heat.assign(plane.columns, 0);
    // Beside the touching face there is a gap.
    for (std::size_t i = plane.columns; i < nr; ++i) thermal_.axial[grid.index(i, plane.below)] = 0;
    ContactStep step;
    step.radius = contacts_.radius()[p];
    double power = 0, through = 0, bursting = 0;
    for (std::size_t i = 0; i < plane.columns; ++i) {
      const std::size_t cell = grid.index(i, plane.below);
      const auto lower = cell, upper = cell + nr;
      const double share = faces.share[i];
      now.faces[i] = contact_face(grid, plane, i, k_axial_[lower], k_axial_[upper],
                                  faces.answer[i].h, faces.heat.share_in(i));
      thermal_.axial[lower] = now.faces[i].conductance();
      if (flows) {
        const ContactCurrent& c = potential_.contacts()[p];
        const double whole = c.heat[i] * square_current;
        now.heat[i] = whole * (1 - faces.answer[i].expelled_share);
        expelled_power += whole - now.heat[i];
        step.energy += now.heat[i] * dt;
        power += c.heat[i];
        through += c.current[i];
        if (faces.answer[i].expelled_share > 0) bursting += c.current[i];
        if (c.voltage[i] * current_rms > step.voltage) {
          step.voltage = c.voltage[i] * current_rms;
          step.voltage_face = i;
        }
      }
      step.true_area += faces.answer[i].memory.true_fraction * plane.area[i] * share;
      const HeatShare shares = contact_heat_share(now.faces[i], now.heat[i]);
      heat[lower] += shares.lower;
      heat[upper] += shares.upper;
    }
    step.resistance = through > 0 ? power / (through * through) : 0;
    step.burst_share = through > 0 ? bursting / through : 0;
    out.contacts.push_back(step);
    next.contact.planes[p] = std::move(now);
  }
  contacts_.keep(next.contact);
  return expelled_power;
}

void Spot::outer_boundaries() {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  const std::size_t nr = grid.nr();
  const Boundary& b = problem_->boundary;
  if (b.electrode_end == ThermalEnd::fixed_temperature) {
    for (std::size_t i = 0; i < nr; ++i) {
      const std::size_t cell = grid.index(i, grid.nz() - 1);
      if (grid.region(cell) != mesh::empty)
        thermal_.boundary[cell] += k_axial_[cell] / grid.axial_inner(cell);
    }
  }
  if (b.bottom == ThermalEnd::fixed_temperature) {
    for (std::size_t i = 0; i < nr; ++i)
      if (grid.bottom_area(i) > 0) thermal_.boundary[i] += k_axial_[i] / grid.bottom_outer(i);
  }
  if (b.rim == ThermalEnd::fixed_temperature) {
    for (std::size_t j = 0; j < grid.nz(); ++j) {
      for (std::size_t i = nr; i-- > 0;) {
        const std::size_t cell = grid.index(i, j);
        if (grid.region(cell) == mesh::empty) continue;
        if (grid.region(cell) != model_->electrode && grid.radial_area(cell) > 0)
          thermal_.boundary[cell] += k_radial_[cell] / grid.radial_inner(cell);
        break;
      }
    }
  }
}

void Spot::boil_off(std::size_t row, SpotState& next, SpotStep& out) const {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  for (std::size_t c = row * grid.nr(); c < (row + 1) * grid.nr(); ++c) {
    if (grid.region(c) == mesh::empty) continue;
    const Enthalpy& law = *model_->law(c).enthalpy;
    const double excess = next.H[c] - law.all_boiled();
    if (excess <= 0) continue;
    next.H[c] = law.all_boiled();
    next.T[c] = law.boiling() + Enthalpy::boiling_width;
    next.rate[c] = 0;
    out.boiled_off[grid.region(c)] += excess * grid.volume(c);
  }
}

double Spot::finish_cells(const SpotState& state, double dt, double last_step, SpotState& next,
                          SpotStep& out) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  const std::size_t nr = grid.nr();
  const double ambient = problem_->boundary.ambient;
  const double w = last_step > 0 ? dt / last_step : 0;
  out.boiled_off.assign(model_->laws.size(), 0);
  double wrong = 0, rise = 0;
  for (std::size_t j = 0; j < grid.nz(); ++j) {
    const std::size_t first = j * nr;
    boil_off(j, next, out);
    const double *H = state.H.data() + first, *rate = state.rate.data() + first,
                 *earlier = state.earlier_rate.data() + first,
                 *start = next.earlier_rate.data() + first, *T = next.T.data() + first,
                 *weight = cold_capacity_.data() + first;
    double *predicted = row_H_.data(), *T_predicted = row_T_.data();
    for (std::size_t i = 0; i < nr; ++i)
      predicted[i] =
          w > 0 ? H[i] + 0.5 * dt * ((2 + w) * rate[i] - w * earlier[i]) : H[i] + dt * start[i];
    heat_step_.temperatures(j, predicted, T_predicted);
    for (std::size_t i = 0; i < nr; ++i) {
      if (grid.region(first + i) == mesh::empty) continue;
      if (T_predicted[i] > lowest_boiled_) {
        const double boiled = model_->law(first + i).enthalpy->boiling() + Enthalpy::boiling_width;
        T_predicted[i] = std::min(T_predicted[i], boiled + largest_overshoot);
      }
      const double difference = T[i] - T_predicted[i], warm = T[i] - ambient;
      wrong += weight[i] * difference * difference;
      rise += weight[i] * warm * warm;
    }
  }
  for (const double energy : out.boiled_off) out.expelled += energy;
  return StepControl::error_factor(w) * std::sqrt(wrong / (rise + negligible_rise_));
}

bool Spot::finish(const SpotState& state, double dt, double last_step, bool flows,
                  double square_current, double tilt, SpotState& next, SpotStep& out) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  out.touches = touches_;
  out.force = force_;
  out.base_share = base_share_;
  out.linear_iterations = linear_iterations_;
  if (flows) {
    out.resistance_change =
        state.resistance > 0 ? std::abs(resistance_ - state.resistance) / state.resistance : 0;
    next.resistance = resistance_;
  }

  set_faces(grid, {0, grid.nz()}, k_radial_, k_axial_, thermal_);
  Field& heat = next.heat;
  heat.setZero(state.heat.size());
  if (flows) {
    const Field& bulk = potential_.bulk_heat();
    const auto offset = model_->current_rows.first * grid.nr();
    heat.segment(offset, bulk.size()) = bulk * square_current;
  }
  out.expelled = plane_heat(flows, square_current, dt, next, out) * dt;
  outer_boundaries();

  Field& start_rate = next.earlier_rate;
  start_rate = state.rate;
  // Without history the heat released has jumped (the pulse starts, ends): the rate follows it.
  if (last_step <= 0)
    for (std::size_t c = 0; c < grid.cells(); ++c)
      if (grid.volume(c) > 0) start_rate[c] += (heat[c] - state.heat[c]) / grid.volume(c);
  const HeatStepOutcome heated =
      heat_step_.advance(thermal_, heat, tilt, problem_->boundary.ambient, dt, state.H, state.T,
                         start_rate, next.H, next.T, next.rate);
  out.newton_iterations = heated.newton_iterations;
  out.linear_iterations += heated.linear_iterations;
  if (!heated.converged) return false;
  out.conducted_out = heated.conducted_out;
  out.error = finish_cells(state, dt, last_step, next, out);
  return true;
}

}  // namespace tabmelt
