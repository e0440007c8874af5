#include "solver/coupling/pulse_step.h"

#include <algorithm>
#include <cmath>

#include "solver/coupling/step_control.h"
#include "solver/material/constants.h"

namespace tabmelt {

using Index = Eigen::Index;

namespace {

// Electrodynamic repulsion of the narrowed current, Slade, Electrical Contacts, 2nd ed. (2014),
// coefficient of F = c I^2 [N/A^2].
constexpr double blow_off_coefficient = 4.45e-7;
// What still holds a contact that repulsion would open: the burst bridge keeps the current. [N]
constexpr double least_force = 1e-3;
// A temperature rise of this size all over the joint counts as nothing in the error norm. [K]
constexpr double smallest_rise = 2.0;

ContactSide side(const WeldModel& m, std::uint8_t region) {
  return {m.laws[region].material, m.laws[region].table.get(), m.laws[region].enthalpy.get()};
}

std::vector<const Enthalpy*> laws_of(const WeldModel& m) {
  std::vector<const Enthalpy*> law(m.grid.cells(), nullptr);
  for (std::size_t c = 0; c < law.size(); ++c)
    if (m.grid.region(c) != region::empty) law[c] = m.law(c).enthalpy.get();
  return law;
}

}  // namespace

PulseStep::PulseStep(const Problem& problem, const WeldModel& model, const circuit::Loop& loop)
    : problem_(&problem),
      model_(&model),
      loop_(&loop),
      contacts_{ContactModel(problem.tip_contact, side(model, region::strip),
                             side(model, region::electrode)),
                ContactModel(problem.faying_contact, side(model, region::can),
                             side(model, region::strip))},
      potential_(model.grid, model.current_rows, model.planes, model.rims),
      heat_step_(model.grid, laws_of(model),
                 {problem.numerics.newton_tolerance, problem.numerics.newton_limit, 200}) {
  const auto n = static_cast<Index>(model.grid.cells());
  k_axial_.setZero(n);
  k_radial_.setZero(n);
  sigma_.setZero(static_cast<Index>(model.current_rows.count * model.grid.nr()));
  contact_radius_ = {problem.tip_contact.radius, problem.faying_contact.radius};
  cold_capacity_.setZero(n);
  for (std::size_t c = 0; c < model.grid.cells(); ++c)
    if (model.grid.region(c) != region::empty)
      cold_capacity_[static_cast<Index>(c)] =
          model.grid.volume(c) * model.law(c).enthalpy->heat_capacity(0);
  const double joint = mesh::AxisymmetricGrid::disc_area(problem.faying_contact.radius) *
                       (problem.strip.thickness + problem.can.thickness) *
                       model.laws[region::strip].enthalpy->heat_capacity(0);
  negligible_rise_ = joint * smallest_rise * smallest_rise;
  single_spot_ = problem.electrode.domed && problem.tip_contact.law == ContactLaw::constriction;
  if (single_spot_)
    cold_indentation_ =
        std::min(problem.tip_contact.radius,
                 indentation_radius(problem.pressing.force,
                                    contacts_[0].hardness(problem.boundary.ambient)));
  fixed_contacts_ = problem.tip_contact.law == ContactLaw::fixed &&
                    problem.faying_contact.law == ContactLaw::fixed;
}

WeldState PulseStep::initial_state() const {
  WeldState s;
  s.loop = loop_->initial_state();
  const auto n = static_cast<Index>(model_->grid.cells());
  s.H.setZero(n);
  s.T.setConstant(n, problem_->boundary.ambient);
  s.rate.setZero(n);
  s.earlier_rate.setZero(n);
  s.heat.setZero(n);
  for (std::size_t c = 0; c < model_->grid.cells(); ++c)
    if (model_->grid.region(c) != region::empty)
      s.H[static_cast<Index>(c)] = model_->law(c).enthalpy->at(problem_->boundary.ambient);
  for (const ContactPlane& plane : model_->planes) {
    s.memory.emplace_back(plane.columns);
    PlaneHeat heat;
    heat.faces.resize(plane.columns);
    for (ContactFace& face : heat.faces) face.contact = INFINITY;
    heat.heat.assign(plane.columns, 0);
    s.planes.push_back(heat);
  }
  return s;
}

void PulseStep::conductivities(const Field& T) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  const std::size_t offset = model_->current_rows.first * grid.nr();
  for (std::size_t c = 0; c < grid.cells(); ++c) {
    if (grid.region(c) == region::empty) continue;
    const PropertyTable& table = *model_->law(c).table;
    const auto n = static_cast<Index>(c);
    k_axial_[n] = table.conductivity_z(T[n]);
    k_radial_[n] = k_axial_[n] * table.radial_ratio();
    if (c >= offset && grid.region(c) < region::inner_first)
      sigma_[n - static_cast<Index>(offset)] = 1.0 / table.resistivity(T[n]);
  }
}

