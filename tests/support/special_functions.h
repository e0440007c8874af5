// Functions of the exact solutions that neither the standard library nor Boost offers, and the
// tables of Bessel zeros they sum over.
//
//   erfcx(x) = exp(x^2) erfc(x)                      scaled complementary error function
//   ierfc(x) = exp(-x^2)/sqrt(pi) - x erfc(x)        first integral of erfc from x to infinity
//
// Source: Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), appendix II;
// continued fraction of erfc: Abramowitz & Stegun (1964), 7.1.14. Both keep full relative
// accuracy where the defining differences cancel (large x).
#pragma once

#include <vector>

namespace tabmelt::exact {

double erfcx(double x);
double ierfc(double x);

// The first positive zeros of J0 (400 of them) and of J1 (4000, without x = 0).
const std::vector<double>& zeros_of_j0();
const std::vector<double>& zeros_of_j1();

}  // namespace tabmelt::exact
