#include "solver/coupling/recorder.h"

#include <algorithm>
#include <cmath>

#include "mesh/front.h"
#include "solver/material/constants.h"

namespace tabmelt {

namespace {
// Once nothing is this much warmer than at the start, the run is over. [K]
constexpr double negligible_rise = 1.0;

double hottest_joint(const StepRecord& r) {
  double hottest = 0;
  for (const JointRecord& joint : r.joints) hottest = std::max(hottest, joint.temperature);
  return hottest;
}
}  // namespace

Recorder::Recorder(const Problem& problem, const WeldModel& model, const circuit::Loop& loop,
                   const PulseStep& step, Observer* observer)
    : problem_(&problem),
      model_(&model),
      loop_(&loop),
      step_(&step),
      observer_(observer),
      inside_(problem, model) {
  result_.grid = model.grid;
  result_.parts = model.parts;
  result_.contacts.resize(model.planes.size());
  result_.joints.resize(model.joints());
  result_.sheets.resize(model.sheets.size());
  result_.ledger.contacts.assign(model.planes.size(), 0);
  result_.ledger.sheets.assign(model.sheets.size(), 0);
  for (const Probe& probe : problem.probes) result_.probe_names.push_back(probe.name);
  result_.peak_temperature.assign(model.grid.cells(), static_cast<float>(problem.boundary.ambient));
  result_.peak_liquid_fraction.assign(model.grid.cells(), 0.0F);
  for (std::size_t n = 0; n < model.joints(); ++n) {
    const std::size_t faces = model.joint(n).columns;
    joints_.push_back({std::vector<double>(faces, 0), std::vector<double>(faces, never),
                       std::vector<double>(faces, never)});
  }
  stuck_ever_.assign(model.joint(0).columns, never);
  through_ever_.assign(model.joint(0).columns, never);
  left_range_.assign(model.laws.size(), 0);
  const TouchDown& touch_down = step.touch_down();
  books_.assign(touch_down.tips(), SpotBooks(model));
  if (problem.pressing.closing == Closing::unswitched)
    for (std::size_t n = 0; n < touch_down.tips(); ++n)
      result_.landings.push_back({.ahead = touch_down.ahead(n)});
}

void Recorder::begin(const WeldState& state) {
  for (std::size_t n = 0; n < books_.size(); ++n) books_[n].begin(state.spots[n]);
  result_.ledger.stored_before = loop_->stored_energy(state.loop);
  if (observer_) observer_->begins(result_);
  frame(state, false);
}

void Recorder::note(Extreme& e, double value, double time, double r, double z) const {
  if (value <= e.value) return;
  e = {value, time, r, z};
}

void Recorder::note_under_tip(const SpotState& s, const SpotStep& a, const Surfaces& surfaces,
                              double time, double dt) {
  const double face = a.contacts.front().radius;
  const UnderTip under = under_tip(*model_, surfaces, s.T, a.touches ? face : 0);
  for (std::size_t i = 0; i < under.sticking.size(); ++i) {
    stuck_ever_[i] = std::max(stuck_ever_[i], under.sticking[i]);
    through_ever_[i] = std::max(through_ever_[i], under.through[i]);
  }
  note(result_.through_band, band_beyond(model_->grid, under.through, face), time, face, 0);
  if (!a.touches) return;
  const WallLoad wall = wall_load(*model_, s.T, a.force, face);
  sunk_ = std::min(1.0, sunk_ + wall.sinking() * dt);  // 1: pushed right through
  note(result_.wall_sunk, sunk_, time, wall.r, -problem_->base().thickness);
}

void Recorder::check_range(std::size_t region, double T) {
  const Material& m = *model_->laws[region].material;
  if (T > m.hottest_meaningful() && result_.beyond_model.empty())
    result_.beyond_model = model_->parts[region].name + " (" + m.name + ") reached " +
                           std::to_string(static_cast<int>(std::min(T, 1e9))) + " K, far above " +
                           (m.boiling ? "its boiling point" : "where any such metal boils");
  const double highest = m.covered_to();
  if (left_range_[region] || T <= highest) return;
  left_range_[region] = 1;
  result_.notes.push_back(model_->parts[region].name + " (" + m.name +
                          ") became hotter than its property curves reach, " +
                          std::to_string(static_cast<int>(highest)) +
                          " K; their end values were held from there");
}

void Recorder::check_boiling(const std::vector<double>& boiled_off) {
  const double face = mesh::AxisymmetricGrid::disc_area(problem_->electrode.tip_radius);
  const double all_under_tip =
      face * problem_->top().thickness * model_->sheet_law(0).enthalpy->all_boiled();
  for (const double energy : boiled_off) boiled_off_ += energy;
  if (boiled_off_ < all_under_tip || !result_.beyond_model.empty()) return;
  result_.beyond_model =
      "more has boiled away than the " + problem_->top().name + " under the tip holds";
}

void Recorder::note_cells(const SpotState& s, double time, StepRecord& r) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  hottest_.assign(model_->laws.size(), {});
  double vapour = 0;
  for (std::size_t c = 0; c < grid.cells(); ++c) {
    const std::uint8_t region = grid.region(c);
    if (region == mesh::empty) continue;
    const double T = s.T[c];
    if (T > hottest_[region].T) hottest_[region] = {T, c};
    const RegionLaw& law = model_->laws[region];
    result_.peak_temperature[c] = std::max(result_.peak_temperature[c], static_cast<float>(T));
    if (T > law.enthalpy->boiling())
      vapour += law.enthalpy->vapour_fraction(s.H[c]) * grid.volume(c) * law.material->density;
  }
  result_.vaporised_mass = std::max(result_.vaporised_mass, vapour);
  for (std::size_t n = 0; n < hottest_.size(); ++n) {
    if (n == mesh::empty || hottest_[n].T <= 0) continue;
    const Hottest& h = hottest_[n];
    const double where_r = grid.r_centre(h.cell % grid.nr());
    const double where_z = grid.z_centre(h.cell / grid.nr());
    check_range(n, h.T);
    r.peak_temperature = std::max(r.peak_temperature, h.T);
    note(result_.peak_temperature_any, h.T, time, where_r, where_z);
  }
  for (std::size_t n = 0; n < model_->sheets.size(); ++n) {
    const Hottest& h = hottest_[model_->sheets[n].region];
    r.sheets[n].temperature = h.T;
    note(result_.sheets[n].peak, h.T, time, grid.r_centre(h.cell % grid.nr()),
         grid.z_centre(h.cell / grid.nr()));
  }
}

