#include "viz/pictures/over_time.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

Abscissa pulse_axis(const StoredRun& run) {
  return {0, std::min(series_of(run, "time").back(), 1.15 * pulse_end_of(run)), false};
}

Abscissa heat_axis(const StoredRun& run) {
  double onset = std::numeric_limits<double>::infinity();
  if (const auto peak = peak_of(run, "peak_temperature")) {
    constexpr double barely_warm = 0.03;
    const double cold = series_of(run, "peak_temperature").front();
    const auto warm =
        first_above(run, "peak_temperature", std::lerp(cold, peak->value, barely_warm));
    if (warm) onset = 0.5 * *warm;
  }
  return Abscissa::over_run(series_of(run, "time"), pulse_end_of(run, 0.2), onset);
}

Panel panel_of(const StoredRun& run, const std::string& title, const std::vector<Wanted>& wanted,
               double (*convert)(double)) {
  Panel panel{.title = title, .abscissa = series_of(run, "time")};
  for (const Wanted& want : wanted) {
    std::vector<double> values = series_of(run, want.series);
    if (values.empty()) continue;
    if (convert != nullptr) std::transform(values.begin(), values.end(), values.begin(), convert);
    panel.curves.push_back({want.name,
                            std::move(values),
                            {.colour = want.colour, .width = want.width, .dash = want.dash}});
  }
  return panel;
}

bool rises_above_zero(const drawing::Curve& curve) {
  return std::any_of(curve.values.begin(), curve.values.end(),
                     [](double value) { return value > 0; });
}

std::vector<Span> flows_of(const StoredRun& run) {
  const std::vector<double>& time = series_of(run, "time");
  const std::vector<double>& current = series_of(run, "current");
  const double least = 0.01 * largest_current(run), gap = 0.01 * pulse_end_of(run);
  std::vector<Span> flows;
  for (std::size_t k = 0; k < current.size(); ++k) {
    if (!(std::abs(current[k]) > least)) continue;
    const double from = k > 0 ? time[k - 1] : time[k];
    if (!flows.empty() && from - flows.back().to <= gap) {
      flows.back().to = time[k];
    } else {
      flows.push_back({from, time[k]});
    }
  }
  return flows;
}

}  // namespace tabmelt::pictures
