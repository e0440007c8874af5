#include "io/result/result_scalars.h"

#include "io/result/bench_scalars.h"
#include "io/result/cell_side.h"
#include "io/result/electrical_figures.h"
#include "io/result/ledger_lines.h"

namespace tabmelt {
namespace {

class Collection {
 public:
  void add(const std::string& name, double value, const std::string& units,
           const std::string& long_name) {
    list_.push_back({name, value, units, long_name});
  }
  void add_flag(const std::string& name, bool value, const std::string& long_name) {
    add(name, value ? 1 : 0, "1", long_name + " (1: yes)");
  }
  void add_if(const std::string& name, const std::optional<double>& value, const std::string& units,
              const std::string& long_name) {
    if (value) add(name, *value, units, long_name);
  }
  std::vector<Scalar> list() && { return std::move(list_); }

 private:
  std::vector<Scalar> list_;
};

void add_melting(Collection& out, const std::string& part, const MaterialPtr& material) {
  if (!material || !material->melting) return;
  out.add(part + "_solidus", material->melting->solidus, "K", "melting of the " + part + " begins");
  out.add(part + "_liquidus", material->melting->liquidus, "K", "melting of the " + part + " ends");
}

void add_cell_side(Collection& out, const std::vector<LayerRecord>& layers) {
  for (std::size_t n = 0; n < layers.size(); ++n) {
    const LayerRecord& layer = layers[n];
    const std::string name = "cell_side_" + std::to_string(n);
    out.add(name + "_peak", layer.peak.value, "K", "hottest of: " + layer.name);
    out.add(name + "_time", layer.peak.time, "s", "when it was hottest: " + layer.name);
    if (layer.limit > 0)
      out.add(name + "_limit", layer.limit, "K", "hottest allowed: " + layer.name);
    if (layer.molten_limit > 0) {
      out.add(name + "_molten_share", layer.molten_share.value, "1",
              "molten share of its thickness: " + layer.name);
      out.add(name + "_molten_limit", layer.molten_limit, "1", "largest allowed: " + layer.name);
    }
    if (layer.damage_limit > 0)
      out.add(name + "_damage_limit", layer.damage_limit, "1", "SEI lost, allowed: " + layer.name);
    out.add(name + "_time_above_limit", layer.time_above_limit, "s",
            "time above the limit: " + layer.name);
    out.add(name + "_damage", layer.damage, "1", "protective layer decomposed at: " + layer.name);
  }
}

void add_landings(Collection& out, const Result& run) {
  if (run.landings.empty()) return;
  for (std::size_t n = 0; n < run.landings.size(); ++n) {
    const TipLanding& tip = run.landings[n];
    const std::string name = "tip_" + std::to_string(n);
    const std::string which = n == 0 ? ": judged tip" : ": other tip";
    out.add(name + "_ahead", tip.ahead, "s", "landed before the loop could close" + which);
    out.add(name + "_force_at_start", tip.force_at_start, "N", "as the current began" + which);
    out.add(name + "_force_at_peak", tip.force_at_peak, "N", "at peak current" + which);
    out.add(name + "_bounces", tip.bounces, "1", "times it left the strip again" + which);
    out.add(name + "_energy", tip.energy, "J", "delivered to its spot" + which);
    out.add(name + "_expelled", tip.expelled, "J", "of it as sparks" + which);
    out.add(name + "_hottest", tip.hottest, "K", "hottest cell of its spot" + which);
  }
  out.add("interruptions", run.interruptions, "1", "times a tip that bounced opened the loop");
}

}  // namespace

std::vector<NamedExtreme> extremes(const Result& run) {
  return {
      {"peak_current", "A", "largest current in the loop", run.peak_current},
      {"peak_temperature", "K", "hottest cell", run.peak_temperature_any},
      {"peak_tip", "K", "hottest of the electrode face", run.peak_tip},
      {"peak_strip_top", "K", "hottest of the strip's upper surface", run.peak_strip_top},
      {"peak_faying", "K", "hottest faying point, cooler side", run.peak_faying},
      {"peak_strip", "K", "hottest of the strip", run.peak_strip},
      {"peak_can", "K", "hottest of the can", run.peak_can},
      {"peak_inner_wall", "K", "hottest of the can's inner surface", run.peak_inner_wall},
      {"peak_tip_voltage", "V", "largest local contact voltage, electrode and strip",
       run.peak_tip_voltage},
      {"peak_faying_voltage", "V", "largest local contact voltage, strip and can",
       run.peak_faying_voltage},
      {"nugget_diameter", "m", "largest nugget diameter", run.nugget},
      {"strip_penetration", "m", "deepest melt above the faying surface", run.strip_penetration},
      {"can_penetration", "m", "deepest melt below the faying surface", run.can_penetration},
  };
}

std::vector<Scalar> result_scalars(const Problem& problem, const Result& run,
                                   const Verdict& verdict) {
  Collection out;
  for (const NamedExtreme& named : extremes(run)) {
    const std::string name = named.name, words = named.long_name;
    out.add(name, named.extreme.value, named.units, words);
    out.add(name + "_time", named.extreme.time, "s", "when: " + words);
    out.add(name + "_r", named.extreme.r, "m", "radius of: " + words);
    out.add(name + "_z", named.extreme.z, "m", "height of: " + words);
  }
  out.add("nugget_hole_diameter", run.nugget_hole_diameter, "m", "unmelted middle of the nugget");
  out.add("fused_diameter", run.fused_diameter, "m", "faying area ever molten on both sides");
  out.add("soft_diameter", run.soft_diameter, "m", "faying area ever above softening");
  out.add("time_faying_soft", run.time_faying_soft, "s", "longest time a faying face was soft");
  out.add("strip_through_radius", run.strip_through_radius, "m",
          "strip molten through out to here");
  out.add("vaporised_mass", run.vaporised_mass, "kg", "boiled at the worst moment");
  out.add("most_reverse_voltage", run.most_reverse_voltage, "V", "deepest reverse source voltage");
  out.add("can_share_start", run.can_share_start, "1", "current through the can at the start");
  out.add("can_share_mean", run.can_share_mean, "1", "current through the can, energy-weighted");
  out.add("worst_energy_residual", run.worst_energy_residual, "1",
          "largest error of the books over the energy delivered");
  out.add("rejected_steps", run.rejected_steps, "1", "steps repeated with a shorter length");
  out.add("cpu_seconds", run.cpu_seconds, "s", "processor time");
  out.add("stuck_area", run.stuck_area, "m2", "melted under the tip, strip's top or tip's face");
  out.add("through_area", run.through_area, "m2", "strip molten through under the tip");
  out.add("through_band", run.through_band.value, "m", "widest molten-through ring beside the tip");
  out.add("wall_sunk", run.wall_sunk.value, "1",
          "how far the hot wall was pushed in, over its thickness");
  out.add("burst_share", run.burst_share.value, "1", "largest share of current by burst bridges");
  out.add_flag("strip_molten_through", run.strip_molten_through, "strip molten through");

  const ElectricalFigures electrical = electrical_figures(problem, run);
  out.add_if("load_resistance_start", electrical.load_resistance_start, "ohm",
             "resistance of all spots at the start");
  out.add_if("load_resistance_least", electrical.load_resistance_least, "ohm",
             "least resistance of all spots");

  add_landings(out, run);
  for (const LedgerLine& line : ledger_source(run.ledger)) {
    out.add(std::string("ledger_") + line.key, line.energy, "J", line.words);
  }
  for (const LedgerLine& line : ledger_sinks(run.ledger)) {
    out.add(std::string("ledger_") + line.key, line.energy, "J", line.words);
  }
  out.add("ledger_residual", run.ledger.residual, "J", "missing from the ledger");

  out.add("smallest_good_nugget", verdict.smallest_good_nugget, "m", "smallest good nugget");
  out.add("shear_strength", verdict.shear_strength, "N", "estimated shear strength of one spot");
  out.add("peel_strength", verdict.peel_strength, "N", "estimated peel strength of one spot");
  out.add_flag("verdict_good", verdict.good, "fused and nothing bad holds");
  out.add_flag("cell_judged", verdict.cell_judged, "there was a cell to protect");
  out.add_flag("cell_safe", verdict.cell_safe, "no limit of the cell side exceeded");
  add_cell_side(out, cell_side(run, verdict));
  if (problem.cell_limits && problem.cell_limits->inner_wall) {
    out.add("inner_wall_limit", *problem.cell_limits->inner_wall, "K",
            "hottest allowed inner wall");
  }

  out.add("spots", problem.arrangement.spots, "1", "weld spots in the loop");
  out.add("ambient", problem.boundary.ambient, "K", "ambient temperature");
  out.add("tip_radius", problem.electrode.tip_radius, "m", "radius of the electrode tip");
  out.add("strip_thickness", problem.strip.thickness, "m", "strip thickness");
  out.add("can_thickness", problem.can.thickness, "m", "can wall thickness");
  add_melting(out, "electrode", problem.electrode.material);
  add_melting(out, "strip", problem.strip.material);
  add_melting(out, "can", problem.can.material);
  for (const Scalar& bench : bench_scalars(problem, bench_figures(problem, run)))
    out.add("bench_" + bench.name, bench.value, bench.units, bench.long_name);
  return std::move(out).list();
}

}  // namespace tabmelt