void Recorder::note_landings(const StepAttempt& a) {
  const double time = a.state.loop.time;
  const TouchDown& touch_down = step_->touch_down();
  const bool begins = !current_began_ && a.state.loop.closed && a.energy.square_current > 0;
  // The run's largest current so far lies within this step.
  const bool peaks = a.extremes.current > 0 && a.extremes.current == result_.peak_current.value &&
                     result_.peak_current.time >= time - a.dt;
  for (std::size_t n = 0; n < result_.landings.size(); ++n) {
    TipLanding& landing = result_.landings[n];
    if (begins) landing.force_at_start = touch_down.force(n, time - a.dt);
    if (peaks) landing.force_at_peak = a.spots[n].force;
  }
  current_began_ |= begins;
}

void Recorder::note_circuit(const StepAttempt& attempt, StepRecord& r) {
  const circuit::LoopState& loop = attempt.state.loop;
  const SpotStep& judged = attempt.spots.front();
  r.time = loop.time;
  r.step = attempt.dt;
  r.current = loop.current;
  r.source_voltage = loop.source_voltage;
  if (!loop.closed) return;
  for (const SpotState& spot : attempt.state.spots)
    r.load_resistance += step_->alike() * spot.resistance;
  r.load_voltage = r.load_resistance * loop.current;
  r.base_share = judged.base_share;
  if (result_.base_share_start <= 0) result_.base_share_start = judged.base_share;
  share_energy_ += judged.base_share * judged.energy;
  result_.most_reverse_voltage =
      std::max(result_.most_reverse_voltage, -attempt.extremes.lowest_voltage);
  note(result_.peak_current, attempt.extremes.current,
       loop.time - attempt.dt + attempt.extremes.current_time, 0, 0);
}

