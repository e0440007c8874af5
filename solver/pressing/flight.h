// A tip between leaving the strip and landing on it again.
//
// The tip of mass m hangs on a spring of stiffness k whose upper end, the hand, moves down at the
// constant speed v and gives way at the holding force F_h. With y the spring's compression and
// x = y - v t the tip's height, t counted from its very first touch:
//
//   m y'' = -min(F_h, k y),    at take-off  y = v t_0,  y' = v + u
//
//   k y < F_h:   y = y_0 cos w s + (y'_0/w) sin w s,   w^2 = k/m        (exact)
//   k y >= F_h:  y = y_0 + y'_0 s - F_h s^2/(2 m)                       (exact)
//
// It ends where x is zero again. As x'' <= 0 while the spring pushes, x rises once and falls once.
// With the full force from the start it lasts 2 u m/F_h and ends at the speed u it began with.
// The tip's weight counts as borne by the hand.
#pragma once

namespace tabmelt {

struct TipMotion {
  double mass = 0;           // [kg] > 0
  double stiffness = 0;      // [N/m] > 0
  double speed = 0;          // [m/s] of the hand, > 0
  double holding_force = 0;  // [N] > 0
};

class Flight {
 public:
  // Leaves at `start` [s] after the first touch, upwards at `take_off` [m/s] > 0.
  Flight(const TipMotion&, double start, double take_off);

  double duration() const { return duration_; }     // [s]
  double landing_speed() const;                     // [m/s] downwards, positive
  double rise() const;                              // [m] largest height
  double height(double since_take_off) const;       // [m]
  double compression(double since_take_off) const;  // [m] of the spring
  double speed(double since_take_off) const;        // [m/s] of the tip, upwards

 private:
  // y' [m/s]: the tip against the hand.
  double rate(double since_take_off) const;
  double find_duration() const;

  TipMotion motion_;
  double start_;
  double take_off_;
  double frequency_;        // [rad/s]
  double full_;             // [m] compression at which the holding force is reached
  double y0_, rate0_;       // at take-off
  double hold_begin_;       // [s] since take-off: the force is the holding force from here
  double hold_end_;         // [s] to here
  double hold_y_, hold_v_;  // y and y' at hold_begin_
  double duration_;
};

}  // namespace tabmelt
