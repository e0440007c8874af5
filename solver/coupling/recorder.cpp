#include "solver/coupling/recorder.h"

#include <algorithm>
#include <cmath>

#include "solver/material/constants.h"
#include "solver/material/sei_damage.h"

namespace tabmelt {

using Index = Eigen::Index;

namespace {
// Once nothing is this much warmer than at the start, the run is over. [K]
constexpr double negligible_rise = 1.0;
}  // namespace

Recorder::Recorder(const Problem& problem, const WeldModel& model, const circuit::Loop& loop,
                   const PulseStep& step, Observer* observer)
    : problem_(&problem), model_(&model), loop_(&loop), step_(&step), observer_(observer) {
  result_.grid = model.grid;
  result_.region_names = model.region_names;
  for (const Probe& probe : problem.probes) result_.probe_names.push_back(probe.name);
  result_.peak_temperature.assign(model.grid.cells(), static_cast<float>(problem.boundary.ambient));
  result_.peak_liquid_fraction.assign(model.grid.cells(), 0.0F);
  const auto add = [&](std::size_t row, bool upper, std::size_t rows, double limit) {
    Watch w;
    w.row = row;
    w.rows = rows;
    w.upper_surface = upper;
    w.limit = limit;
    w.exposure.assign(model.grid.nr(), 0);
    w.above.assign(model.grid.nr(), 0);
    w.peak.value = problem.boundary.ambient;
    watches_.push_back(w);
  };
  add(model.wall_row, false, 0,
      problem.cell_limits ? problem.cell_limits->inner_wall.value_or(0) : 0);
  for (std::size_t n = 0; n < problem.inner.size(); ++n) {
    const std::size_t below =
        n + 1 < problem.inner.size() ? model.layer_top_rows[n + 1] + 1 : std::size_t{0};
    add(model.layer_top_rows[n], true, model.layer_top_rows[n] + 1 - below,
        problem.inner[n].limit.value_or(0));
  }
  const std::size_t faces = model.planes[1].columns;
  soft_time_.assign(faces, 0);
  soft_ever_.assign(faces, -1e9);
  molten_ever_.assign(faces, -1e9);
  stuck_ever_.assign(faces, -1e9);
  through_ever_.assign(faces, -1e9);
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

void Recorder::watch(Watch& w, const Surfaces& surfaces, const Field& T_cells, double time,
                     double dt) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  w.now = 0;
  for (std::size_t i = 0; i < grid.nr(); ++i) {
    if (grid.region(grid.index(i, w.row)) == region::empty) break;
    const double T = w.upper_surface ? surfaces.above(i, w.row) : surfaces.below(i, w.row);
    const double z = w.upper_surface ? grid.z_edges()[w.row + 1] : grid.z_edges()[w.row];
    w.now = std::max(w.now, T);
    note(w.peak, T, time, grid.r_centre(i), z);
    w.exposure[i] += sei_damage_rate(T) * dt;
    if (w.limit > 0 && T > w.limit) w.above[i] += dt;
    if (w.rows == 0) continue;
    const Enthalpy& law = *model_->law(grid.index(i, w.row)).enthalpy;
    if (!law.melts() || T <= law.solidus()) continue;
    double molten = 0, thickness = 0;
    for (std::size_t row = w.row + 1 - w.rows; row <= w.row; ++row) {
      thickness += grid.dz(row);
      molten += grid.dz(row) * law.liquid_fraction(T_cells[static_cast<Index>(grid.index(i, row))]);
    }
    note(w.molten_share, molten / thickness, time, grid.r_centre(i), z);
  }
}

void Recorder::note_under_tip(const SpotState& s, const SpotStep& a, const Surfaces& surfaces,
                              double time, double dt) {
  const UnderTip under = under_tip(*model_, surfaces, s.T, a.touches ? a.contact_radius[0] : 0);
  for (std::size_t i = 0; i < under.sticking.size(); ++i) {
    stuck_ever_[i] = std::max(stuck_ever_[i], under.sticking[i]);
    through_ever_[i] = std::max(through_ever_[i], under.through[i]);
  }
  note(result_.through_band, band_beyond(model_->grid, under.through, a.contact_radius[0]), time,
       a.contact_radius[0], 0);
  if (a.touches) {
    const WallLoad wall = wall_load(*model_, s.T, a.force, a.contact_radius[0]);
    sunk_ = std::min(1.0, sunk_ + wall.sinking() * dt);  // 1: pushed right through
    note(result_.wall_sunk, sunk_, time, wall.r, -problem_->can.thickness);
  }
  for (std::size_t p = 0; p < 2; ++p)
    note(result_.burst_share, a.burst_share[p], time, 0, p == 0 ? problem_->strip.thickness : 0);
}

void Recorder::check_range(std::size_t region, double T) {
  const Material& m = *model_->laws[region].material;
  const double highest = m.covered_to();
  if (left_range_[region] || T <= highest) return;
  left_range_[region] = 1;
  result_.notes.push_back(model_->region_names[region] + " (" + m.name +
                          ") became hotter than its property curves reach, " +
                          std::to_string(static_cast<int>(highest)) +
                          " K; their end values were held from there");
}

void Recorder::note_cells(const SpotState& s, double time, StepRecord& r) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  hottest_.assign(model_->laws.size(), {});
  double vapour = 0;
  for (std::size_t c = 0; c < grid.cells(); ++c) {
    const std::uint8_t region = grid.region(c);
    if (region == region::empty) continue;
    const double T = s.T[static_cast<Index>(c)];
    if (T > hottest_[region].T) hottest_[region] = {T, c};
    const RegionLaw& law = model_->laws[region];
    const auto rounded = static_cast<float>(T);
    if (rounded >= result_.peak_temperature[c]) {
      result_.peak_temperature[c] = rounded;
      result_.peak_liquid_fraction[c] = std::max(
          result_.peak_liquid_fraction[c], static_cast<float>(law.enthalpy->liquid_fraction(T)));
    }
    if (T > law.enthalpy->boiling())
      vapour += law.enthalpy->vapour_fraction(s.H[static_cast<Index>(c)]) * grid.volume(c) *
                law.material->density;
  }
  result_.vaporised_mass = std::max(result_.vaporised_mass, vapour);
  for (std::size_t n = 0; n < hottest_.size(); ++n) {
    if (n == region::empty || hottest_[n].T <= 0) continue;
    const Hottest& h = hottest_[n];
    const double where_r = grid.r_centre(h.cell % grid.nr());
    const double where_z = grid.z_centre(h.cell / grid.nr());
    check_range(n, h.T);
    r.peak_temperature = std::max(r.peak_temperature, h.T);
    note(result_.peak_temperature_any, h.T, time, where_r, where_z);
    if (n == region::strip) {
      r.strip_temperature = h.T;
      note(result_.peak_strip, h.T, time, where_r, where_z);
    } else if (n == region::can) {
      r.can_temperature = h.T;
      note(result_.peak_can, h.T, time, where_r, where_z);
    }
  }
}

