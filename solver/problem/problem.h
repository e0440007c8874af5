// Everything about one weld, as plain values in SI units: a stack of sheets under the tip. z = 0 is
// the top of the lowest sheet; up: the sheets above it, electrode; down: that sheet, then what lies
// inside the cell.
#pragma once

#include <cstddef>
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

// One sheet of the stack; carries current.
struct Sheet {
  std::string name;
  MaterialPtr material = nullptr;
  double thickness = 0;   // [m]
  double rim_radius = 0;  // [m] where its current is grounded (effective radius)
  double radius = 0;      // [m] thermal extent, at least rim_radius
  bool slit = false;      // a slit between the electrodes: its rim is insulated
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

// Area-specific values that hold whatever happens, for checks and measured contacts.
struct FixedContact {
  double area_resistance = 0;   // [ohm m^2]
  double area_conductance = 0;  // [W/m^2/K]
};

// One touching surface: Cooper-Mikic-Yovanovich with a film on the true contact area
// (contact/contact.h), unless it is fixed.
struct Contact {
  double radius = 0;               // [m] of the touching face
  double roughness = 0;            // [m] combined r.m.s. height
  double slope = 0;                // [1] combined mean asperity slope
  double film_resistance = 0;      // [ohm m^2] on the true contact area at 293 K
  double film_decay = 400;         // [K] rise over which the film's resistance falls by e
  std::optional<double> hardness;  // [Pa] cold; default: the softer material's
  std::optional<FixedContact> fixed;

  bool yields() const { return !fixed; }  // touches where and as far as metal gives way
  bool bursts() const { return !fixed; }  // its bridges boil and throw off sparks
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
// "electrode", or the name of a sheet or an inner layer.
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
  std::vector<Sheet> sheets{{.name = "strip"},
                            {.name = "can"}};  // from the tip downwards, 2 or more
  std::vector<Contact> contacts{{},
                                {}};  // contacts[n] lies on sheets[n]: the tip's, then the joints
  bool on_can = true;                 // the lowest sheet is the wall of a cell, not a strip itself
  std::vector<InnerLayer> inner;
  Pressing pressing;
  Arrangement arrangement;
  circuit::Circuit circuit;
  Boundary boundary;
  WeldSequence sequence = {};
  std::optional<CellLimits> cell_limits;  // absent: no cell to protect (pure checks)
  std::vector<Probe> probes;
  Numerics numerics;

  // The sheet under the tip, the lowest one, and what is between tip and sheet.
  Sheet& top() { return sheets.front(); }
  const Sheet& top() const { return sheets.front(); }
  Sheet& base() { return sheets.back(); }
  const Sheet& base() const { return sheets.back(); }
  Contact& under_tip() { return contacts.front(); }
  const Contact& under_tip() const { return contacts.front(); }

  // The faying surfaces, where welds form: joint n lies between sheets[n] and sheets[n + 1].
  std::size_t joints() const { return sheets.size() - 1; }
  Contact& joint(std::size_t n) { return contacts[n + 1]; }
  const Contact& joint(std::size_t n) const { return contacts[n + 1]; }
  double stack_above(std::size_t sheet) const;  // [m] thickness of the sheets above this one
  double stack_height() const { return stack_above(sheets.size() - 1); }  // [m] of the tip's face
};

// "faying surface", or which of several: "strip 1 on strip 2".
std::string joint_name(const Problem&, std::size_t joint);

// Of sheets and inner layers together.
inline constexpr std::size_t most_parts = 200;

// Every complaint about a problem that no single key shows, in words; empty if it can be solved.
std::vector<std::string> complaints(const Problem&);

}  // namespace tabmelt
