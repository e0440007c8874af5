#include "solver/heat_conduction/heat_step.h"

#include <algorithm>
#include <cmath>

namespace tabmelt {

namespace {

// A change over which the enthalpy curve is as good as straight, and how many cells are asked at
// once whether theirs is larger. [K]
constexpr double at_rest = 1e-7;
constexpr std::size_t block = 8;
// How far from its answer a linear solve may stop, of how far the temperatures may.
constexpr double linear_share = 0.5;

}  // namespace

HeatStep::HeatStep(const mesh::AxisymmetricGrid& grid, std::vector<const Enthalpy*> law,
                   HeatStepLimits limits)
    : nr_(grid.nr()), nz_(grid.nz()), law_(std::move(law)), limits_(limits) {
  const auto n = grid.cells();
  volume_.setOnes(n);
  filled_.setZero(n);
  for (std::size_t j = 0; j < nz_; ++j) {
    row_runs_.push_back(runs_.size());
    const Enthalpy* before = nullptr;
    for (std::size_t i = 0; i < nr_; ++i) {
      const std::size_t cell = grid.index(i, j);
      const Enthalpy* here = law_[cell];
      if (here) {
        volume_[cell] = filled_[cell] = grid.volume(cell);
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

void HeatStep::moved_temperatures(std::size_t row, const double* change, const double* H, double* T,
                                  double* capacity) const {
  for (std::size_t k = row_runs_[row]; k < row_runs_[row + 1]; ++k) {
    const Run& run = runs_[k];
    const std::size_t end = run.first + run.count;
    for (std::size_t i = run.first; i < end; i += block) {
      const std::size_t n = std::min(block, end - i);
      double most = 0;
      for (std::size_t c = i; c < i + n; ++c) most = std::max(most, std::abs(change[c]));
      if (!(most <= at_rest))
        run.law->temperatures(n, H + i, T + i, capacity ? capacity + i : nullptr);
    }
  }
}

void HeatStep::linearise(const Balance& balance, double gamma_dt, const Field& base) {
  const double per_time = 1 / gamma_dt, fixed = balance.fixed_temperature, share = balance.share;
  double* flow = row_.data();
  for (std::size_t j = 0; j < nz_; ++j) {
    const std::size_t first = j * nr_;
    apply_row(balance.faces, stage_T_, j, flow);
    const double *volume = volume_.data() + first, *filled = filled_.data() + first,
                 *capacity = capacity_.data() + first, *from = base.data() + first,
                 *H = stage_H_.data() + first, *heat = balance.heat.data() + first,
                 *boundary = balance.faces.boundary.data() + first;
    double* __restrict diagonal = diagonal_.data() + first;
    double* __restrict scale = scale_.data() + first;
    double* __restrict residual = residual_.data() + first;
    for (std::size_t i = 0; i < nr_; ++i) {
      diagonal[i] = filled[i] * capacity[i] * per_time;
      scale[i] = gamma_dt / (volume[i] * capacity[i]);
      residual[i] =
          (from[i] - H[i]) * volume[i] * per_time + share * heat[i] - flow[i] + boundary[i] * fixed;
    }
  }
}

double HeatStep::follow_change() {
  double largest = 0, sum = 0;
  for (std::size_t j = 0; j < nz_; ++j) {
    const std::size_t first = j * nr_;
    const double* change = change_.data() + first;
    double *T = stage_T_.data() + first, *H = stage_H_.data() + first,
           *capacity = capacity_.data() + first, *checked = checked_.data() + first;
    for (std::size_t i = 0; i < nr_; ++i) {
      T[i] += change[i];
      H[i] += capacity[i] * change[i];
      checked[i] = T[i];  // empty cells agree with themselves
    }
    moved_temperatures(j, change, H, checked, capacity);
    for (std::size_t i = 0; i < nr_; ++i) {
      const double difference = std::abs(checked[i] - T[i]);
      largest = difference > largest ? difference : largest;
      sum += difference;
    }
  }
  return std::isfinite(sum) ? largest : sum;
}

double HeatStep::conclude(const Balance& balance, double gamma_dt, const Field& base, Field& rate,
                          Field* H, Field* T) {
  const double fixed = balance.fixed_temperature, share = balance.share;
  double out = 0;
  double* flow = row_.data();
  for (std::size_t j = 0; j < nz_; ++j) {
    const std::size_t first = j * nr_;
    apply_row(balance.faces, stage_T_, j, flow);
    const double *at = stage_T_.data() + first, *volume = volume_.data() + first,
                 *from = base.data() + first, *heat = balance.heat.data() + first,
                 *boundary = balance.faces.boundary.data() + first;
    double* now = rate.data() + first;
    for (std::size_t i = 0; i < nr_; ++i) {
      now[i] = (share * heat[i] - flow[i] + boundary[i] * fixed) / volume[i];
      out += boundary[i] * (at[i] - fixed);
    }
    if (!H) continue;
    double *H_row = H->data() + first, *T_row = T->data() + first;
    const double *linear = stage_H_.data() + first, *capacity = capacity_.data() + first;
    double* change = change_.data() + first;
    for (std::size_t i = 0; i < nr_; ++i) {
      H_row[i] = from[i] + gamma_dt * now[i];
      change[i] = (H_row[i] - linear[i]) / capacity[i];
      T_row[i] = at[i] + change[i];
    }
    moved_temperatures(j, change, H_row, T_row, nullptr);
  }
  return out;
}

double HeatStep::stage(const Balance& balance, double gamma_dt, const Field& base,
                       const Field& guessed_rate, Field& rate, Field* H, Field* T,
                       HeatStepOutcome& outcome) {
  for (std::size_t j = 0; j < nz_; ++j) {
    const std::size_t first = j * nr_;
    const double *from = base.data() + first, *guess = guessed_rate.data() + first;
    double* guessed_H = stage_H_.data() + first;
    for (std::size_t i = 0; i < nr_; ++i) guessed_H[i] = from[i] + gamma_dt * guess[i];
    temperatures(j, guessed_H, stage_T_.data() + first, capacity_.data() + first);
  }
  for (int iteration = 0; iteration < limits_.newton_limit; ++iteration) {
    ++outcome.newton_iterations;
    linearise(balance, gamma_dt, base);
    if (faces_taken_)
      linear_.set_diagonal(balance.faces, diagonal_);
    else
      linear_.set_operator(balance.faces, diagonal_);
    faces_taken_ = true;
    const LinearOutcome solved = linear_.solve_from_zero(
        residual_, scale_, linear_share * limits_.newton_tolerance, limits_.linear_limit, change_);
    outcome.linear_iterations += solved.iterations;
    const double mismatch = follow_change();
    if (!std::isfinite(mismatch)) break;
    if (mismatch <= limits_.newton_tolerance && solved.converged)
      return conclude(balance, gamma_dt, base, rate, H, T);
    stage_T_.swap(checked_);
  }
  return std::nan("");
}

HeatStepOutcome HeatStep::advance(const FaceConductances& faces, const Field& heat, double tilt,
                                  double fixed_temperature, double dt, const Field& H0,
                                  const Field& T0, const Field& rate0, Field& H, Field& T,
                                  Field& rate) {
  HeatStepOutcome outcome;
  Balance balance{faces, heat, 1 + tilt * (gamma - 0.5), fixed_temperature};
  stage_T_ = T0;
  faces_taken_ = false;
  const double out1 = stage(balance, gamma * dt, H0, rate0, rate1_, nullptr, nullptr, outcome);
  if (!std::isfinite(out1)) return outcome;
  base_ = H0 + (1 - gamma) * dt * rate1_;
  balance.share = 1 + 0.5 * tilt;
  for (Field* field : {&H, &T, &rate}) field->resize(H0.size());
  const double out2 = stage(balance, gamma * dt, base_, rate1_, rate, &H, &T, outcome);
  if (!std::isfinite(out2)) return outcome;
  outcome.conducted_out = dt * ((1 - gamma) * out1 + gamma * out2);
  outcome.converged = true;
  return outcome;
}

}  // namespace tabmelt
