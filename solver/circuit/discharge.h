// Exact motion of the series loop with constant elements.
//
//   L di/dt + R i = u,   C du/dt = -i      capacitor (u: its voltage less any back voltage)
//   L di/dt + R i = u,   u constant        battery
//
//   i  current [A]     u  driving voltage [V]     R  loop resistance [ohm]     L  inductance [H]
//   C  capacitance [F]
//
// Capacitor, with D = sqrt(R^2 - 4 L/C):
//   damped, D real: rates  a = 2/(C (R + D)) (slow),  b = (R + D)/(2 L) (fast),
//     S = (exp(-a t) - exp(-b t)) / (b - a)
//     i = i0 (exp(-b t) - a S) + (u0/L) S,     u = u0 (exp(-a t) + a S) - (i0/C) S
//     S is written as t exp(-a t) (1 - exp(-x))/x, x = (b - a) t = D t/L, and a without a
//     difference, so that nothing cancels at critical damping (x = 0) nor for vanishing L.
//   oscillating: the usual form in exp(-R t/(2 L)), cos(w t) and sin(w t)/w.
// Textbooks on circuits, e.g. Nilsson and Riedel, Electric Circuits, "Natural and step responses
// of RLC circuits".
//
// Integrals over a step. Once the step is longer than the fastest time of the loop they are closed
// forms; int i^2 dt then follows from the first law,
//   R int i^2 dt = C (u0^2 - u1^2)/2 + L (i0^2 - i1^2)/2,
// with the differences taken as products (charge times mean voltage), or, for weakly damped
// swings where that is a small difference of large numbers, from its own closed form. Shorter
// steps would lose digits in all of these; there the exact i(t) and u(t) are integrated by an
// eight-point Gauss rule, whose error (2 t/fastest time)^16 * 2e-23 is below round-off. Either way
// each energy is accurate by itself and the books of a step close to round-off.
#pragma once

#include <limits>

namespace tabmelt::circuit {

struct LoopPoint {
  double current = 0;  // [A]
  double drive = 0;    // [V] u
};

struct StepIntegrals {
  double charge = 0;          // int i dt [A s]
  double square_current = 0;  // int i^2 dt [A^2 s], never negative
  double current_change = 0;  // i1 - i0 [A]
  LoopPoint end;
};

// R > 0, C > 0, L >= 0; with L = 0 the current follows u at once and `start.current` is ignored.
// Throws std::invalid_argument otherwise.
class CapacitorDischarge {
 public:
  CapacitorDischarge(double resistance, double inductance, double capacitance, LoopPoint start);

  LoopPoint at(double t) const;
  StepIntegrals integrals(double t) const;
  // First t > 0 at which the current passes through zero [s]; infinity if it never does.
  double first_reversal() const;
  // First t > 0 at which the current stops rising or falling [s]; infinity if it never does.
  // Later swings are smaller, so between two zeros of the current it is largest there or at the
  // ends. di/dt obeys the loop's equation too, with i -> di/dt and u -> du/dt = -i/C: its zero is
  // the reversal of a loop that starts with these.
  double first_extreme() const;

 private:
  StepIntegrals closed_integrals(double t) const;
  LoopPoint damped(double t) const;
  LoopPoint oscillating(double t) const;
  // S/L of the legend [1/ohm], damped loops only.
  double response(double t) const;
  double swing_square_current(double t) const;

  double resistance_;
  double inductance_;
  double capacitance_;
  LoopPoint start_;
  bool oscillates_ = false;
  double split_ = 0;      // D [ohm]
  double slow_rate_ = 0;  // a [1/s]
  double fast_rate_ = 0;  // b [1/s]; the natural frequency if it oscillates
  double damping_ = 0;    // R/(2 L) [1/s], oscillating
  double frequency_ = 0;  // w [rad/s], oscillating
};

// L di/dt + R i = u, constant u: R >= 0, L >= 0, not both zero (std::invalid_argument).
class BatteryDischarge {
 public:
  BatteryDischarge(double resistance, double inductance, LoopPoint start);

  LoopPoint at(double t) const;
  StepIntegrals integrals(double t) const;
  double first_reversal() const;
  // The current goes one way for ever: infinity.
  double first_extreme() const { return std::numeric_limits<double>::infinity(); }

 private:
  double resistance_;
  double inductance_;
  LoopPoint start_;
};

}  // namespace tabmelt::circuit
