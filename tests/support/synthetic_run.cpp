#include "tests/support/synthetic_run.h"

#include <algorithm>
#include <cmath>
#include <memory>

#include "tests/support/regions.h"

namespace tabmelt::testing {

namespace {

constexpr double ambient = 293.15, melting = 1728, melting_range = 30;
constexpr double tip = 0.75e-3, body = 1.5e-3, strip_top = 0.15e-3, can_bottom = -0.3e-3;
constexpr double face_radius = 5e-3, touching = 0.55e-3;
constexpr double pulse = 5e-3, end = 60e-3, peak_current = 1350, through_can = 0.62;

void extend(std::vector<double>& edges, double to, double first, double growth) {
  while (edges.back() + 1.5 * first < to) {
    edges.push_back(edges.back() + first);
    first *= growth;
  }
  edges.push_back(to);
}

double electrode_radius(double z) { return std::clamp(tip + 1.1 * (z - strip_top), tip, body); }

const double cone_top = strip_top + (body - tip) / 1.1;

std::vector<mesh::Part> parts() {
  const double disc_bottom = can_bottom - 0.2e-3, winding_bottom = can_bottom - 2.2e-3;
  return {{"tip", regions::electrode, strip_top, cone_top, tip, body},
          {"body", regions::electrode, cone_top, 5e-3, body, body},
          {"strip", regions::strip, 0, strip_top, 5e-3, 5e-3},
          {"can", regions::can, can_bottom, 0, 9e-3, 9e-3},
          {"disc", regions::layer, disc_bottom, can_bottom, 9e-3, 9e-3},
          {"winding", regions::layer + 1, winding_bottom, disc_bottom, 9e-3, 9e-3}};
}

double current_at(double t) {
  return t < pulse ? peak_current * 1.32 * (1 - std::exp(-t / 0.25e-3)) * std::exp(-t / 6e-3) : 0;
}

// Current that flows downwards inside radius r at height z.
double enclosed(double r, double z, double current) {
  const auto filled = [r](double radius) { return std::min(1.0, r * r / (radius * radius)); };
  const double faying = through_can * current * filled(1.1 * tip);
  if (z > strip_top) {
    return current * filled(electrode_radius(z));
  }
  if (z > 0) {
    return std::lerp(faying, current * filled(tip), z / strip_top);
  }
  return z > can_bottom ? faying * (1 - z / can_bottom) : 0;
}

// Share of the spot's rise that the middle of the joint has at time t.
double strength(double t) {
  return t < pulse ? std::sin(0.5 * M_PI * std::pow(t / pulse, 0.8))
                   : 1 / std::pow(1 + (t - pulse) / 1.5e-3, 0.9);
}

double rise_at(double r, double z, double t, double hottest) {
  const double width = 0.62e-3 * std::sqrt(1 + t / 6e-3);
  const double deep = 0.28e-3 * std::sqrt(0.4 + t / 5e-3);
  const double across = std::exp(-std::pow(r / width, 2));
  if (z > strip_top) {
    return 0.72 * hottest * strength(t) * across * std::exp(-(z - strip_top) / (2.4 * deep));
  }
  if (z > 0) {
    return hottest * strength(t) * across * (1 - 0.12 * z / strip_top);
  }
  double along = 0.93 * std::exp(-std::pow(z / (1.6 * deep), 2));
  if (z < can_bottom) {
    along *= 0.55 * std::exp((z - can_bottom) / (0.5 * deep));
  }
  return hottest * strength(t) * across * along;
}

Frame frame_at(const StoredRun& run, double t, double hottest) {
  const std::size_t nr = run.r_edges.size() - 1, nz = run.z_edges.size() - 1;
  Frame frame;
  frame.time = t;
  const double current = current_at(t);
  for (std::size_t j = 0; j < nz; ++j) {
    for (std::size_t i = 0; i < nr; ++i) {
      const double r0 = run.r_edges[i], r1 = run.r_edges[i + 1], r = 0.5 * (r0 + r1);
      const double z0 = run.z_edges[j], z1 = run.z_edges[j + 1], z = 0.5 * (z0 + z1);
      const bool solid = run.region[j * nr + i] != mesh::empty;
      const double temperature = ambient + (solid ? rise_at(r, z, t, hottest) : 0);
      frame.temperature.push_back(static_cast<float>(temperature));
      const bool metal = solid && z > can_bottom;
      frame.liquid_fraction.push_back(
          metal ? static_cast<float>(std::clamp((temperature - melting) / melting_range, 0.0, 1.0))
                : 0);
      const double volts = z > strip_top ? 0.35 + 90 * (z - strip_top)
                           : z > 0       ? 0.21 * std::exp(-r / 1.5e-3) + 200 * z
                                         : 0.10 * std::exp(-r / 2e-3);
      frame.potential.push_back(metal ? static_cast<float>(volts * current / peak_current) : 0);
      const double area = M_PI * (r1 * r1 - r0 * r0);
      const double down = enclosed(r1, z, current) - enclosed(r0, z, current);
      const double outward = enclosed(r, std::min(z1, z + 0.4 * (z1 - z0)), current) -
                             enclosed(r, z - 0.4 * (z1 - z0), current);
      frame.current_density.push_back(
          metal ? static_cast<float>(outward / (2 * M_PI * r * 0.8 * (z1 - z0))) : 0);
      frame.current_density.push_back(metal ? static_cast<float>(-down / area) : 0);
      frame.current_density.push_back(0);
    }
  }
  return frame;
}

void add_series(StoredRun& run, double hottest) {
  double energy = 0, before = 0;
  for (double t = 0; t < end; t += t < 1.3 * pulse ? 0.05e-3 : 0.5e-3) {
    const double current = current_at(t), share = strength(t) * hottest / 1900;
    const double load = current > 1 ? 1.1e-3 - 0.45e-3 * share : 0;
    energy += 0.5 * current * current * load * (t - before);
    before = t;
    const auto add = [&](const char* name, double value) { run.series[name].push_back(value); };
    const double joint = ambient + rise_at(0, -1e-9, t, hottest);
    add("time", t);
    add("current", current);
    add("source_voltage", 5.5 - 2.9 * std::min(t, pulse) / pulse);
    add("load_voltage", current * load);
    add("load_resistance", load);
    add("tip_resistance", current > 1 ? 0.22e-3 - 0.12e-3 * share : 0);
    add("faying_resistance", current > 1 ? 0.18e-3 - 0.15e-3 * share : 0);
    add("tip_contact_radius", touching * std::sqrt(0.5 + 0.5 * std::min(1.0, t / pulse)));
    add("faying_contact_radius", 1.1 * touching);
    add("force", 22 - 0.9 * std::pow(current / peak_current, 2));
    add("peak_temperature", ambient + rise_at(0, 1e-9, t, hottest));
    add("top_temperature", ambient + rise_at(0, strip_top, t, hottest));
    add("faying_temperature", joint);
    add("inner_wall_temperature", ambient + rise_at(0, can_bottom + 1e-9, t, hottest));
    add("layer_insulating_disc", ambient + rise_at(0, can_bottom - 1e-9, t, hottest));
    add("probe_rim", ambient + rise_at(1.2e-3, 0.1e-3, t, hottest));
    const double molten = std::max(0.0, std::log((joint - ambient) / (melting - ambient)));
    add("nugget_diameter", 2 * 0.62e-3 * std::sqrt(1 + t / 6e-3) * std::sqrt(molten));
    add("strip_penetration", molten > 0 ? std::min(strip_top, 1.5e-3 * molten) : 0);
    add("can_penetration", 0.4e-3 * std::sqrt(molten) * std::sqrt(0.4 + t / 5e-3));
    const double out = energy * 0.8 * (1 - std::exp(-t / 30e-3));
    const double expelled = 0.03 * energy;
    add("energy_in", energy);
    add("energy_out", out);
    add("energy_expelled", expelled);
    add("energy_stored", energy - out - expelled);
  }
}

}  // namespace

StoredRun synthetic_run(const Shape& shape) {
  StoredRun run;
  run.path = "synthetic.vtkhdf";
  run.program_version = "0.0";
  run.title = "Made-up spot: 0.15 mm nickel on a 21700 can bottom";
  run.complete = shape.complete;
  run.r_edges = {0};
  extend(run.r_edges, tip, 25e-6 / shape.fineness, 1);
  extend(run.r_edges, 9e-3, 27e-6 / shape.fineness, 1.09);
  std::vector<double> down{0};
  extend(down, -can_bottom, 15e-6 / shape.fineness, 1);
  extend(down, -can_bottom + 0.2e-3, 20e-6 / shape.fineness, 1);
  extend(down, -can_bottom + 2.2e-3, 25e-6 / shape.fineness, 1.15);
  for (const double depth : down) {
    run.z_edges.insert(run.z_edges.begin(), -depth);
  }
  extend(run.z_edges, strip_top, 12e-6 / shape.fineness, 1);
  extend(run.z_edges, cone_top, 20e-6 / shape.fineness, 1.06);
  extend(run.z_edges, 5e-3, 60e-6 / shape.fineness, 1.1);
  run.region = mesh::AxisymmetricGrid(run.r_edges, run.z_edges, parts()).regions();
  run.parts = {{"empty", Role::empty}, {"electrode", Role::electrode},   {"strip", Role::strip},
               {"can", Role::can},     {"insulating disc", Role::layer}, {"winding", Role::layer}};
  for (std::size_t n = 0; n < shape.frames; ++n) {
    const double share =
        shape.frames > 1 ? static_cast<double>(n) / static_cast<double>(shape.frames - 1) : 0;
    run.frame_times.push_back(end * share * share);
  }
  // The function outlives this call, so it owns a copy of the mesh.
  auto mesh = std::make_shared<StoredRun>(run);
  const double rise = shape.rise;
  run.frame = [mesh, rise](std::size_t n) { return frame_at(*mesh, mesh->frame_times[n], rise); };
  add_series(run, rise);
  if (shape.complete) {
    for (std::size_t n = 0; n < shape.frames; ++n) {
      const Frame frame = run.frame(n);
      run.peak_temperature.resize(frame.temperature.size(), 0);
      run.peak_liquid_fraction.resize(frame.temperature.size(), 0);
      for (std::size_t cell = 0; cell < frame.temperature.size(); ++cell) {
        run.peak_temperature[cell] = std::max(run.peak_temperature[cell], frame.temperature[cell]);
        run.peak_liquid_fraction[cell] =
            std::max(run.peak_liquid_fraction[cell], frame.liquid_fraction[cell]);
      }
    }
    run.texts["verdict"] =
        "Fused: the nugget is 0.66 mm across against 0.55 mm needed. Cell overheated: the inner "
        "wall passes its limit; press harder or shorten the pulse.";
    run.scalars = {{"ledger_stored_before", 62},
                   {"ledger_from_source", 44.2},
                   {"ledger_source_resistance", 11.3},
                   {"ledger_leads", 7.9},
                   {"ledger_joints", 2.4},
                   {"ledger_power_switch", 6.1},
                   {"ledger_switch_off", 0.6},
                   {"ledger_tip_contacts", 3.2},
                   {"ledger_faying_contacts", 2.6},
                   {"ledger_electrodes", 2.9},
                   {"ledger_strip", 5.3},
                   {"ledger_can", 1.4},
                   {"ledger_expelled", 0.5},
                   {"ledger_left_in_inductance", 0},
                   {"ledger_left_in_source", 17.8},
                   {"ledger_residual", 0},
                   {"inner_wall_limit", 353.15},
                   {"cell_side_0_limit", 353.15},
                   {"cell_side_1_limit", 403.15},
                   {"tip_radius", tip},
                   {"electrode_body_radius", body},
                   {"electrode_taper_angle", std::atan(1.1)},
                   {"electrode_face_radius", face_radius},
                   {"tip_contact_radius", touching},
                   {"faying_contact_radius", 1.1 * touching},
                   {"tip_burst_share", 0.2}};
    for (const char* const metal : {"electrode", "strip", "can"}) {
      run.scalars[std::string(metal) + "_solidus"] = melting;
      run.scalars[std::string(metal) + "_liquidus"] = melting + melting_range;
      run.scalars[std::string(metal) + "_boiling"] = 3100;
    }
    run.findings = {
        {"cell_overheated", "cell overheated", "peak of the inner can wall", 420, 353.15, "K", -1.1,
         6e-3, 0, can_bottom, true},
        {"fused", "fused", "nugget diameter", 0.66e-3, 0.55e-3, "m", 0.2, 5e-3, 0, 0, true},
        {"expulsion", "expulsion", "outer diameter of the nugget", 0.66e-3, 0.7e-3, "m", 0.06, 5e-3,
         0, 0, false},
        {"no_bond", "no bond", "hottest of the joint", 2000, 1728, "K", 0.19, 5e-3, 0, 0, false}};
  }
  return run;
}

StoredRun uncovered_run(const Shape& shape) {
  StoredRun run = synthetic_run(shape);
  run.series.erase("energy_expelled");
  for (const char* const contact : {"tip", "faying"}) {
    run.series.erase(std::string(contact) + "_contact_radius");
    run.scalars.erase(std::string(contact) + "_contact_radius");
  }
  return run;
}

Middle middle_of(const StoredRun& run, std::size_t cell) {
  const std::size_t nr = run.r_edges.size() - 1, i = cell % nr, j = cell / nr;
  return {0.5 * (run.r_edges[i] + run.r_edges[i + 1]), 0.5 * (run.z_edges[j] + run.z_edges[j + 1])};
}

std::vector<float> field_of(const StoredRun& run,
                            const std::function<double(const Middle&)>& value) {
  std::vector<float> field;
  for (std::size_t cell = 0; cell < run.region.size(); ++cell) {
    field.push_back(static_cast<float>(value(middle_of(run, cell))));
  }
  return field;
}

}  // namespace tabmelt::testing