void Recorder::note_contacts(const StepAttempt& attempt, StepRecord& r) {
  const bool flows = attempt.state.loop.closed;
  for (std::size_t n = 0; n < attempt.spots.size(); ++n) {
    const SpotStep& step = attempt.spots[n];
    SpotRecord spot;
    spot.force = step.force;
    if (flows) spot.resistance = attempt.state.spots[n].resistance;
    for (const ContactStep& contact : step.contacts)
      spot.contacts.push_back({flows ? contact.resistance : 0, flows ? contact.voltage : 0,
                               contact.true_area, step.touches ? contact.radius : 0});
    r.spots.push_back(std::move(spot));
  }
  const mesh::AxisymmetricGrid& grid = model_->grid;
  for (std::size_t p = 0; p < result_.contacts.size(); ++p) {
    const ContactStep& contact = attempt.spots.front().contacts[p];
    ContactSummary& summary = result_.contacts[p];
    const double z = grid.z_edges()[model_->planes[p].below + 1];
    note(summary.voltage, contact.voltage, r.time, grid.r_centre(contact.voltage_face), z);
    note(summary.burst_share, contact.burst_share, r.time, 0, z);
    summary.radius = std::max(summary.radius, contact.radius);
  }
}

void Recorder::note_tip_face(const Surfaces& surfaces, double time, StepRecord& r) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  const ContactPlane& plane = model_->planes.front();
  const double z = grid.z_edges()[plane.below + 1];
  for (std::size_t i = 0; i < grid.nr(); ++i) {
    if (grid.region(grid.index(i, plane.below)) == mesh::empty) break;
    const double top = surfaces.above(i, plane.below);
    r.top_temperature = std::max(r.top_temperature, top);
    note(result_.peak_top, top, time, grid.r_centre(i), z);
    if (i >= plane.columns) continue;
    const double face = surfaces.below(i, plane.below + 1);
    r.tip_temperature = std::max(r.tip_temperature, face);
    note(result_.peak_tip, face, time, grid.r_centre(i), z);
  }
}

void Recorder::note_joint(std::size_t n, const StepAttempt& attempt, const Surfaces& surfaces,
                          StepRecord& r) {
  const SpotStep& step = attempt.spots.front();
  const JointMoment moment = joint_moment(*model_, n, surfaces, attempt.state.spots.front().T,
                                          step.contacts[n + 1].radius);
  JointSummary& summary = result_.joints[n];
  const double z = model_->grid.z_edges()[model_->joint(n).below + 1];
  r.joints[n].temperature = moment.hottest;
  note(summary.peak, moment.hottest, r.time, moment.hottest_r, z);
  const double diameter = 2 * std::sqrt(moment.molten_area / constants::pi);
  r.joints[n].nugget_diameter = diameter;
  if (diameter > summary.nugget.value) summary.hole_diameter = 2 * moment.hole_radius;
  note(summary.nugget, diameter, r.time, 0, z);

  const auto melt = [&](std::size_t sheet, double depth, double deepest_z) {
    r.sheets[sheet].penetration = std::max(r.sheets[sheet].penetration, depth);
    note(result_.sheets[sheet].penetration, depth, r.time, 0, deepest_z);
  };
  melt(n, moment.melt_above, z + moment.melt_above);
  melt(n + 1, moment.melt_below, z - moment.melt_below);
  SheetSummary& above = result_.sheets[n];
  above.molten_through |= moment.through_radius > 0;
  above.through_radius = std::max(above.through_radius, moment.through_radius);

  JointEver& ever = joints_[n];
  for (std::size_t i = 0; i < moment.excess.soft.size(); ++i) {
    if (moment.excess.soft[i] > 0) ever.soft_time[i] += attempt.dt;
    ever.soft[i] = std::max(ever.soft[i], moment.excess.soft[i]);
    ever.molten[i] = std::max(ever.molten[i], moment.excess.molten[i]);
  }
}