double PulseStep::force_at(double time, double current) const {
  const Pressing& p = problem_->pressing;
  double force = p.force;
  if (p.closing == Closing::unswitched)
    force = std::min(force, p.tip_stiffness * p.approach_speed * time);
  return std::max(least_force, force - blow_off_coefficient * current * current);
}

double PulseStep::covered(std::size_t plane, std::size_t column, double radius) const {
  const double area = model_->planes[plane].area[column];
  if (area <= 0) return 0;
  return std::min(1.0, model_->grid.ring_area_inside(column, radius * (1 + 1e-6)) / area);
}

void PulseStep::touch(double indentation) {
  if (!single_spot_) return;
  contact_radius_[0] =
      std::min(problem_->tip_contact.radius, std::max(indentation, cold_indentation_));
  if (problem_->faying_contact.law == ContactLaw::constriction)
    contact_radius_[1] =
        std::min(problem_->faying_contact.radius, contact_radius_[0] + problem_->strip.thickness);
}

void PulseStep::face_answers(const WeldState& state, const Field& T_middle, double current,
                             double force, bool first, std::vector<FaceAnswers>& answers) const {
  const Surfaces surfaces(*model_, T_middle, k_axial_, planes_);
  for (std::size_t p = 0; p < model_->planes.size(); ++p) {
    const ContactPlane& plane = model_->planes[p];
    const double radius = contact_radius_[p];
    const double whole = mesh::AxisymmetricGrid::disc_area(radius);
    FaceAnswers& faces = answers[p];
    faces.answer.assign(plane.columns, {});
    faces.share.assign(plane.columns, 0);
    ContactMoment mean;
    double area = 0;
    for (std::size_t i = 0; i < plane.columns; ++i) {
      faces.share[i] = covered(p, i, radius);
      faces.answer[i].memory = state.memory[p][i];
      if (faces.share[i] <= 0) continue;
      const double touching = plane.area[i] * faces.share[i];
      ContactMoment moment;
      moment.lower_temperature = surfaces.above(i, plane.below);
      moment.upper_temperature = surfaces.below(i, plane.below + 1);
      moment.pressure = force / whole;
      moment.current_density =
          first ? current / whole : current * potential_.contacts()[p].current[i] / touching;
      if (p == 0 && single_spot_) {
        mean.lower_temperature += touching * moment.lower_temperature;
        mean.upper_temperature += touching * moment.upper_temperature;
        area += touching;
      } else {
        faces.answer[i] = contacts_[p].answer(moment, state.memory[p][i]);
      }
    }
    if (area <= 0) continue;
    // A domed tip touches as one spot: one voltage, one temperature, one hardness.
    mean.lower_temperature /= area;
    mean.upper_temperature /= area;
    mean.pressure = force / whole;
    mean.current_density = current / whole;
    mean.field_radius = radius;
    mean.spot_radius = state.indentation;
    const ContactAnswer one = contacts_[p].answer(mean, state.memory[p][0]);
    for (std::size_t i = 0; i < plane.columns; ++i)
      if (faces.share[i] > 0) faces.answer[i] = one;
  }
}

void PulseStep::settle_planes(const std::vector<FaceAnswers>& answers, double square_current) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  for (std::size_t p = 0; p < model_->planes.size(); ++p) {
    const ContactPlane& plane = model_->planes[p];
    for (std::size_t i = 0; i < plane.columns; ++i) {
      const auto lower = static_cast<Index>(grid.index(i, plane.below));
      const auto upper = lower + static_cast<Index>(grid.nr());
      planes_[p].faces[i] = contact_face(grid, plane, i, k_axial_[lower], k_axial_[upper],
                                         answers[p].answer[i].h * answers[p].share[i]);
      planes_[p].heat[i] = potential_.contacts()[p].heat[i] * square_current *
                           (1 - answers[p].answer[i].expelled_share);
    }
  }
}

void PulseStep::boil_off(StepAttempt& a) const {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  a.boiled_off.assign(model_->laws.size(), 0);
  for (std::size_t c = 0; c < grid.cells(); ++c) {
    if (grid.region(c) == region::empty) continue;
    const auto n = static_cast<Index>(c);
    const Enthalpy& law = *model_->law(c).enthalpy;
    const double excess = a.state.H[n] - law.all_boiled();
    if (excess <= 0) continue;
    a.state.H[n] = law.all_boiled();
    a.state.T[n] = law.boiling() + Enthalpy::boiling_width;
    a.state.rate[n] = 0;
    a.boiled_off[grid.region(c)] += excess * grid.volume(c);
  }
  for (const double energy : a.boiled_off) a.expelled += energy;
}

