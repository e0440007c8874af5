#include "solver/heat_conduction/heat_step.h"

#include <cmath>

namespace tabmelt {

using Index = Eigen::Index;

HeatStep::HeatStep(const mesh::AxisymmetricGrid& grid, std::vector<const Enthalpy*> law,
                   HeatStepLimits limits)
    : law_(std::move(law)), limits_(limits) {
  const auto n = static_cast<Index>(grid.cells());
  volume_.setOnes(n);
  filled_.setZero(n);
  for (Index c = 0; c < n; ++c)
    if (law_[static_cast<std::size_t>(c)])
      volume_[c] = filled_[c] = grid.volume(static_cast<std::size_t>(c));
  for (std::size_t c = 0; c < law_.size(); ++c) {
    if (!law_[c]) continue;
    if (c == 0 || runs_.empty() || law_[c - 1] != law_[c]) runs_.push_back({law_[c], c, 0});
    ++runs_.back().count;
  }
  capacity_.setOnes(n);
  checked_.setZero(n);
  change_.setZero(n);
  stage_T_.setZero(n);
}

void HeatStep::curves(const Field& H, Field& T, Field* capacity) const {
  for (const Run& run : runs_)
    run.law->temperatures(run.count, H.data() + run.first, T.data() + run.first,
                          capacity ? capacity->data() + run.first : nullptr);
}

void HeatStep::temperatures(const Field& H, Field& T) const { curves(H, T, nullptr); }

bool HeatStep::stage(const FaceConductances& faces, const Field& heat, double fixed_temperature,
                     double gamma_dt, const Field& base, Field& H, Field& T, Field& rate,
                     double& flow_out, HeatStepOutcome& outcome) {
  const double per_time = 1 / gamma_dt;
  curves(H, T, &capacity_);
  for (int iteration = 0; iteration < limits_.newton_limit; ++iteration) {
    ++outcome.newton_iterations;
    diagonal_ = filled_ * capacity_ * per_time;
    scale_ = gamma_dt / (volume_ * capacity_);
    apply(faces, T, product_);
    residual_ =
        (base - H) * volume_ * per_time + heat - product_ + faces.boundary * fixed_temperature;
    linear_.set_operator(faces, diagonal_);
    change_.setZero();
    const LinearOutcome solved = linear_.solve(residual_, scale_, 0.2 * limits_.newton_tolerance,
                                               limits_.linear_limit, change_);
    outcome.linear_iterations += solved.iterations;
    T += change_;
    H += capacity_ * change_;
    // How far T(H) of the linearised enthalpy is from the linearised temperature.
    checked_ = T;  // empty cells agree with themselves
    curves(H, checked_, &capacity_);
    const double mismatch = (checked_ - T).abs().maxCoeff();
    if (!std::isfinite((checked_ - T).sum())) return false;
    if (mismatch <= limits_.newton_tolerance && solved.converged) {
      apply(faces, T, product_);
      rate = (heat - product_ + faces.boundary * fixed_temperature) / volume_;
      H = base + gamma_dt * rate;
      flow_out = (faces.boundary * (T - fixed_temperature)).sum();
      return true;
    }
    T = checked_;
  }
  return false;
}

HeatStepOutcome HeatStep::advance(const FaceConductances& faces, const Field& heat,
                                  double fixed_temperature, double dt, Field& H, Field& T,
                                  Field& rate) {
  HeatStepOutcome outcome;
  start_ = H;
  double out1 = 0, out2 = 0;
  stage_T_ = T;

  stage_H_ = start_ + gamma * dt * rate;
  rate1_ = rate;
  if (!stage(faces, heat, fixed_temperature, gamma * dt, start_, stage_H_, stage_T_, rate1_, out1,
             outcome))
    return outcome;

  base_ = start_ + (1 - gamma) * dt * rate1_;
  stage_H_ = base_ + gamma * dt * rate1_;
  if (!stage(faces, heat, fixed_temperature, gamma * dt, base_, stage_H_, stage_T_, rate, out2,
             outcome))
    return outcome;

  H = stage_H_;
  temperatures(H, T);
  outcome.conducted_out = dt * ((1 - gamma) * out1 + gamma * out2);
  outcome.converged = true;
  return outcome;
}

}  // namespace tabmelt
