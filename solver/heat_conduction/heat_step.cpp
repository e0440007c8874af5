#include "solver/heat_conduction/heat_step.h"

#include <cmath>

namespace tabmelt {

using Index = Eigen::Index;

HeatStep::HeatStep(const mesh::AxisymmetricGrid& grid, std::vector<const Enthalpy*> law,
                   HeatStepLimits limits)
    : law_(std::move(law)), limits_(limits) {
  const auto n = static_cast<Index>(grid.cells());
  volume_.setOnes(n);
  for (Index c = 0; c < n; ++c)
    if (law_[static_cast<std::size_t>(c)]) volume_[c] = grid.volume(static_cast<std::size_t>(c));
  capacity_.setOnes(n);
  change_.setZero(n);
  stage_T_.setZero(n);
}

void HeatStep::temperatures(const Field& H, Field& T) const {
  for (Index c = 0; c < H.size(); ++c)
    if (const Enthalpy* law = law_[static_cast<std::size_t>(c)]) T[c] = law->temperature(H[c]);
}

bool HeatStep::stage(const FaceConductances& faces, const Field& heat, double fixed_temperature,
                     double gamma_dt, const Field& base, Field& H, Field& T, Field& rate,
                     double& flow_out, HeatStepOutcome& outcome) {
  const Index n = H.size();
  for (int iteration = 0; iteration < limits_.newton_limit; ++iteration) {
    ++outcome.newton_iterations;
    for (Index c = 0; c < n; ++c)
      if (const Enthalpy* law = law_[static_cast<std::size_t>(c)])
        law->temperature_and_capacity(H[c], T[c], capacity_[c]);
    diagonal_ = volume_ * capacity_ / gamma_dt;
    scale_ = 1.0 / diagonal_;
    apply(faces, T, product_);
    residual_ =
        (base - H) * volume_ / gamma_dt + heat - product_ + faces.boundary * fixed_temperature;
    linear_.set_operator(faces, diagonal_);
    change_.setZero();
    const LinearOutcome solved = linear_.solve(residual_, scale_, 0.2 * limits_.newton_tolerance,
                                               limits_.linear_limit, change_);
    outcome.linear_iterations += solved.iterations;
    // How far T(H) of the linearised enthalpy is from the linearised temperature.
    double mismatch = 0;
    T += change_;
    H += capacity_ * change_;
    for (Index c = 0; c < n; ++c)
      if (const Enthalpy* law = law_[static_cast<std::size_t>(c)])
        mismatch = std::max(mismatch, std::abs(law->temperature(H[c]) - T[c]));
    if (!std::isfinite(mismatch)) return false;
    if (mismatch <= limits_.newton_tolerance && solved.converged) {
      apply(faces, T, product_);
      rate = (heat - product_ + faces.boundary * fixed_temperature) / volume_;
      H = base + gamma_dt * rate;
      flow_out = (faces.boundary * (T - fixed_temperature)).sum();
      return true;
    }
  }
  return false;
}

HeatStepOutcome HeatStep::advance(const FaceConductances& faces, const Field& heat,
                                  double fixed_temperature, double dt, Field& H, Field& T,
                                  Field& rate) {
  HeatStepOutcome outcome;
  const Field start = H;
  double out1 = 0, out2 = 0;
  stage_T_ = T;

  Field H_stage = start + gamma * dt * rate;
  rate1_ = rate;
  if (!stage(faces, heat, fixed_temperature, gamma * dt, start, H_stage, stage_T_, rate1_, out1,
             outcome))
    return outcome;

  base_ = start + (1 - gamma) * dt * rate1_;
  H_stage = base_ + gamma * dt * rate1_;
  if (!stage(faces, heat, fixed_temperature, gamma * dt, base_, H_stage, stage_T_, rate, out2,
             outcome))
    return outcome;

  H = H_stage;
  temperatures(H, T);
  outcome.conducted_out = dt * ((1 - gamma) * out1 + gamma * out2);
  outcome.converged = true;
  return outcome;
}

}  // namespace tabmelt
