#include "viz/pictures/time_axes.h"

#include <cmath>
#include <limits>

#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

Abscissa heat_axis(const StoredRun& run) {
  const std::vector<double>& time = series_of(run, "time");
  const std::vector<double>& hottest = series_of(run, "peak_temperature");
  double onset = std::numeric_limits<double>::infinity();
  if (const auto peak = peak_of(run, "peak_temperature"); peak && !hottest.empty()) {
    constexpr double barely_warm = 0.03;
    const double warm = std::lerp(hottest.front(), peak->value, barely_warm);
    for (std::size_t k = 0; k < hottest.size(); ++k) {
      if (hottest[k] > warm) {
        onset = 0.5 * time[k];
        break;
      }
    }
  }
  return Abscissa::over_run(time, pulse_end_of(run, 0.2), onset);
}

void shade_flows(Panel& panel, const StoredRun& run) {
  for (const Flow& flow : flows_of(run)) {
    panel.shaded.push_back({flow.from, flow.to});
  }
  panel.shaded_name = "current flows";
}

}  // namespace tabmelt::pictures
