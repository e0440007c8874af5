// Everything about one weld, as plain values in SI units. z = 0 is the faying surface (strip on
// can); up: strip, electrode; down: can, then what lies inside the cell.
#pragma once

#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "solver/circuit/circuit.h"
#include "solver/material/material.h"
#include "solver/problem/numerics.h"

namespace tabmelt {

using MaterialPtr = std::shared_ptr<const Material>;

struct Electrode {
  MaterialPtr material;
  double tip_radius = 0;   // [m] of the rod's end
  double body_radius = 0;  // [m] radius of the rod
  double taper_angle = 0;  // [rad] between cone and axis; 0: no taper (body = tip)
  double length = 0;       // [m] modelled length, tip to upper end
  // [m] radius of curvature of its face; infinite: truly flat, touches over all of it
  double face_radius = std::numeric_limits<double>::infinity();
};

struct Strip {
  MaterialPtr material;
  double thickness = 0;   // [m]
  bool slit = false;      // a slit between the electrodes: its rim is insulated
  double rim_radius = 0;  // [m] where its current is grounded (effective radius)
  double radius = 0;      // [m] thermal extent, at least rim_radius
};

struct Can {
  MaterialPtr material;
  double thickness = 0;   // [m]
  double rim_radius = 0;  // [m] where its current is grounded
  double radius = 0;      // [m] thermal extent; also of the inner layers
};

// One layer inside the cell, listed from the can downwards; carries no current.
struct InnerLayer {
  std::string name;
  MaterialPtr material;
  double thickness = 0;                // [m]
  std::optional<double> limit;         // [K] hottest allowed
  std::optional<double> molten_limit;  // [1] largest share of its thickness that may melt
  std::optional<double> damage_limit;  // [1] largest share of SEI that may decompose
  std::string limit_reason;
};

enum class ContactLaw { constriction, fixed };

// One touching surface. Constriction: Cooper-Mikic-Yovanovich with a film on the true contact
// area (contact/contact.h). Fixed: area-specific values, for checks and measured contacts.
struct Contact {
  ContactLaw law = ContactLaw::constriction;
  double radius = 0;  // [m] of the touching face
  // fixed
  double area_resistance = 0;   // [ohm m^2]
  double area_conductance = 0;  // [W/m^2/K]
  // constriction
  double roughness = 0;            // [m] combined r.m.s. height
  double slope = 0;                // [1] combined mean asperity slope
  double film_resistance = 0;      // [ohm m^2] on the true contact area at 293 K
  double film_decay = 400;         // [K] rise over which the film's resistance falls by e
  std::optional<double> hardness;  // [Pa] cold; default: the softer material's
};

enum class Closing { switched, unswitched };

// Which of two unlike tips is stored and judged.
enum class JudgedTip { lands_second, lands_first };

struct Pressing {
  Closing closing = Closing::switched;
  double force = 0;  // [N] holding force per electrode
  // Unswitched only: how the tips land (solver/pressing/landing.h).
  double approach_speed = 0;     // [m/s]
  double tip_stiffness = 0;      // [N/m] force rises as stiffness * speed * time
  double height_difference = 0;  // [m] side by side: the second tip still has this far to go
  double moving_mass = 0;        // [kg] of one tip; 0: lands without impact
  double restitution = 0;        // [1] of its impacts
  double impact_time = 0;        // [s] an impact at the approach speed lasts
  JudgedTip judged = JudgedTip::lands_second;

  bool unlike_tips() const { return closing == Closing::unswitched && height_difference > 0; }
};

// One: an opposed pair (single spot, return clamp on the can). Two: side by side on the strip.
struct Arrangement {
  int spots = 2;
  double spacing = 0;  // [m] between electrode axes, side by side only
};

enum class ThermalEnd { fixed_temperature, insulated };

struct Boundary {
  double ambient = 293.15;  // [K] initial and fixed temperature
  ThermalEnd electrode_end = ThermalEnd::fixed_temperature;
  ThermalEnd rim = ThermalEnd::insulated;
  ThermalEnd bottom = ThermalEnd::insulated;
};

// A point whose temperature is recorded. Where it sits on a boundary, `part` names the side:
// "electrode", "strip", "can" or the name of an inner layer.
struct Probe {
  std::string name;
  std::string part;
  double r = 0;  // [m]
  double z = 0;  // [m]
};

struct CellLimits {
  std::optional<double> inner_wall;  // [K] hottest allowed inner can wall; none: by strength alone
  std::string reason;
};

// Several welds on this end of the cell, one after the other.
struct WeldSequence {
  int welds = 1;
  double pause = 0;        // [s] from one to the next
  double cell_radius = 0;  // [m] of the winding; 0: no cell
  double cell_length = 0;  // [m]
};

struct Problem {
  std::string name;
  Electrode electrode;
  Strip strip;
  Can can;
  std::vector<InnerLayer> inner;
  Contact tip_contact;     // electrode on strip
  Contact faying_contact;  // strip on can
  Pressing pressing;
  Arrangement arrangement;
  circuit::Circuit circuit;
  Boundary boundary;
  WeldSequence sequence = {};
  std::optional<CellLimits> cell_limits;  // absent: no cell to protect (pure checks)
  std::vector<Probe> probes;
  Numerics numerics;
};

// Every complaint about a problem that no single key shows, in words; empty if it can be solved.
std::vector<std::string> complaints(const Problem&);

}  // namespace tabmelt
