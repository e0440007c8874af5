#include "io/report/summary.h"

#include <nlohmann/json.hpp>

#include "io/report/bench_warnings.h"
#include "io/report/cell_side.h"
#include "solver/catalogue/catalogue.h"

namespace tabmelt::report {
namespace {

using Json = nlohmann::ordered_json;

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

// The catalogue by topic: key -> value, unit, meaning, and where and when if it has a place.
Json quantities_block(const std::vector<Quantity>& list) {
  Json block = Json::object();
  for (const Quantity& one : list) {
    Json entry = {{"value", one.value}, {"unit", one.unit}, {"meaning", one.words}};
    if (one.at) entry.update({{"time", one.at->time}, {"r", one.at->r}, {"z", one.at->z}});
    block[key(one.topic)][one.key] = std::move(entry);
  }
  return block;
}

Json cell_side_block(const std::vector<LayerRecord>& layers) {
  Json list = Json::array();
  for (const LayerRecord& layer : layers)
    list.push_back({{"name", layer.name},
                    {"limit_reason", layer.limit_reason},
                    {"passes", is_judged(layer) ? Json(within_limits(layer)) : Json(nullptr)}});
  return list;
}

}  // namespace

std::string summary_json(const Case& asked, const Result& run, const Verdict& verdict,
                         std::size_t frames, const std::string& date) {
  const Problem& problem = asked.problem;
  Json out;
  out["schema"] = "tabmelt-summary";
  out["schema_version"] = 1;
  out["program_version"] = TABMELT_VERSION;
  if (!date.empty()) out["date"] = date;
  out["title"] = asked.title;
  out["case_file"] = asked.file.string();
  out["ending"] = {{"state", state(run.ending)},
                   {"reason", run.ending_reason},
                   {"time", run.history.empty() ? 0.0 : run.history.back().time}};
  out["verdict"] = verdict_block(verdict);
  const BenchFigures bench = bench_figures(problem, run);
  out["quantities"] = quantities_block(quantities(problem, run, verdict, bench));
  out["cell_side"] = cell_side_block(cell_side(run, verdict));
  out["warnings"] = bench_warnings(problem, bench);
  out["frames"] = frames;
  out["inputs"] = Json::array();
  for (const InputValue& input : asked.inputs)
    out["inputs"].push_back(
        {{"key", input.key}, {"value", input.value}, {"default", input.is_default}});
  out["materials"] = Json::array();
  for (const MaterialUsed& material : asked.materials)
    out["materials"].push_back({{"name", material.name}, {"file", material.file}});
  Json defaults = Json::array();
  for (const DefaultUsed& used : asked.defaults) {
    defaults.push_back({{"key", used.key}, {"value", used.value}, {"reason", used.reason}});
  }
  out["defaults"] = defaults;
  out["own_errors"] = Json::array();
  for (const FigureError& e : run.own_errors)
    out["own_errors"].push_back(
        {{"figure", e.name}, {"unit", e.unit}, {"value", e.value}, {"error", e.error}});
  out["notes"] = run.notes;
  // Text from a case file may hold bytes that are not UTF-8; they must not stop the summary.
  return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace tabmelt::report
