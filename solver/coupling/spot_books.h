// Energy books of one spot, and its share of the ledger of the whole loop.
#pragma once

#include <vector>

#include "solver/circuit/loop.h"
#include "solver/coupling/spot.h"
#include "solver/result/result.h"

namespace tabmelt {

class SpotBooks {
 public:
  explicit SpotBooks(const WeldModel& model) : model_(&model) {}

  void begin(const SpotState&);
  // An accepted step; bulk_heat [W/A^2] of each cell that carries current, contacts excluded.
  // `count` spots of the loop are like this one.
  void add(const SpotStep&, const SpotState& after, const Field& bulk_heat,
           const circuit::StepEnergy&, bool closed, int count, Ledger&);

  double in() const { return in_; }              // [J] delivered so far
  double stored() const { return stored_; }      // [J] in the metal, latent heat included
  double out() const { return out_; }            // [J] conducted out of the ends
  double expelled() const { return expelled_; }  // [J] carried off as sparks
  double residual() const { return in_ - stored_ - out_ - expelled_; }  // [J]
  // [1] largest |residual| of any step over the energy of the whole run, to which comes what
  // rounding alone can make of the heat that the metal held before. Small deliveries drown in that.
  double worst_residual() const;
  double hottest() const { return hottest_; }  // [K] hottest cell so far

 private:
  const WeldModel* model_;
  Field initial_H_;
  double in_ = 0, stored_ = 0, out_ = 0, expelled_ = 0, hottest_ = 0;
  double worst_ = 0;  // [J]
  double floor_ = 0;  // [J] of which rounding is `balance_goal`
};

}  // namespace tabmelt
