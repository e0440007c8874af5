#include "solver/heat_conduction/heat_step.h"

#include <cmath>

namespace tabmelt {

using Index = Eigen::Index;

namespace {

// Not a number if any difference is none.
double largest_difference(const Field& a, const Field& b) {
  double largest = 0, sum = 0;
  for (Index c = 0; c < a.size(); ++c) {
    const double difference = std::abs(a[c] - b[c]);
    largest = difference > largest ? difference : largest;
    sum += difference;
  }
  return std::isfinite(sum) ? largest : sum;
}

}  // namespace

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
  for (Field* field : {&checked_, &change_, &stage_T_, &diagonal_, &scale_, &residual_})
    field->setZero(n);
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
  const Index cells = H.size();
  curves(H, T, &capacity_);
  for (int iteration = 0; iteration < limits_.newton_limit; ++iteration) {
    ++outcome.newton_iterations;
    apply(faces, T, product_);
    for (Index c = 0; c < cells; ++c) {
      diagonal_[c] = filled_[c] * capacity_[c] * per_time;
      scale_[c] = gamma_dt / (volume_[c] * capacity_[c]);
      residual_[c] = (base[c] - H[c]) * volume_[c] * per_time + heat[c] - product_[c] +
                     faces.boundary[c] * fixed_temperature;
    }
    linear_.set_operator(faces, diagonal_);
    const LinearOutcome solved = linear_.solve_from_zero(
        residual_, scale_, 0.2 * limits_.newton_tolerance, limits_.linear_limit, change_);
    outcome.linear_iterations += solved.iterations;
    for (Index c = 0; c < cells; ++c) {
      T[c] += change_[c];
      H[c] += capacity_[c] * change_[c];
      checked_[c] = T[c];  // empty cells agree with themselves
    }
    // How far T(H) of the linearised enthalpy is from the linearised temperature.
    curves(H, checked_, &capacity_);
    const double mismatch = largest_difference(checked_, T);
    if (!std::isfinite(mismatch)) return false;
    if (mismatch <= limits_.newton_tolerance && solved.converged) {
      apply(faces, T, product_);
      double out = 0;
      for (Index c = 0; c < cells; ++c) {
        rate[c] = (heat[c] - product_[c] + faces.boundary[c] * fixed_temperature) / volume_[c];
        H[c] = base[c] + gamma_dt * rate[c];
        out += faces.boundary[c] * (T[c] - fixed_temperature);
      }
      flow_out = out;
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
