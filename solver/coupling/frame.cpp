#include "solver/coupling/frame.h"

namespace tabmelt {

void fill_frame(const WeldModel& model, const Spot& spot, const WeldState& state, double ambient,
                bool current_flows, Frame& f) {
  const mesh::AxisymmetricGrid& grid = model.grid;
  const SpotState& s = state.spots[0];
  f.time = state.loop.time;
  const std::size_t n = grid.cells();
  f.temperature.assign(n, static_cast<float>(ambient));
  f.liquid_fraction.assign(n, 0.0F);
  f.potential.assign(n, 0.0F);
  f.current_density.assign(3 * n, 0.0F);
  for (std::size_t c = 0; c < n; ++c) {
    if (grid.region(c) == mesh::empty) continue;
    const double T = s.T[c];
    f.temperature[c] = static_cast<float>(T);
    f.liquid_fraction[c] = static_cast<float>(model.law(c).enthalpy->liquid_fraction(T));
  }
  if (!current_flows) return;
  const std::size_t offset = model.current_rows.first * grid.nr();
  const Field& phi = spot.potential().potential();
  const std::vector<double> density = spot.potential().current_density();
  const std::size_t cells = model.current_rows.count * grid.nr();
  for (std::size_t c = 0; c < cells; ++c) {
    f.potential[c + offset] = static_cast<float>(phi[c] * state.loop.current);
    for (std::size_t k = 0; k < 2; ++k)
      f.current_density[3 * (c + offset) + k] =
          static_cast<float>(density[2 * c + k] * state.loop.current);
  }
}

}  // namespace tabmelt
