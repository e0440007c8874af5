#include "tests/support/order_of_accuracy.h"

#include <cmath>
#include <iomanip>
#include <ostream>
#include <stdexcept>
#include <string>

namespace tabmelt {
namespace {

double fitted_slope(const std::vector<double>& x, const std::vector<double>& y) {
  const auto n = static_cast<double>(x.size());
  double sx = 0, sy = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    sx += x[i];
    sy += y[i];
  }
  double sxx = 0, sxy = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    sxx += (x[i] - sx / n) * (x[i] - sx / n);
    sxy += (x[i] - sx / n) * (y[i] - sy / n);
  }
  return sxy / sxx;
}

// The study from the steps; error_of takes the place in the list.
OrderOfAccuracy study_of(const std::vector<double>& steps,
                         const std::function<double(std::size_t)>& error_of) {
  if (steps.size() < 3) {
    throw std::invalid_argument("an order of accuracy needs at least three resolutions");
  }
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (!(steps[i] > 0) || (i > 0 && !(steps[i] < steps[i - 1]))) {
      throw std::invalid_argument("resolutions must be positive and go from coarse to fine");
    }
  }
  OrderOfAccuracy study;
  study.step = steps;
  std::vector<double> log_step, log_error;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const double error = error_of(i);
    if (!(error > 0) || std::isinf(error)) {
      throw std::domain_error("error " + std::to_string(error) + " at step " +
                              std::to_string(steps[i]) + " shows no order");
    }
    study.error.push_back(error);
    log_step.push_back(std::log(steps[i]));
    log_error.push_back(std::log(error));
    if (i > 0) {
      study.order.push_back((log_error[i - 1] - log_error[i]) / (log_step[i - 1] - log_step[i]));
    }
  }
  study.fitted_order = fitted_slope(log_step, log_error);
  return study;
}

}  // namespace

OrderOfAccuracy order_in_steps(const std::vector<double>& steps,
                               const std::function<double(double)>& error_at) {
  return study_of(steps, [&](std::size_t i) { return error_at(steps[i]); });
}

OrderOfAccuracy order_in_cells(const std::vector<int>& cells,
                               const std::function<double(int)>& error_at) {
  std::vector<double> steps;
  for (const int n : cells) {
    steps.push_back(1.0 / n);
  }
  return study_of(steps, [&](std::size_t i) { return error_at(cells[i]); });
}

std::ostream& operator<<(std::ostream& out, const OrderOfAccuracy& study) {
  const auto flags = out.flags();
  const auto precision = out.precision();
  out << "        step        error    order\n" << std::scientific << std::setprecision(4);
  for (std::size_t i = 0; i < study.step.size(); ++i) {
    out << std::setw(12) << study.step[i] << ' ' << std::setw(12) << study.error[i];
    if (i > 0) {
      out << std::fixed << std::setprecision(3) << std::setw(9) << study.order[i - 1]
          << std::scientific << std::setprecision(4);
    }
    out << '\n';
  }
  out << std::fixed << std::setprecision(3) << "fit" << std::setw(31) << study.fitted_order << '\n';
  out.flags(flags);
  out.precision(precision);
  return out;
}

testing::AssertionResult order_within(const OrderOfAccuracy& study, double expected, double band,
                                      std::size_t first_pair) {
  if (first_pair >= study.order.size()) {
    throw std::invalid_argument("no pair of resolutions left to judge");
  }
  // Written so that a not-a-number order counts as outside.
  const auto inside = [&](double order) { return std::abs(order - expected) <= band; };
  bool all = first_pair > 0 || inside(study.fitted_order);
  for (std::size_t i = first_pair; i < study.order.size(); ++i) {
    all = all && inside(study.order[i]);
  }
  if (all) {
    return testing::AssertionSuccess();
  }
  return testing::AssertionFailure() << "order outside " << expected << " +- " << band << "\n"
                                     << study;
}

}  // namespace tabmelt
