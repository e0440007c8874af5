#include "solver/heat_conduction/heat_step.h"

#include <cmath>

namespace tabmelt {

using Index = Eigen::Index;

HeatStep::HeatStep(const mesh::AxisymmetricGrid& grid, std::vector<const Enthalpy*> law,
                   HeatStepLimits limits)
    : nr_(grid.nr()), nz_(grid.nz()), law_(std::move(law)), limits_(limits) {
  const auto n = static_cast<Index>(grid.cells());
  volume_.setOnes(n);
  filled_.setZero(n);
  for (std::size_t j = 0; j < nz_; ++j) {
    row_runs_.push_back(runs_.size());
    const Enthalpy* before = nullptr;
    for (std::size_t i = 0; i < nr_; ++i) {
      const std::size_t cell = grid.index(i, j);
      const Enthalpy* here = law_[cell];
      if (here) {
        volume_[static_cast<Index>(cell)] = filled_[static_cast<Index>(cell)] = grid.volume(cell);
        if (here != before) runs_.push_back({here, i, 0});
        ++runs_.back().count;
      }
      before = here;
    }
  }
  row_runs_.push_back(runs_.size());
  capacity_.setOnes(n);
  for (Field* field : {&change_, &diagonal_, &residual_, &scale_, &base_, &rate1_, &stage_T_,
                       &stage_H_, &checked_})
    field->setZero(n);
  row_.assign(nr_, 0);
}

void HeatStep::temperatures(std::size_t row, const double* H, double* T, double* capacity) const {
  for (std::size_t k = row_runs_[row]; k < row_runs_[row + 1]; ++k) {
    const Run& run = runs_[k];
    run.law->temperatures(run.count, H + run.first, T + run.first,
                          capacity ? capacity + run.first : nullptr);
  }
}

void HeatStep::temperatures(const Field& H, Field& T) const {
  for (std::size_t j = 0; j < nz_; ++j) temperatures(j, H.data() + j * nr_, T.data() + j * nr_);
}

double HeatStep::stage(const Balance& balance, double gamma_dt, const Field& base,
                       const Field& guessed_rate, Field& rate, Field* H_out, Field* T_out,
                       HeatStepOutcome& outcome) {
  const FaceConductances& faces = balance.faces;
  const double per_time = 1 / gamma_dt, fixed = balance.fixed_temperature;
  const double *base_H = base.data(), *guess = guessed_rate.data(), *heat = balance.heat.data(),
               *boundary = faces.boundary.data();
  double *H = stage_H_.data(), *capacity = capacity_.data(), *flow = row_.data();
  for (std::size_t j = 0; j < nz_; ++j) {
    const std::size_t first = j * nr_;
    for (std::size_t c = first; c < first + nr_; ++c) H[c] = base_H[c] + gamma_dt * guess[c];
    temperatures(j, H + first, stage_T_.data() + first, capacity + first);
  }
  for (int iteration = 0; iteration < limits_.newton_limit; ++iteration) {
    ++outcome.newton_iterations;
    for (std::size_t j = 0; j < nz_; ++j) {
      const std::size_t first = j * nr_;
      apply_row(faces, stage_T_, j, flow);
      const double *volume = volume_.data() + first, *filled = filled_.data() + first;
      double* __restrict diagonal = diagonal_.data() + first;
      double* __restrict scale = scale_.data() + first;
      double* __restrict residual = residual_.data() + first;
      for (std::size_t i = 0; i < nr_; ++i) {
        const std::size_t c = first + i;
        diagonal[i] = filled[i] * capacity[c] * per_time;
        scale[i] = gamma_dt / (volume[i] * capacity[c]);
        residual[i] =
            (base_H[c] - H[c]) * volume[i] * per_time + heat[c] - flow[i] + boundary[c] * fixed;
      }
    }
    linear_.set_operator(faces, diagonal_);
    const LinearOutcome solved = linear_.solve_from_zero(
        residual_, scale_, 0.2 * limits_.newton_tolerance, limits_.linear_limit, change_);
    outcome.linear_iterations += solved.iterations;
    // How far T(H) of the linearised enthalpy is from the linearised temperature. The sum is not a
    // number if any of it is none.
    double mismatch = 0, sum = 0;
    for (std::size_t j = 0; j < nz_; ++j) {
      const std::size_t first = j * nr_;
      const double* change = change_.data() + first;
      double *T = stage_T_.data() + first, *checked = checked_.data() + first;
      for (std::size_t i = 0; i < nr_; ++i) {
        T[i] += change[i];
        H[first + i] += capacity[first + i] * change[i];
        checked[i] = T[i];  // empty cells agree with themselves
      }
      temperatures(j, H + first, checked, capacity + first);
      for (std::size_t i = 0; i < nr_; ++i) {
        const double difference = std::abs(checked[i] - T[i]);
        mismatch = difference > mismatch ? difference : mismatch;
        sum += difference;
      }
    }
    if (!std::isfinite(sum)) break;
    if (mismatch > limits_.newton_tolerance || !solved.converged) {
      stage_T_.swap(checked_);
      continue;
    }
    double out = 0;
    for (std::size_t j = 0; j < nz_; ++j) {
      const std::size_t first = j * nr_;
      apply_row(faces, stage_T_, j, flow);
      const double *T = stage_T_.data() + first, *volume = volume_.data() + first;
      double* now = rate.data() + first;
      for (std::size_t i = 0; i < nr_; ++i) {
        const std::size_t c = first + i;
        now[i] = (heat[c] - flow[i] + boundary[c] * fixed) / volume[i];
        out += boundary[c] * (T[i] - fixed);
      }
      if (!H_out) continue;
      double *H_new = H_out->data() + first, *T_new = T_out->data() + first;
      for (std::size_t i = 0; i < nr_; ++i) {
        H_new[i] = base_H[first + i] + gamma_dt * now[i];
        T_new[i] = T[i];
      }
      temperatures(j, H_new, T_new);
    }
    return out;
  }
  return std::nan("");
}

HeatStepOutcome HeatStep::advance(const FaceConductances& faces, const Field& heat,
                                  double fixed_temperature, double dt, const Field& H0,
                                  const Field& T0, const Field& rate0, Field& H, Field& T,
                                  Field& rate) {
  HeatStepOutcome outcome;
  const Balance balance{faces, heat, fixed_temperature};
  stage_T_ = T0;
  const double out1 = stage(balance, gamma * dt, H0, rate0, rate1_, nullptr, nullptr, outcome);
  if (!std::isfinite(out1)) return outcome;
  base_ = H0 + (1 - gamma) * dt * rate1_;
  for (Field* field : {&H, &T, &rate}) field->resize(H0.size());
  const double out2 = stage(balance, gamma * dt, base_, rate1_, rate, &H, &T, outcome);
  if (!std::isfinite(out2)) return outcome;
  outcome.conducted_out = dt * ((1 - gamma) * out1 + gamma * out2);
  outcome.converged = true;
  return outcome;
}

}  // namespace tabmelt
