#include "solver/verdict/cell_side.h"

#include <cmath>

#include "solver/verdict/criteria.h"

namespace tabmelt::cell_side {

namespace {

// A disc that has lost half its thickness still parts can and winding. Engineering judgement.
constexpr double molten_share = 0.5;
// Below 60 C the SEI stands for hours (sei_damage.h). [K]
constexpr double harmless = 333.15;

Finding finding(const LayerRecord& layer, std::string quantity, const Extreme& where, double limit,
                std::string unit, double origin) {
  Finding f;
  f.outcome = Outcome::cell_overheated;
  f.quantity = std::move(quantity);
  f.value = where.value;
  f.limit = limit;
  f.unit = std::move(unit);
  f.margin = criteria::margin_below(f.value, f.limit, origin);
  f.holds = f.value >= f.limit;
  f.time = where.time;
  f.r = where.r;
  f.z = where.z;
  f.basis = layer.limit_reason.empty() ? "limit given with the case" : layer.limit_reason;
  return f;
}

}  // namespace

std::vector<LayerRecord> judged_layers(const Problem& problem, const Result& result) {
  std::vector<LayerRecord> layers = result.inner_wall_and_layers;
  for (LayerRecord& layer : layers) {
    if (is_judged(layer) || layer.melting_temperature <= 0 || !problem.cell_limits) continue;
    layer.molten_limit = molten_share;
    layer.limit_reason = "engineering judgement: half of it may melt";
  }
  return layers;
}

std::vector<Finding> findings(const Problem& problem, const LayerRecord& layer) {
  std::vector<Finding> found;
  if (layer.limit > 0 && std::isfinite(layer.peak.value))
    found.push_back(finding(layer, "hottest place of the " + layer.name, layer.peak, layer.limit,
                            "K", problem.boundary.ambient));
  if (layer.molten_limit > 0)
    found.push_back(finding(layer, "molten share of the " + layer.name, layer.molten_share,
                            layer.molten_limit, "1", 0));
  if (layer.damage_limit > 0) {
    Extreme lost = layer.peak;
    lost.value = layer.damage;
    found.push_back(
        finding(layer, "SEI lost at the " + layer.name, lost, layer.damage_limit, "1", 0));
  }
  return found;
}

std::optional<Finding> cell_overheated(const Problem& problem, const Result& result) {
  std::optional<Finding> worst;
  for (const LayerRecord& layer : judged_layers(problem, result))
    for (Finding& f : findings(problem, layer))
      if (!worst || f.margin < worst->margin) worst = std::move(f);
  return worst;
}

std::optional<LayerRecord> worst_layer(const Problem& problem, const Result& result) {
  std::optional<LayerRecord> worst;
  double least = 0;
  for (const LayerRecord& layer : judged_layers(problem, result))
    for (const Finding& f : findings(problem, layer))
      if (!worst || f.margin < least) {
        worst = layer;
        least = f.margin;
      }
  return worst;
}

bool settled(const Problem& problem, const Result& result) {
  if (result.ending != Ending::finished) return false;
  const auto layers = judged_layers(problem, result);
  if (layers.empty()) return false;
  for (const LayerRecord& layer : layers)
    if (is_judged(layer) && !std::isfinite(layer.peak.value)) return false;
  if (result.history.empty()) return true;  // extremes are all there is
  const StepRecord& last = result.history.back();
  // An emptying bank never quite stops; a thousandth of the peak heats a millionth as much.
  const bool current_flows = std::abs(last.current) > 1e-3 * result.peak_current.value;
  for (const LayerRecord& layer : layers) {
    if (!is_judged(layer)) continue;
    const bool still_rising = layer.peak.time >= last.time;
    const double harmful = layer.limit > 0          ? layer.limit
                           : layer.molten_limit > 0 ? layer.melting_temperature
                                                    : harmless;
    if (still_rising && (current_flows || last.peak_temperature >= harmful)) return false;
  }
  return true;
}

}  // namespace tabmelt::cell_side