void Recorder::note_inside(const SpotState& s, const Surfaces& surfaces, double time, double dt,
                           StepRecord& r) {
  const std::vector<double> hottest = inside_.look(surfaces, s.T, time, dt);
  r.inner_wall_temperature = hottest.front();
  r.layer_temperature.assign(hottest.begin() + 1, hottest.end());
  for (const Probe& probe : problem_->probes) {
    const auto found = std::find_if(model_->parts.begin(), model_->parts.end(),
                                    [&](const Part& part) { return part.name == probe.part; });
    r.probes.push_back(
        surfaces.at(probe.r, probe.z, static_cast<std::uint8_t>(found - model_->parts.begin())));
  }
}

void Recorder::keep_books(const StepAttempt& attempt, StepRecord& r) {
  Ledger& ledger = result_.ledger;
  for (std::size_t n = 0; n < books_.size(); ++n) {
    SpotBooks& books = books_[n];
    books.add(attempt.spots[n], attempt.state.spots[n], step_->spot(n).potential().bulk_heat(),
              attempt.energy, attempt.state.loop.closed, step_->alike(), ledger);
    r.spots[n].energy_expelled = books.expelled();
  }
  const SpotBooks& judged = books_.front();
  r.energy_in = judged.in();
  r.energy_stored = judged.stored();
  r.energy_out = judged.out();
  r.energy_residual = judged.residual();
  ledger.from_source += attempt.energy.from_source;
  ledger.source_resistance += attempt.energy.in_source;
  ledger.leads += attempt.energy.in_leads;
  ledger.joints += attempt.energy.in_joints;
  ledger.power_switch += attempt.energy.in_switch;
}

bool Recorder::accept(const StepAttempt& attempt, double progress) {
  const SpotState& s = attempt.state.spots.front();
  const double time = attempt.state.loop.time;
  const Surfaces surfaces(*model_, s.T, step_->spot(0).k_axial(), s.contact.planes);
  StepRecord r;
  r.joints.resize(model_->joints());
  r.sheets.resize(model_->sheets.size());
  note_circuit(attempt, r);
  note_contacts(attempt, r);
  note_cells(s, time, r);
  note_tip_face(surfaces, time, r);
  for (std::size_t n = 0; n < model_->joints(); ++n) note_joint(n, attempt, surfaces, r);
  note_under_tip(s, attempt.spots.front(), surfaces, time, attempt.dt);
  note_inside(s, surfaces, time, attempt.dt, r);
  note_landings(attempt);
  check_boiling(attempt.spots.front().boiled_off);
  keep_books(attempt, r);
  if (!attempt.settled) ++result_.unsettled_steps;
  r.newton_iterations = attempt.newton_iterations;
  r.coupling_iterations = attempt.coupling_iterations;
  r.linear_iterations = attempt.linear_iterations;
  // A flowing current without history has just been switched, or a tip has landed.
  if (!attempt.state.loop.closed || attempt.first) electrical_.forget();
  if (attempt.state.loop.closed)
    electrical_.add(result_.history.empty() ? nullptr : &result_.history.back(), r);
  result_.history.push_back(r);
  return observer_ ? observer_->step_done(r, progress) : true;
}

void Recorder::switch_opened(double dumped) { result_.ledger.switch_off += dumped; }

void Recorder::tip_lifted(double dumped) {
  result_.ledger.tip_lift += dumped;
  ++result_.interruptions;
}

