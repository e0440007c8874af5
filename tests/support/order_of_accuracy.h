// Observed order of accuracy: solve at three or more step sizes h (of space or of time), compare
// with the exact answer, and see how the error e falls.
//
//   between neighbours   p_i = ln(e_i/e_{i+1}) / ln(h_i/h_{i+1})
//   fit                  p = slope of the least-squares line of ln e over ln h
//
//   const auto study = order_in_cells({20, 40, 80}, [](int n) { return error_with(n); });
//   EXPECT_TRUE(order_within(study, 2, 0.15));
//
// The band is two-sided: an order too good to be true points to a wrong test.
// Source: Roache, Verification and Validation in Computational Science and Engineering (1998).
#pragma once

#include <gtest/gtest.h>

#include <functional>
#include <iosfwd>
#include <vector>

namespace tabmelt {

struct OrderOfAccuracy {
  std::vector<double> step;   // h, coarse to fine; 1/cells for a study over cell counts
  std::vector<double> error;  // e, one per step
  std::vector<double> order;  // p_i, one fewer
  double fitted_order = 0;    // p
};

// Steps in falling order. Throws std::invalid_argument with fewer than three or unsorted steps,
// std::domain_error if an error is not a positive number (an exact answer shows no order).
OrderOfAccuracy order_in_steps(const std::vector<double>& steps,
                               const std::function<double(double)>& error_at);
// Cell counts in rising order.
OrderOfAccuracy order_in_cells(const std::vector<int>& cells,
                               const std::function<double(int)>& error_at);

// One line per step: step, error, order since the line above; then the fit.
std::ostream& operator<<(std::ostream& out, const OrderOfAccuracy& study);

// Passes when the fit and every order between neighbours lie within expected +- band; prints the
// study otherwise. With first_pair > 0 the coarse pairs before it are left out, and with them the
// fit; throws std::invalid_argument if that leaves no pair.
testing::AssertionResult order_within(const OrderOfAccuracy& study, double expected, double band,
                                      std::size_t first_pair = 0);

}  // namespace tabmelt
