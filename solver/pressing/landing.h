// One tip coming down on the strip: when it touches, and how firmly.
//
// The hand moves down at the speed v and presses through a spring of stiffness k up to the holding
// force F_h. t counts from the tip's first touch.
//
//   spring     F_s = min(F_h, k v t)
//   impact     at the speed u the strip takes up the impulse J = (1 + e) m u, spread over the
//              impact time t_c (v/u)^(1/5) as half a sine; it leaves again at e u
//   flight     solver/pressing/flight.h; no force, no contact
//   force      F = F_s + J pi/(2 t) sin(pi s/t) while it touches, s since this touch began
//
// so that each impact keeps the share e^2 of the energy it meets. With the full holding force every
// flight lasts 2 e^n v m/F_h. A flight that would rise less than the parting height leaves the
// asperities in touch: the tip then stays, taking up J = m u. Without mass F = F_s from the start.
//
// t_c: Hertz, 2.87 (m^2/(r E*^2 v))^(1/5), Johnson, Contact Mechanics (1985), eq. 11.24.
// Left out: the repulsion of the current loosens the contact (coupling/spot.cpp) but does not push
// the tip, and the strip does not give way.
// Constant restitution between bounces: McBride & Sharkh, IEEE Trans. CHMT 15 (1992) 184 use such a
// model for electrical contacts (abstract read); that plastic impacts make e fall with speed is
// left out.
#pragma once

#include <optional>
#include <vector>

namespace tabmelt {

struct LandingMotion {
  double holding_force = 0;      // [N]
  double stiffness = 0;          // [N/m]
  double speed = 0;              // [m/s]
  double mass = 0;               // [kg] 0: lands without impact
  double restitution = 0;        // [1] e, below 1
  double impact_time = 0;        // [s] t_c of the first impact; not used without mass
  double parting_height = 1e-6;  // [m] of the order of the roughness
};

// From landing to take-off.
struct Touch {
  double begin = 0;         // [s]
  double end = 0;           // [s] infinity: stays
  double impact_speed = 0;  // [m/s] u
  double impact_time = 0;   // [s]
  double impulse = 0;       // [N s] J
};

// Contact time [s] of an elastic impact of mass m [kg] with a tip of radius of curvature r [m] at
// speed v [m/s]; E* [Pa] from both bodies, 1/E* = (1 - nu_1^2)/E_1 + (1 - nu_2^2)/E_2.
double hertz_impact_time(double mass, double radius, double modulus, double speed);

class Landing {
 public:
  // Throws std::invalid_argument for values without sense: no speed, stiffness or holding force, a
  // restitution outside [0, 1), a mass without impact time or parting height.
  explicit Landing(const LandingMotion&);

  // Increasing and apart; the last one never ends.
  const std::vector<Touch>& touches() const { return touches_; }
  // How often the tip leaves the strip.
  int bounces() const { return static_cast<int>(touches_.size()) - 1; }
  bool touching(double t) const { return touch_at(t) != nullptr; }
  double spring_force(double t) const;  // [N] of the tip resting on the strip
  double force(double t) const;         // [N] on the strip; 0 while it does not touch
  // Largest force [N] of the present touch so far, to within the rise of F_s during an impact.
  double firmest(double t) const;
  // The impact under way at t, if any.
  std::optional<Touch> impact_at(double t) const;

 private:
  const Touch* touch_at(double t) const;

  LandingMotion motion_;
  std::vector<Touch> touches_;
};

}  // namespace tabmelt
