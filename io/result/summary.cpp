#include "io/result/summary.h"

#include <nlohmann/json.hpp>
#include <optional>
#include <variant>

#include "io/result/bench_scalars.h"
#include "io/result/bench_warnings.h"
#include "io/result/cell_side.h"
#include "io/result/electrical_figures.h"
#include "io/result/ledger_lines.h"
#include "io/result/result_scalars.h"
#include "io/result/utc_date.h"

namespace tabmelt {
namespace {

using Json = nlohmann::ordered_json;

Json or_null(const std::optional<double>& value) { return value ? Json(*value) : Json(nullptr); }

Json share(double part, double whole) { return whole > 0 ? Json(part / whole) : Json(nullptr); }

const char* state(Ending ending) {
  switch (ending) {
    case Ending::finished:
      return "finished";
    case Ending::stopped_by_observer:
      return "stopped";
    case Ending::failed:
      return "failed";
  }
  return "failed";
}

const char* kind(const circuit::Source& source) {
  if (std::holds_alternative<circuit::CapacitorBank>(source)) return "capacitor_bank";
  if (std::holds_alternative<circuit::Battery>(source)) return "battery";
  if (std::holds_alternative<circuit::BenchSupply>(source)) return "bench_supply";
  return "prescribed_current";
}

Json verdict_block(const Verdict& verdict) {
  Json findings = Json::array();
  for (const Finding& finding : verdict.findings) {
    findings.push_back({{"outcome", key(finding.outcome)},
                        {"words", words(finding.outcome)},
                        {"holds", finding.holds},
                        {"quantity", finding.quantity},
                        {"value", finding.value},
                        {"limit", finding.limit},
                        {"unit", finding.unit},
                        {"margin", finding.margin},
                        {"time", finding.time},
                        {"r", finding.r},
                        {"z", finding.z},
                        {"basis", finding.basis},
                        {"advice", finding.advice}});
  }
  return {{"leading", key(verdict.leading)},
          {"words", words(verdict.leading)},
          {"good", verdict.good},
          {"sentence", verdict.sentence},
          {"findings", findings}};
}

Json peaks_block(const Result& run) {
  Json peaks = Json::object();
  for (const NamedExtreme& named : extremes(run)) {
    const std::string name = named.name;
    if (name.rfind("peak_", 0) != 0) continue;
    peaks[name] = {{"value", named.extreme.value},
                   {"unit", named.units},
                   {"time", named.extreme.time},
                   {"r", named.extreme.r},
                   {"z", named.extreme.z}};
  }
  return peaks;
}

Json cell_side_block(const std::vector<LayerRecord>& layers) {
  Json list = Json::array();
  for (const LayerRecord& layer : layers) {
    const bool limited = is_judged(layer);
    list.push_back(
        {{"name", layer.name},
         {"peak", layer.peak.value},
         {"time", layer.peak.time},
         {"r", layer.peak.r},
         {"limit", layer.limit > 0 ? Json(layer.limit) : Json(nullptr)},
         {"limit_reason", layer.limit_reason},
         {"passes", limited ? Json(within_limits(layer)) : Json(nullptr)},
         {"time_above_limit", layer.time_above_limit},
         {"damage", layer.damage},
         {"melting_temperature",
          layer.melting_temperature > 0 ? Json(layer.melting_temperature) : Json(nullptr)}});
  }
  return list;
}

Json source_block(const Problem& problem, const Result& run, const ElectricalFigures& figures) {
  return {{"kind", kind(problem.circuit.source)},
          {"stored_before", run.ledger.stored_before},
          {"left_in_source", run.ledger.left_in_source},
          {"switch_off", run.ledger.switch_off},
          {"most_reverse_voltage", run.most_reverse_voltage},
          {"current_per_capacitor", or_null(figures.current_per_capacitor)},
          {"rated_current", or_null(figures.rated_current)},
          {"current_rating_exceeded", figures.current_rating_exceeded},
          {"voltage_per_capacitor", or_null(figures.voltage_per_capacitor)},
          {"rated_voltage", or_null(figures.rated_voltage)},
          {"voltage_rating_exceeded", figures.voltage_rating_exceeded}};
}

Json landing_block(const Problem& problem, const Result& run) {
  if (run.landings.empty()) return nullptr;
  const bool second_first = problem.pressing.judged == JudgedTip::lands_second;
  Json tips = Json::array();
  for (std::size_t n = 0; n < run.landings.size(); ++n) {
    const TipLanding& tip = run.landings[n];
    const char* name = run.landings.size() < 2    ? "both"
                       : (n == 0) == second_first ? "second"
                                                  : "first";
    tips.push_back({{"tip", name},
                    {"ahead", tip.ahead},
                    {"force_at_start", tip.force_at_start},
                    {"force_at_peak", tip.force_at_peak},
                    {"bounces", tip.bounces},
                    {"energy", tip.energy},
                    {"expelled", tip.expelled},
                    {"hottest", tip.hottest}});
  }
  return {{"tips", tips}, {"interruptions", run.interruptions}};
}

Json bench_block(const Problem& problem, const BenchFigures& figures) {
  Json block = Json::object();
  for (const Scalar& number : bench_scalars(problem, figures))
    block[number.name] = {
        {"value", number.value}, {"unit", number.units}, {"meaning", number.long_name}};
  return block;
}

Json ledger_block(const Ledger& ledger) {
  Json block = Json::object();
  for (const LedgerLine& line : ledger_source(ledger)) block[line.key] = line.energy;
  Json sinks = Json::object();
  for (const LedgerLine& line : ledger_sinks(ledger)) sinks[line.key] = line.energy;
  block["sinks"] = sinks;
  block["residual"] = ledger.residual;
  return block;
}

}  // namespace

std::string summary_json(const Case& asked, const Result& run, const Verdict& verdict,
                         std::size_t frames) {
  const Problem& problem = asked.problem;
  const ElectricalFigures figures = electrical_figures(problem, run);
  Json out;
  out["schema"] = "tabmelt-summary";
  out["schema_version"] = 1;
  out["program_version"] = TABMELT_VERSION;
  out["date"] = utc_date();
  out["title"] = asked.title;
  out["case_file"] = asked.file.string();
  out["ending"] = {{"state", state(run.ending)},
                   {"reason", run.ending_reason},
                   {"time", run.history.empty() ? 0.0 : run.history.back().time}};
  out["verdict"] = verdict_block(verdict);
  out["nugget"] = {{"diameter", run.nugget.value},
                   {"time", run.nugget.time},
                   {"hole_diameter", run.nugget_hole_diameter},
                   {"fused_diameter", run.fused_diameter},
                   {"smallest_good_diameter", verdict.smallest_good_nugget},
                   {"soft_diameter", run.soft_diameter},
                   {"time_soft", run.time_faying_soft}};
  out["strength"] = {{"shear", verdict.shear_strength}, {"peel", verdict.peel_strength}};
  out["penetration"] = {{"strip",
                         {{"depth", run.strip_penetration.value},
                          {"share", share(run.strip_penetration.value, problem.strip.thickness)},
                          {"time", run.strip_penetration.time},
                          {"molten_through", run.strip_molten_through},
                          {"through_radius", run.strip_through_radius}}},
                        {"can",
                         {{"depth", run.can_penetration.value},
                          {"share", share(run.can_penetration.value, problem.can.thickness)},
                          {"time", run.can_penetration.time}}}};
  out["peaks"] = peaks_block(run);
  out["electrical"] = {{"peak_current", run.peak_current.value},
                       {"load_resistance_start", or_null(figures.load_resistance_start)},
                       {"load_resistance_least", or_null(figures.load_resistance_least)},
                       {"tip_resistance_start", or_null(figures.tip_resistance_start)},
                       {"faying_resistance_start", or_null(figures.faying_resistance_start)},
                       {"can_share_start", run.can_share_start},
                       {"can_share_mean", run.can_share_mean},
                       {"spots", problem.arrangement.spots}};
  out["source"] = source_block(problem, run, figures);
  out["landing"] = landing_block(problem, run);
  const BenchFigures bench = bench_figures(problem, run);
  out["bench"] = bench_block(problem, bench);
  out["warnings"] = bench_warnings(problem, bench);
  out["ledger"] = ledger_block(run.ledger);
  out["vaporised_mass"] = run.vaporised_mass;
  out["cell"] = {{"judged", verdict.cell_judged}, {"safe", verdict.cell_safe}};
  out["cell_side"] = cell_side_block(cell_side(run, verdict));
  out["numerics"] = {{"steps", run.history.size()},
                     {"rejected_steps", run.rejected_steps},
                     {"frames", frames},
                     {"cells", run.grid.cells()},
                     {"worst_energy_residual", run.worst_energy_residual},
                     {"cpu_seconds", run.cpu_seconds}};
  Json defaults = Json::array();
  for (const DefaultUsed& used : asked.defaults) {
    defaults.push_back({{"key", used.key}, {"value", used.value}, {"reason", used.reason}});
  }
  out["defaults"] = defaults;
  out["notes"] = run.notes;
  // Text from a case file may hold bytes that are not UTF-8; they must not stop the summary.
  return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace tabmelt
