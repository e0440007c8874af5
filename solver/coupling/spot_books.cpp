#include "solver/coupling/spot_books.h"

#include <algorithm>

namespace tabmelt {

using Index = Eigen::Index;

void SpotBooks::begin(const SpotState& state) { initial_H_ = state.H; }

void SpotBooks::add(const SpotStep& step, const SpotState& after, const Field& bulk_heat,
                    const circuit::StepEnergy& energy, bool closed, int count, Ledger& ledger) {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  in_ += step.energy;
  out_ += step.conducted_out;
  expelled_ += step.expelled;
  // Empty cells keep enthalpy and temperature.
  const Eigen::Map<const Field> volume(grid.volumes().data(), after.H.size());
  stored_ = (volume * (after.H - initial_H_)).sum();
  hottest_ = std::max(hottest_, after.T.maxCoeff());
  if (!closed) return;
  ledger.tip_contacts += count * step.contact_energy[0];
  ledger.faying_contacts += count * step.contact_energy[1];
  ledger.expelled += count * step.expelled;
  ledger.electrodes -= count * step.boiled_off[region::electrode];
  ledger.strip -= count * step.boiled_off[region::strip];
  ledger.can -= count * step.boiled_off[region::can];
  const std::size_t offset = model_->current_rows.first * grid.nr();
  const double factor = count * energy.square_current;
  std::vector<double> joule(model_->laws.size(), 0);
  for (Index c = 0; c < bulk_heat.size(); ++c)
    joule[grid.region(static_cast<std::size_t>(c) + offset)] += bulk_heat[c] * factor;
  ledger.electrodes += joule[region::electrode];
  ledger.strip += joule[region::strip];
  ledger.can += joule[region::can];
}

}  // namespace tabmelt