void Recorder::note_tips(const StepAttempt& a, StepRecord& r) {
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
  if (a.spots.size() < 2) return;
  const SpotStep& other = a.spots[1];
  r.other_force = other.force;
  r.other_tip_true_area = other.true_area[0];
  if (!a.state.loop.closed) return;
  r.other_resistance = a.state.spots[1].resistance;
  r.other_tip_resistance = other.contact_resistance[0];
  r.other_tip_voltage = other.contact_voltage[0];
}

bool Recorder::accept(const StepAttempt& attempt, double progress) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  const SpotStep& a = attempt.spots[0];
  const SpotState& s = attempt.state.spots[0];
  const circuit::LoopState& loop = attempt.state.loop;
  const double time = loop.time;
  const Surfaces surfaces(*model_, s.T, step_->spot(0).k_axial(), s.contact.planes);

  StepRecord r;
  r.time = time;
  r.step = attempt.dt;
  r.current = loop.current;
  r.source_voltage = loop.source_voltage;
  if (loop.closed) {
    r.load_resistance = step_->alike() * s.resistance;
    for (std::size_t n = 1; n < attempt.state.spots.size(); ++n)
      r.load_resistance += attempt.state.spots[n].resistance;
    r.load_voltage = r.load_resistance * loop.current;
    r.tip_resistance = a.contact_resistance[0];
    r.faying_resistance = a.contact_resistance[1];
    r.tip_voltage = a.contact_voltage[0];
    r.faying_voltage = a.contact_voltage[1];
    r.can_share = a.can_share;
    if (result_.can_share_start <= 0) result_.can_share_start = a.can_share;
    share_energy_ += a.can_share * a.energy;
  }
  r.force = a.force;
  r.tip_true_area = a.true_area[0];
  r.faying_true_area = a.true_area[1];
  if (loop.closed) {
    result_.most_reverse_voltage =
        std::max(result_.most_reverse_voltage, -attempt.extremes.lowest_voltage);
    note(result_.peak_current, attempt.extremes.current,
         time - attempt.dt + attempt.extremes.current_time, 0, 0);
  }
  for (std::size_t p = 0; p < 2; ++p)
    note(p == 0 ? result_.peak_tip_voltage : result_.peak_faying_voltage, a.contact_voltage[p],
         time, grid.r_centre(a.voltage_face[p]), p == 0 ? problem_->strip.thickness : 0);

  note_cells(s, time, r);

  const std::size_t tip_row = model_->planes[0].below;
  for (std::size_t i = 0; i < grid.nr(); ++i) {
    if (grid.region(grid.index(i, tip_row)) == region::empty) break;
    const double top = surfaces.above(i, tip_row);
    r.strip_top_temperature = std::max(r.strip_top_temperature, top);
    note(result_.peak_strip_top, top, time, grid.r_centre(i), problem_->strip.thickness);
    if (i >= model_->planes[0].columns) continue;
    const double face = surfaces.below(i, tip_row + 1);
    r.tip_temperature = std::max(r.tip_temperature, face);
    note(result_.peak_tip, face, time, grid.r_centre(i), problem_->strip.thickness);
  }

  const JointMoment joint = joint_moment(*model_, surfaces, s.T, a.contact_radius[1]);
  r.faying_temperature = joint.hottest;
  note(result_.peak_faying, joint.hottest, time, joint.hottest_r, 0);
  r.nugget_diameter = 2 * std::sqrt(joint.molten_area / constants::pi);
  if (r.nugget_diameter > result_.nugget.value)
    result_.nugget_hole_diameter = 2 * joint.hole_radius;
  note(result_.nugget, r.nugget_diameter, time, 0, 0);
  r.strip_penetration = joint.strip_penetration;
  r.can_penetration = joint.can_penetration;
  note(result_.strip_penetration, joint.strip_penetration, time, 0, joint.strip_penetration);
  note(result_.can_penetration, joint.can_penetration, time, 0, -joint.can_penetration);
  result_.strip_molten_through |= joint.strip_through;
  result_.strip_through_radius = std::max(result_.strip_through_radius, joint.through_radius);
  result_.tip_contact_radius = std::max(result_.tip_contact_radius, a.contact_radius[0]);
  result_.faying_contact_radius = std::max(result_.faying_contact_radius, a.contact_radius[1]);
  for (std::size_t i = 0; i < joint.excess.soft.size(); ++i) {
    if (joint.excess.soft[i] > 0) soft_time_[i] += attempt.dt;
    soft_ever_[i] = std::max(soft_ever_[i], joint.excess.soft[i]);
    molten_ever_[i] = std::max(molten_ever_[i], joint.excess.molten[i]);
  }

  note_under_tip(s, a, surfaces, time, attempt.dt);

  for (Watch& w : watches_) watch(w, surfaces, s.T, time, attempt.dt);
  r.inner_wall_temperature = watches_[0].now;
  for (std::size_t n = 1; n < watches_.size(); ++n) r.layer_temperature.push_back(watches_[n].now);

  for (const Probe& probe : problem_->probes) {
    const auto found =
        std::find(model_->region_names.begin(), model_->region_names.end(), probe.part);
    r.probes.push_back(surfaces.at(
        probe.r, probe.z, static_cast<std::uint8_t>(found - model_->region_names.begin())));
  }

  note_tips(attempt, r);

  Ledger& ledger = result_.ledger;
  for (std::size_t n = 0; n < books_.size(); ++n) {
    SpotBooks& books = books_[n];
    books.add(attempt.spots[n], attempt.state.spots[n], step_->spot(n).potential().bulk_heat(),
              attempt.energy, loop.closed, step_->alike(), ledger);
    if (books.in() > 0)
      result_.worst_energy_residual =
          std::max(result_.worst_energy_residual, std::abs(books.residual()) / books.in());
  }
  if (books_.size() > 1) r.other_energy_expelled = books_[1].expelled();
  r.energy_in = books_[0].in();
  r.energy_stored = books_[0].stored();
  r.energy_out = books_[0].out();
  r.energy_expelled = books_[0].expelled();
  r.energy_residual = books_[0].residual();

  ledger.from_source += attempt.energy.from_source;
  ledger.source_resistance += attempt.energy.in_source;
  ledger.leads += attempt.energy.in_leads;
  ledger.joints += attempt.energy.in_joints;
  ledger.power_switch += attempt.energy.in_switch;

  if (!attempt.settled) ++unsettled_;
  r.newton_iterations = attempt.newton_iterations;
  r.coupling_iterations = attempt.coupling_iterations;
  r.linear_iterations = attempt.linear_iterations;
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
  const mesh::AxisymmetricGrid& grid = model_->grid;
  // The last moment of a run is often due as a frame of its own as well.
  if (!result_.last.temperature.empty() && result_.last.time == state.loop.time) return;
  const SpotState& s = state.spots[0];
  const Potential& field = step_->spot(0).potential();
  Frame& f = result_.last;
  f.time = state.loop.time;
  const std::size_t n = grid.cells();
  f.temperature.assign(n, static_cast<float>(problem_->boundary.ambient));
  f.liquid_fraction.assign(n, 0.0F);
  f.potential.assign(n, 0.0F);
  f.current_density.assign(3 * n, 0.0F);
  for (std::size_t c = 0; c < n; ++c) {
    if (grid.region(c) == region::empty) continue;
    const double T = s.T[static_cast<Index>(c)];
    f.temperature[c] = static_cast<float>(T);
    f.liquid_fraction[c] = static_cast<float>(model_->law(c).enthalpy->liquid_fraction(T));
  }
  if (current_flows) {
    const std::size_t offset = model_->current_rows.first * grid.nr();
    const Field& phi = field.potential();
    const std::vector<double> density = field.current_density();
    for (Index c = 0; c < phi.size(); ++c) {
      const auto local = static_cast<std::size_t>(c);
      f.potential[local + offset] = static_cast<float>(phi[c] * state.loop.current);
      for (std::size_t k = 0; k < 2; ++k)
        f.current_density[3 * (local + offset) + k] =
            static_cast<float>(density[2 * local + k] * state.loop.current);
    }
  }
  if (observer_) observer_->frame_taken(f);
}

