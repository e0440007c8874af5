#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/bench/electrical_figures.h"
#include "solver/catalogue/catalogue.h"
#include "solver/catalogue/quantity_list.h"
#include "solver/catalogue/stack_names.h"

namespace tabmelt {
namespace {

void add_joints(QuantityList& out, const StackNames& names, const Result& run) {
  const auto add_one = [&](const JointSummary& joint, const std::string& key,
                           const std::string& peak, const std::string& where) {
    out.add(key + "nugget_diameter", "m", "largest nugget diameter" + where, joint.nugget);
    out.add(key + "nugget_hole_diameter", "m", "unmelted middle of the nugget" + where,
            joint.hole_diameter);
    out.add(key + "fused_diameter", "m", "faying area ever molten on both sides" + where,
            joint.fused_diameter);
    out.add(key + "soft_diameter", "m", "faying area ever above softening" + where,
            joint.soft_diameter);
    out.add(key + "time_faying_soft", "s", "longest time a faying face was soft" + where,
            joint.time_soft);
    out.add(peak, "K", "hottest faying point, cooler side" + where, joint.peak);
  };
  if (run.joints.empty()) return;
  // The weakest joint speaks for the weld.
  const auto nugget = [](const JointSummary& joint) {
    return std::max(joint.nugget.value, joint.fused_diameter);
  };
  const auto weakest = std::min_element(
      run.joints.begin(), run.joints.end(), [&](const JointSummary& a, const JointSummary& b) {
        return std::pair(nugget(a), a.peak.value) < std::pair(nugget(b), b.peak.value);
      });
  const bool several = run.joints.size() > 1;
  add_one(*weakest, "", "peak_faying", several ? ", weakest joint" : "");
  for (std::size_t n = 0; several && n < run.joints.size(); ++n)
    add_one(run.joints[n], names.joint(n).key + "_", "peak_" + names.joint(n).key,
            ", " + names.joint(n).words);
}

void add_stack(QuantityList& out, const StackNames& names, const Problem& problem,
               const Result& run) {
  out.topic(Topic::weld);
  add_joints(out, names, run);
  for (std::size_t n = 0; n < run.sheets.size(); ++n) {
    const SheetSummary& sheet = run.sheets[n];
    const Name& name = names.sheets[n];
    out.add(name.key + "_penetration", "m", "deepest melt into the " + name.words,
            sheet.penetration);
    if (problem.sheets[n].thickness > 0)
      out.add(name.key + "_penetration_share", "1",
              "deepest melt into the " + name.words + ", over its thickness",
              sheet.penetration.value / problem.sheets[n].thickness);
    out.add_flag(name.key + "_molten_through", name.words + " molten through",
                 sheet.molten_through);
    out.add(name.key + "_through_radius", "m", name.words + " molten through out to here",
            sheet.through_radius);
  }
  out.add("stuck_area", "m2", "melted under the tip, its face or the sheet's", run.stuck_area);
  out.add("through_area", "m2", "top sheet molten through under the tip", run.through_area);
  out.add("through_band", "m", "widest molten-through ring beside the tip", run.through_band);
  out.add("wall_sunk", "1", "how far the hot wall was pushed in, over its thickness",
          run.wall_sunk);
  out.add("vaporised_mass", "kg", "boiled metal of one spot, at the worst moment",
          run.vaporised_mass);
  out.topic(Topic::heat);
  out.add("peak_temperature", "K", "hottest point", hottest_of_all(run));
  out.add("peak_tip", "K", "hottest of the electrode face", run.peak_tip);
  out.add("peak_top", "K", "hottest of the upper surface under the tip", run.peak_top);
  for (std::size_t n = 0; n < run.sheets.size(); ++n)
    out.add("peak_" + names.sheets[n].key, "K", "hottest of the " + names.sheets[n].words,
            hottest_of_sheet(run, n));
  out.add("peak_inner_wall", "K", "hottest of the lowest sheet's underside", run.peak_inner_wall);
}

void add_electrical(QuantityList& out, const StackNames& names, const Problem& problem,
                    const Result& run) {
  out.topic(Topic::electrical);
  out.add("peak_current", "A", "largest current in the loop", run.peak_current);
  const ElectricalFigures figures = electrical_figures(problem, run);
  out.add("load_resistance_start", "ohm",
          "resistance of the load (all spots in series) at the start",
          figures.load_resistance_start);
  out.add("load_resistance_least", "ohm", "least resistance of the load (all spots in series)",
          figures.load_resistance_least);
  for (std::size_t n = 0; n < figures.contacts_start.size(); ++n)
    out.add(names.contacts[n].key + "_resistance_start", "ohm",
            "contact resistance at the start, " + names.contacts[n].words,
            figures.contacts_start[n]);
  for (std::size_t n = 0; n < run.contacts.size(); ++n) {
    const Name& name = names.contacts[n];
    out.add("peak_" + name.key + "_voltage", "V", "largest local contact voltage, " + name.words,
            run.contacts[n].voltage);
    out.add(name.key + "_burst_share", "1",
            "largest share of current through burst bridges, " + name.words,
            run.contacts[n].burst_share);
    out.add(name.key + "_contact_radius", "m", "largest radius that touched, " + name.words,
            run.contacts[n].radius);
  }
  out.add("joint_share_start", "1", "current that crosses the lowest joint, at the start",
          run.base_share_start);
  out.add("joint_share_mean", "1", "current that crosses the lowest joint, energy-weighted",
          run.base_share_mean);
  out.add("most_reverse_voltage", "V", "deepest reverse source voltage", run.most_reverse_voltage);
  out.add("current_per_capacitor", "A", "peak current of one capacitor",
          figures.current_per_capacitor);
  out.add("voltage_per_capacitor", "V", "one capacitor, charged", figures.voltage_per_capacitor);
}

void add_landings(QuantityList& out, const Result& run) {
  out.topic(Topic::landing);
  for (std::size_t n = 0; n < run.landings.size(); ++n) {
    const TipLanding& tip = run.landings[n];
    const std::string key = "tip_" + std::to_string(n);
    const std::string which = n == 0 ? ", judged tip" : ", other tip";
    out.add(key + "_ahead", "s", "landed before the loop could close" + which, tip.ahead);
    out.add(key + "_force_at_start", "N", "force as the current began" + which, tip.force_at_start);
    out.add(key + "_force_at_peak", "N", "force at peak current" + which, tip.force_at_peak);
    out.add(key + "_bounces", "1", "times it left the strip again" + which, tip.bounces);
    out.add(key + "_energy", "J", "energy delivered to its spot" + which, tip.energy);
    out.add(key + "_expelled", "J", "energy of it, as sparks" + which, tip.expelled);
    out.add(key + "_hottest", "K", "hottest of its spot" + which, tip.hottest);
  }
  if (!run.landings.empty())
    out.add("interruptions", "1", "times a tip that bounced opened the loop", run.interruptions);
}

void add_cell_side(QuantityList& out, const std::vector<LayerRecord>& layers) {
  out.topic(Topic::cell_side);
  for (std::size_t n = 0; n < layers.size(); ++n) {
    const LayerRecord& layer = layers[n];
    const std::string key = "cell_side_" + std::to_string(n);
    const auto if_set = [](double limit) {
      return limit > 0 ? std::optional(limit) : std::nullopt;
    };
    out.add(key + "_peak", "K", "hottest of the " + layer.name, layer.peak);
    out.add(key + "_limit", "K", "hottest allowed, " + layer.name, if_set(layer.limit));
    if (layer.melting_temperature > 0) {
      out.add(key + "_melting", "K", "melting of the " + layer.name, layer.melting_temperature);
      out.add(key + "_molten_share", "1", "molten share of the thickness of the " + layer.name,
              layer.molten_share);
    }
    out.add(key + "_molten_limit", "1", "molten share allowed, " + layer.name,
            if_set(layer.molten_limit));
    out.add(key + "_time_above_limit", "s", "time above the limit, " + layer.name,
            layer.time_above_limit);
    out.add(key + "_damage", "1", "SEI that would be lost at the " + layer.name, layer.damage);
    out.add(key + "_damage_limit", "1", "SEI lost, allowed, " + layer.name,
            if_set(layer.damage_limit));
  }
}

void add_verdict(QuantityList& out, const Verdict& verdict) {
  out.topic(Topic::verdict);
  out.add("smallest_good_nugget", "m", "smallest good nugget", verdict.smallest_good_nugget);
  out.add("shear_strength", "N", "estimated shear strength of one spot", verdict.shear_strength);
  out.add("peel_strength", "N", "estimated peel strength of one spot", verdict.peel_strength);
  out.add_flag("verdict_good", "fused and nothing bad holds", verdict.good);
  out.add_flag("cell_judged", "there was a cell to protect", verdict.cell_judged);
  out.add_flag("cell_safe", "no limit of the cell side exceeded", verdict.cell_safe);
}

void add_phase_changes(QuantityList& out, const Name& part, const MaterialPtr& material) {
  if (!material) return;
  if (material->boiling)
    out.add(part.key + "_boiling", "K", "boiling of the " + part.words,
            material->boiling->temperature);
  if (!material->melting) return;
  out.add(part.key + "_solidus", "K", "melting of the " + part.words + " begins",
          material->melting->solidus);
  out.add(part.key + "_liquidus", "K", "melting of the " + part.words + " ends",
          material->melting->liquidus);
}

void add_input(QuantityList& out, const StackNames& names, const Problem& problem) {
  out.topic(Topic::input);
  out.add("spots", "1", "weld spots in the loop", problem.arrangement.spots);
  out.add("ambient", "K", "ambient temperature", problem.boundary.ambient);
  out.add("tip_radius", "m", "radius of the electrode tip", problem.electrode.tip_radius);
  out.add("electrode_body_radius", "m", "radius of the electrode above its taper",
          problem.electrode.body_radius);
  out.add("electrode_taper_angle", "rad", "angle between the electrode's taper and its axis",
          problem.electrode.taper_angle);
  if (std::isfinite(problem.electrode.face_radius))
    out.add("electrode_face_radius", "m", "radius of curvature of the electrode's face",
            problem.electrode.face_radius);
  if (problem.cell_limits)
    out.add("inner_wall_limit", "K", "hottest allowed inner wall", problem.cell_limits->inner_wall);
  add_phase_changes(out, {"electrode", "electrode"}, problem.electrode.material);
  for (std::size_t n = 0; n < names.sheets.size(); ++n) {
    out.add(names.sheets[n].key + "_thickness", "m", "thickness of the " + names.sheets[n].words,
            problem.sheets[n].thickness);
    add_phase_changes(out, names.sheets[n], problem.sheets[n].material);
  }
}

void add_run(QuantityList& out, const Result& run) {
  out.topic(Topic::run);
  out.add("steps", "1", "time steps", static_cast<double>(run.history.size()));
  out.add("rejected_steps", "1", "steps repeated with a shorter length", run.rejected_steps);
  out.add("cells", "1", "cells of the grid", static_cast<double>(run.grid.cells()));
  out.add("worst_energy_residual", "1", "largest energy balance error over the energy of the run",
          run.worst_energy_residual);
  out.add("cpu_seconds", "s", "processor time",
          run.cpu_seconds > 0 ? std::optional(run.cpu_seconds) : std::nullopt);
}

}  // namespace

std::string key(Topic topic) {
  constexpr const char* keys[] = {"weld",      "heat",  "electrical", "landing", "energy",
                                  "cell_side", "bench", "verdict",    "input",   "run"};
  return keys[static_cast<std::size_t>(topic)];
}

std::vector<Quantity> ledger_source(const Ledger& ledger) {
  QuantityList out;
  out.topic(Topic::energy);
  out.add("ledger_stored_before", "J", "stored before the pulse", ledger.stored_before);
  out.add("ledger_from_source", "J", "given up by the source", ledger.from_source);
  out.add("ledger_left_in_source", "J", "left in the source", ledger.left_in_source);
  out.add("ledger_residual", "J", "energy balance error", ledger.residual);
  return std::move(out).list();
}

// Metal that boils off a sheet carries away more than the current made in it where contacts heated
// it. The rest comes from those contacts, the upper one first; the sum stays.
Ledger without_debts(Ledger ledger) {
  for (std::size_t n = 0; n < ledger.sheets.size(); ++n)
    for (const std::size_t contact : {n, n + 1}) {
      if (contact >= ledger.contacts.size()) continue;
      const double taken =
          std::clamp(-ledger.sheets[n], 0.0, std::max(ledger.contacts[contact], 0.0));
      ledger.sheets[n] += taken;
      ledger.contacts[contact] -= taken;
    }
  return ledger;
}

std::vector<Quantity> ledger_sinks(const std::vector<Part>& parts, const Ledger& of_the_run) {
  const Ledger ledger = without_debts(of_the_run);
  const StackNames names(parts);
  QuantityList out;
  out.topic(Topic::energy);
  out.add("ledger_source_resistance", "J", "inside the source (ESR, internal resistance)",
          ledger.source_resistance);
  out.add("ledger_leads", "J", "leads", ledger.leads);
  out.add("ledger_joints", "J", "bolted and crimped joints", ledger.joints);
  out.add("ledger_power_switch", "J", "switch while conducting", ledger.power_switch);
  out.add("ledger_switch_off", "J", "dumped in the switch when it opened", ledger.switch_off);
  out.add("ledger_tip_lift", "J", "dumped in the gap under a tip that bounced", ledger.tip_lift);
  for (std::size_t n = 0; n < ledger.contacts.size(); ++n)
    out.add("ledger_" + names.contacts[n].key + "_contacts", "J",
            "contacts, " + names.contacts[n].words, ledger.contacts[n]);
  out.add("ledger_electrodes", "J", "electrodes", ledger.electrodes);
  for (std::size_t n = 0; n < ledger.sheets.size(); ++n)
    out.add("ledger_" + names.sheets[n].key, "J", names.sheets[n].words, ledger.sheets[n]);
  out.add("ledger_expelled", "J", "expelled as sparks", ledger.expelled);
  out.add("ledger_left_in_inductance", "J", "still in the inductance at the end",
          ledger.left_in_inductance);
  return std::move(out).list();
}

std::vector<Quantity> quantities(const Problem& problem, const Result& run, const Verdict& verdict,
                                 const BenchFigures& bench) {
  const StackNames names(run.parts);
  QuantityList out;
  add_verdict(out, verdict);
  add_stack(out, names, problem, run);
  add_electrical(out, names, problem, run);
  add_landings(out, run);
  out.append(ledger_source(run.ledger));
  out.append(ledger_sinks(run.parts, run.ledger));
  add_cell_side(out, verdict.cell_side.empty() ? run.inner_wall_and_layers : verdict.cell_side);
  out.append(bench_quantities(problem, bench));
  add_input(out, names, problem);
  add_run(out, run);
  return std::move(out).list();
}

}  // namespace tabmelt
