#include "solver/verdict/cell_side.h"

#include <cmath>

#include "solver/verdict/criteria.h"

namespace tabmelt::cell_side {

std::vector<LayerRecord> judged_layers(const Problem& problem, const Result& result) {
  std::vector<LayerRecord> layers = result.inner_wall_and_layers;
  for (std::size_t n = 0; n < layers.size(); ++n) {
    LayerRecord& layer = layers[n];
    if (layer.limit <= 0 && n == 0 && problem.cell_limits) {
      layer.limit = problem.cell_limits->inner_wall;
      layer.limit_reason = problem.cell_limits->reason;
    } else if (layer.limit <= 0 && n > 0 && n <= problem.inner.size()) {
      layer.limit = problem.inner[n - 1].limit.value_or(0);
      layer.limit_reason = problem.inner[n - 1].limit_reason;
    }
    if (layer.limit <= 0 && layer.melting_temperature > 0 && problem.cell_limits) {
      layer.limit = layer.melting_temperature;
      layer.limit_reason = "it melts";
    }
  }
  return layers;
}

std::optional<LayerRecord> worst_layer(const Problem& problem, const Result& result) {
  std::optional<LayerRecord> worst;
  double least = 0;
  for (const LayerRecord& layer : judged_layers(problem, result)) {
    if (layer.limit <= 0 || !std::isfinite(layer.peak.value)) continue;
    const double margin =
        criteria::margin_below(layer.peak.value, layer.limit, problem.boundary.ambient);
    if (!worst || margin < least) {
      worst = layer;
      least = margin;
    }
  }
  return worst;
}

std::optional<Finding> cell_overheated(const Problem& problem, const Result& result) {
  const auto layer = worst_layer(problem, result);
  if (!layer) return std::nullopt;
  Finding f;
  f.outcome = Outcome::cell_overheated;
  f.quantity = std::string("hottest place of the ") + layer->name;
  f.value = layer->peak.value;
  f.limit = layer->limit;
  f.unit = "K";
  f.margin = criteria::margin_below(f.value, f.limit, problem.boundary.ambient);
  f.holds = f.value >= f.limit;
  f.time = layer->peak.time;
  f.r = layer->peak.r;
  f.z = layer->peak.z;
  f.basis = layer->limit_reason.empty() ? "limit given with the case" : layer->limit_reason;
  return f;
}

bool settled(const Problem& problem, const Result& result) {
  if (result.ending != Ending::finished) return false;
  const auto layers = judged_layers(problem, result);
  if (layers.empty()) return false;
  for (const LayerRecord& layer : layers) {
    if (layer.limit > 0 && !std::isfinite(layer.peak.value)) return false;
  }
  if (result.history.empty()) return true;  // extremes are all there is
  const StepRecord& last = result.history.back();
  // An emptying bank never quite stops; a thousandth of the peak heats a millionth as much.
  const bool current_flows = std::abs(last.current) > 1e-3 * result.peak_current.value;
  for (const LayerRecord& layer : layers) {
    if (layer.limit <= 0) continue;
    const bool still_rising = layer.peak.time >= last.time;
    const bool can_reach = current_flows || last.peak_temperature >= layer.limit;
    if (still_rising && can_reach) return false;
  }
  return true;
}

}  // namespace tabmelt::cell_side
