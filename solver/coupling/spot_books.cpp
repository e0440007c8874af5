#include "solver/coupling/spot_books.h"

#include <algorithm>

namespace tabmelt {

using Index = Eigen::Index;

void SpotBooks::begin(const SpotState& state) {
  initial_H_.assign(state.H.data(), state.H.data() + state.H.size());
}

void SpotBooks::add(const SpotStep& step, const SpotState& after, const circuit::StepEnergy& energy,
                    bool closed, int count, Ledger& ledger) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  in_ += step.energy;
  out_ += step.conducted_out;
  expelled_ += step.expelled;
  stored_ = 0;
  for (std::size_t c = 0; c < grid.cells(); ++c) {
    if (grid.region(c) == region::empty) continue;
    stored_ += grid.volume(c) * (after.H[static_cast<Index>(c)] - initial_H_[c]);
    hottest_ = std::max(hottest_, after.T[static_cast<Index>(c)]);
  }
  if (!closed) return;
  ledger.tip_contacts += count * step.contact_energy[0];
  ledger.faying_contacts += count * step.contact_energy[1];
  ledger.expelled += count * step.expelled;
  ledger.electrodes -= count * step.boiled_off[region::electrode];
  ledger.strip -= count * step.boiled_off[region::strip];
  ledger.can -= count * step.boiled_off[region::can];
  const std::size_t offset = model_->current_rows.first * grid.nr();
  const double factor = count * energy.square_current;
  for (Index c = 0; c < step.part_heat.size(); ++c) {
    const std::uint8_t region = grid.region(static_cast<std::size_t>(c) + offset);
    const double joule = step.part_heat[c] * factor;
    if (region == region::electrode) ledger.electrodes += joule;
    if (region == region::strip) ledger.strip += joule;
    if (region == region::can) ledger.can += joule;
  }
}

}  // namespace tabmelt