StepAttempt PulseStep::attempt(const WeldState& state, double dt) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  const std::size_t nr = grid.nr();
  StepAttempt a;
  a.dt = dt;
  a.state = state;

  Field H_middle = state.H + 0.5 * dt * state.rate;
  Field T_middle = state.T;
  heat_step_.temperatures(H_middle, T_middle);
  // The extrapolation of a step that turns out too long may run away; it is rejected later.
  T_middle = T_middle.min(6000.0).max(200.0);
  conductivities(T_middle);

  const int spots = problem_->arrangement.spots;
  const double t_middle = state.loop.time + 0.5 * dt;
  const bool flows = state.loop.closed;

  std::vector<FaceAnswers> answers(model_->planes.size());
  std::vector<std::vector<double>> g(model_->planes.size());
  planes_ = state.planes;
  touch(state.indentation);

  double resistance = state.resistance;
  circuit::StepOutcome circuit_step;
  double square_mean = 0;
  if (flows) {
    bool first = resistance <= 0;
    a.settled = false;
    for (int k = 0; k < problem_->numerics.coupling_limit; ++k) {
      ++a.coupling_iterations;
      double current = 0;
      if (!first) {
        circuit_step = loop_->advance(state.loop, dt, spots * resistance);
        current = std::sqrt(circuit_step.energy.square_current / dt);
      }
      a.force = force_at(t_middle, current);
      face_answers(state, T_middle, current, a.force, first, answers);
      for (std::size_t p = 0; p < answers.size(); ++p) {
        const bool damp = k >= 2 && !fixed_contacts_;
        g[p].resize(answers[p].answer.size(), 0);
        for (std::size_t i = 0; i < g[p].size(); ++i) {
          const double now = answers[p].answer[i].g * answers[p].share[i];
          // Contacts soften where the current goes and the current goes where they are soft: the
          // geometric mean with the last round keeps the two from chasing each other.
          g[p][i] = damp && g[p][i] > 0 && now > 0 ? std::sqrt(g[p][i] * now) : now;
        }
      }
      const PotentialOutcome field =
          potential_.solve(sigma_, g, problem_->numerics.linear_tolerance);
      a.linear_iterations += field.iterations;
      if (!field.converged) return a;
      const double change = std::abs(field.heat_total - resistance) / field.heat_total;
      resistance = field.heat_total;
      a.can_share = field.can_share;
      const bool was_first = first;
      first = false;
      settle_planes(answers, current * current);
      if (single_spot_) touch(std::max(state.indentation, answers[0].answer[0].spot_radius));
      a.settled = fixed_contacts_ ||
                  (!was_first && k > 0 && change < problem_->numerics.coupling_tolerance);
      if (a.settled) break;
    }
    circuit_step = loop_->advance(state.loop, dt, spots * resistance);
    square_mean = circuit_step.energy.square_current / dt;
    a.resistance_change =
        state.resistance > 0 ? std::abs(resistance - state.resistance) / state.resistance : 0;
    a.state.resistance = resistance;
  } else {
    a.force = force_at(t_middle, 0);
    circuit_step = loop_->advance(state.loop, dt, 1e-3);
    face_answers(state, T_middle, 0, a.force, true, answers);
  }
  a.state.loop = circuit_step.state;
  a.energy = circuit_step.energy;
  a.spot_energy = flows ? circuit_step.energy.in_load_resistance / spots : 0;

  // Heat of the step and the thermal side of the touching planes.
  set_faces(grid, {0, grid.nz()}, k_radial_, k_axial_, thermal_);
  Field& heat = a.state.heat;
  heat.setZero();
  if (flows) {
    a.part_heat = potential_.bulk_heat();
    const auto offset = static_cast<Index>(model_->current_rows.first * nr);
    heat.segment(offset, a.part_heat.size()) = a.part_heat * square_mean;
  }
  const double current_rms = std::sqrt(square_mean);
  double expelled_power = 0;
  for (std::size_t p = 0; p < model_->planes.size(); ++p) {
    const ContactPlane& plane = model_->planes[p];
    PlaneHeat now;
    now.faces.resize(plane.columns);
    now.heat.assign(plane.columns, 0);
    // Beside the touching face there is a gap.
    for (std::size_t i = plane.columns; i < nr; ++i)
      thermal_.axial[static_cast<Index>(grid.index(i, plane.below))] = 0;
    double energy = 0, power = 0, area = 0, voltage = 0, through = 0, spot = 0;
    std::size_t where = 0;
    for (std::size_t i = 0; i < plane.columns; ++i) {
      const std::size_t cell = grid.index(i, plane.below);
      const auto lower = static_cast<Index>(cell), upper = static_cast<Index>(cell + nr);
      const double share = answers[p].share[i];
      now.faces[i] = contact_face(grid, plane, i, k_axial_[lower], k_axial_[upper],
                                  answers[p].answer[i].h * share);
      thermal_.axial[lower] = now.faces[i].conductance();
      if (flows) {
        const ContactCurrent& c = potential_.contacts()[p];
        const double whole = c.heat[i] * square_mean;
        now.heat[i] = whole * (1 - answers[p].answer[i].expelled_share);
        expelled_power += whole - now.heat[i];
        energy += now.heat[i] * dt;
        power += c.heat[i];
        through += c.current[i];
        if (c.voltage[i] * current_rms > voltage) {
          voltage = c.voltage[i] * current_rms;
          where = i;
        }
      }
      spot = std::max(spot, answers[p].answer[i].spot_temperature);
      area += answers[p].answer[i].memory.true_fraction * plane.area[i] * share;
      const HeatShare shares = contact_heat_share(now.faces[i], now.heat[i]);
      heat[lower] += shares.lower;
      heat[upper] += shares.upper;
      a.state.memory[p][i] = answers[p].answer[i].memory;
    }
    if (p == 0 && single_spot_)
      a.state.indentation = std::min(problem_->tip_contact.radius,
                                     std::max(state.indentation, answers[0].answer[0].spot_radius));
    a.contact_energy.push_back(energy);
    a.contact_resistance.push_back(through > 0 ? power / (through * through) : 0);
    a.contact_voltage.push_back(voltage);
    a.voltage_face.push_back(where);
    a.true_area.push_back(area);
    a.spot_temperature.push_back(spot);
    a.state.planes[p] = std::move(now);
  }
  a.contact_radius = contact_radius_;
  a.expelled = expelled_power * dt;

  const Boundary& b = problem_->boundary;
  if (b.electrode_end == ThermalEnd::fixed_temperature) {
    for (std::size_t i = 0; i < nr; ++i) {
      const std::size_t cell = grid.index(i, grid.nz() - 1);
      if (grid.region(cell) != region::empty)
        thermal_.boundary[static_cast<Index>(cell)] +=
            k_axial_[static_cast<Index>(cell)] / grid.axial_inner(cell);
    }
  }
  if (b.bottom == ThermalEnd::fixed_temperature) {
    for (std::size_t i = 0; i < nr; ++i)
      if (grid.bottom_area(i) > 0)
        thermal_.boundary[static_cast<Index>(i)] +=
            k_axial_[static_cast<Index>(i)] / grid.bottom_outer(i);
  }
  if (b.rim == ThermalEnd::fixed_temperature) {
    for (std::size_t j = 0; j < grid.nz(); ++j) {
      for (std::size_t i = nr; i-- > 0;) {
        const std::size_t cell = grid.index(i, j);
        if (grid.region(cell) == region::empty) continue;
        if (grid.region(cell) != region::electrode && grid.radial_area(cell) > 0)
          thermal_.boundary[static_cast<Index>(cell)] +=
              k_radial_[static_cast<Index>(cell)] / grid.radial_inner(cell);
        break;
      }
    }
  }

  // The heat released has jumped since the last step (the pulse starts, ends, decays): the rate of
  // the step's start follows it.
  Field start_rate = state.rate;
  for (Index c = 0; c < heat.size(); ++c)
    if (grid.volume(static_cast<std::size_t>(c)) > 0 && state.last_step <= 0)
      start_rate[c] += (heat[c] - state.heat[c]) / grid.volume(static_cast<std::size_t>(c));
  a.state.rate = start_rate;
  const HeatStepOutcome heated =
      heat_step_.advance(thermal_, heat, b.ambient, dt, a.state.H, a.state.T, a.state.rate);
  a.newton_iterations = heated.newton_iterations;
  a.linear_iterations += heated.linear_iterations;
  if (!heated.converged) return a;
  a.conducted_out = heated.conducted_out;
  boil_off(a);

  const double w = state.last_step > 0 ? dt / state.last_step : 0;
  Field predicted =
      w > 0 ? Field(state.H + 0.5 * dt * ((2 + w) * state.rate - w * state.earlier_rate))
            : Field(state.H + dt * start_rate);
  Field T_predicted = state.T;
  heat_step_.temperatures(predicted, T_predicted);
  double wrong = 0, rise = 0;
  for (std::size_t c = 0; c < grid.cells(); ++c) {
    if (grid.region(c) == region::empty) continue;
    const auto n = static_cast<Index>(c);
    const double difference = a.state.T[n] - T_predicted[n];
    const double warm = a.state.T[n] - b.ambient;
    const double weight = cold_capacity_[n];
    wrong += weight * difference * difference;
    rise += weight * warm * warm;
  }
  a.error = StepControl::error_factor(w) * std::sqrt(wrong / (rise + negligible_rise_));
  a.state.earlier_rate = start_rate;
  a.state.last_step = dt;
  a.solved = true;
  return a;
}

}  // namespace tabmelt
