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
  for (std::size_t n = 0; n < step.contacts.size(); ++n)
    ledger.contacts[n] += count * step.contacts[n].energy;
  ledger.expelled += count * step.expelled;
  const std::size_t offset = model_->current_rows.first * grid.nr();
  const double factor = count * energy.square_current;
  std::vector<double> joule(model_->laws.size(), 0);
  for (Index c = 0; c < bulk_heat.size(); ++c)
    joule[grid.region(static_cast<std::size_t>(c) + offset)] += bulk_heat[c] * factor;
  const auto book = [&](double& line, std::size_t region) {
    line -= count * step.boiled_off[region];
    line += joule[region];
  };
  book(ledger.electrodes, model_->electrode);
  for (std::size_t n = 0; n < model_->sheets.size(); ++n)
    book(ledger.sheets[n], model_->sheets[n].region);
}

}  // namespace tabmelt
