#include "solver/coupling/spot_books.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tabmelt {

namespace {
constexpr double balance_goal = 1e-9;  // [1] to which books close
}

void SpotBooks::begin(const SpotState& state) {
  initial_H_ = state.H;
  double held = 0;  // [J] as if the cold heat capacity held from 0 K
  for (std::size_t c = 0; c < model_->grid.cells(); ++c) {
    if (model_->grid.region(c) == mesh::empty) continue;
    const Material& m = *model_->law(c).material;
    const double T = state.T[c];
    held += model_->grid.volume(c) * m.density * m.specific_heat.at(T) * T;
  }
  floor_ = held * std::numeric_limits<double>::epsilon() / balance_goal;
}

double SpotBooks::worst_residual() const { return worst_ / (std::abs(in_) + floor_); }

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
  worst_ = std::max(worst_, std::abs(residual()));
  if (!closed) return;
  for (std::size_t n = 0; n < step.contacts.size(); ++n)
    ledger.contacts[n] += count * step.contacts[n].energy;
  ledger.expelled += count * step.expelled;
  const std::size_t offset = model_->current_rows.first * grid.nr();
  const double factor = count * energy.square_current;
  std::vector<double> joule(model_->laws.size(), 0);
  for (std::size_t c = 0; c < model_->current_rows.count * model_->grid.nr(); ++c)
    joule[grid.region(c + offset)] += bulk_heat[c] * factor;
  const auto book = [&](double& line, std::size_t region) {
    line -= count * step.boiled_off[region];
    line += joule[region];
  };
  book(ledger.electrodes, model_->electrode);
  for (std::size_t n = 0; n < model_->sheets.size(); ++n)
    book(ledger.sheets[n], model_->sheets[n].region);
}

}  // namespace tabmelt