bool Recorder::just_peaked() {
  const StepRecord& r = result_.history.back();
  const std::array<double, 3> now = {std::abs(r.current), r.faying_temperature,
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
  const double ambient = problem_->boundary.ambient;
  const double hottest = result_.history.back().peak_temperature;
  // No surface can become hotter than the hottest metal still is.
  if (hottest < ambient + negligible_rise) return true;
  for (const Watch& w : watches_)
    if (w.now > ambient + 0.98 * (w.peak.value - ambient)) return false;
  return true;
}

Result Recorder::finish(const WeldState& s, Ending ending, std::string reason, int rejected) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  result_.ending = ending;
  result_.ending_reason = std::move(reason);
  result_.rejected_steps = rejected;
  if (unsettled_ > 0)
    result_.notes.push_back(
        "in " + std::to_string(unsettled_) + " of " + std::to_string(result_.history.size()) +
        " steps contacts and current field still differed by more than the coupling tolerance "
        "after the last round");
  double hole = 0;
  const auto diameter = [&](const std::vector<double>& v) {
    return 2 *
           std::sqrt(positive_area(grid, v, result_.faying_contact_radius, hole) / constants::pi);
  };
  result_.soft_diameter = diameter(soft_ever_);
  result_.fused_diameter = diameter(molten_ever_);
  const auto area_under_tip = [&](const std::vector<double>& v) {
    return positive_area(grid, v, result_.tip_contact_radius, hole);
  };
  result_.stuck_area = area_under_tip(stuck_ever_);
  result_.through_area = area_under_tip(through_ever_);
  for (const double t : soft_time_)
    result_.time_faying_soft = std::max(result_.time_faying_soft, t);
  if (books_[0].in() > 0) result_.can_share_mean = share_energy_ / books_[0].in();
  close_landings(s.loop.time);

  for (std::size_t n = 0; n < watches_.size(); ++n) {
    const Watch& w = watches_[n];
    LayerRecord layer;
    layer.name = n == 0 ? "inner can wall" : problem_->inner[n - 1].name;
    layer.peak = w.peak;
    layer.limit = w.limit;
    layer.molten_share = w.molten_share;
    layer.time_above_limit = *std::max_element(w.above.begin(), w.above.end());
    layer.damage = sei_damage(*std::max_element(w.exposure.begin(), w.exposure.end()));
    if (n == 0) {
      layer.limit_reason = problem_->cell_limits ? problem_->cell_limits->reason : "";
    } else {
      layer.limit_reason = problem_->inner[n - 1].limit_reason;
      layer.molten_limit = problem_->inner[n - 1].molten_limit.value_or(0);
      layer.damage_limit = problem_->inner[n - 1].damage_limit.value_or(0);
      const auto& melting = problem_->inner[n - 1].material->melting;
      layer.melting_temperature = melting ? melting->solidus : 0;
    }
    result_.inner_wall_and_layers.push_back(layer);
  }
  result_.peak_inner_wall = watches_[0].peak;

  Ledger& l = result_.ledger;
  const double L = loop_->elements().inductance;
  l.left_in_inductance =
      loop_->current_is_prescribed() ? 0 : 0.5 * L * s.loop.current * s.loop.current;
  l.left_in_source = loop_->stored_energy(s.loop);
  l.residual = l.from_source - (l.source_resistance + l.leads + l.joints + l.power_switch +
                                l.switch_off + l.tip_lift + l.tip_contacts + l.faying_contacts +
                                l.electrodes + l.strip + l.can + l.expelled + l.left_in_inductance);
  return std::move(result_);
}

}  // namespace tabmelt