void Recorder::close_landings(double end_time) {
  for (std::size_t n = 0; n < result_.landings.size(); ++n) {
    TipLanding& landing = result_.landings[n];
    landing.bounces = step_->touch_down().bounces(n, end_time);
    landing.energy = books_[n].in();
    landing.expelled = books_[n].expelled();
    landing.hottest = books_[n].hottest();
  }
}

void Recorder::frame(const WeldState& state, bool current_flows) {
  // The last moment of a run is often due as a frame of its own as well.
  if (!result_.last.temperature.empty() && result_.last.time == state.loop.time) return;
  fill_frame(*model_, step_->spot(0), state, problem_->boundary.ambient, current_flows,
             result_.last);
  if (observer_) observer_->frame_taken(result_.last);
}

bool Recorder::just_peaked() {
  const StepRecord& r = result_.history.back();
  const std::array<double, 3> now = {std::abs(r.current), hottest_joint(r),
                                     r.inner_wall_temperature};
  bool peaked = false;
  for (std::size_t n = 0; n < now.size(); ++n) {
    peaked |= rising_[n] && now[n] < last_[n];
    rising_[n] = now[n] > last_[n];
    last_[n] = now[n];
  }
  return peaked;
}

bool Recorder::inside_past_its_peak() const {
  const double hottest = result_.history.back().peak_temperature;
  // No surface can become hotter than the hottest metal still is.
  return hottest < problem_->boundary.ambient + negligible_rise || inside_.past_its_peak();
}

void Recorder::close_joints() {
  const auto area = [&](const std::vector<double>& v, double radius) {
    return mesh::positive_rings(model_->grid, v, radius).area;
  };
  for (std::size_t n = 0; n < joints_.size(); ++n) {
    const double touching = result_.contacts[n + 1].radius;
    const auto diameter = [&](const std::vector<double>& v) {
      return 2 * std::sqrt(area(v, touching) / constants::pi);
    };
    JointSummary& joint = result_.joints[n];
    joint.soft_diameter = diameter(joints_[n].soft);
    joint.fused_diameter = diameter(joints_[n].molten);
    for (const double t : joints_[n].soft_time) joint.time_soft = std::max(joint.time_soft, t);
  }
  const double face = result_.contacts.front().radius;
  result_.stuck_area = area(stuck_ever_, face);
  result_.through_area = area(through_ever_, face);
}

Result Recorder::finish(const WeldState& s, Ending ending, std::string reason, int rejected) {
  result_.ending = ending;
  result_.ending_reason = std::move(reason);
  result_.rejected_steps = rejected;
  if (result_.unsettled_steps > 0)
    result_.notes.push_back(
        "in " + std::to_string(result_.unsettled_steps) + " of " +
        std::to_string(result_.history.size()) +
        " steps contacts and current field still differed by more than the coupling tolerance "
        "after the last round");
  close_joints();
  if (books_.front().in() > 0) result_.base_share_mean = share_energy_ / books_.front().in();
  close_landings(s.loop.time);
  for (std::size_t c = 0; c < model_->grid.cells(); ++c)
    if (model_->grid.region(c) != mesh::empty)
      result_.peak_liquid_fraction[c] = static_cast<float>(model_->law(c).enthalpy->liquid_fraction(
          static_cast<double>(result_.peak_temperature[c])));
  for (const SpotBooks& books : books_)
    result_.worst_energy_residual = std::max(result_.worst_energy_residual, books.worst_residual());

  result_.inner_wall_and_layers = inside_.records();
  result_.peak_inner_wall = result_.inner_wall_and_layers.front().peak;

  Ledger& l = result_.ledger;
  const double L = loop_->elements().inductance;
  l.left_in_inductance =
      loop_->current_is_prescribed() ? 0 : 0.5 * L * s.loop.current * s.loop.current;
  l.left_in_source = loop_->stored_energy(s.loop);
  l.residual = l.from_source - (l.source_resistance + l.leads + l.joints + l.power_switch +
                                l.switch_off + l.tip_lift + l.at_spots() + l.left_in_inductance);
  return std::move(result_);
}

}  // namespace tabmelt
