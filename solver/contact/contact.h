// What one face of a touching surface conducts, electrically and thermally.
//
// Constriction law. Metal touches on the fraction `a` of the apparent area:
//
//   a = max over the past of min(1, P / H(T_spot))          (never shrinks under force)
//
//   g_c = 1.25 lambda_s (m/s) a^0.95,   h_c = 1.25 k_s (m/s) a^0.95
//
//   1/g = 1/g_c + r_film f / a,   f = min over the past of exp(-(T_spot - 293 K)/T_f)
//
//   T_spot^2 = T_bulk^2 + U^2 / (4 L)                       (Kohlrausch)
//
//   P      pressure on the face [Pa]      H   hardness of the softer side at the spot [Pa]
//   s, m   combined r.m.s. roughness [m] and mean slope [1]
//   lambda_s, k_s   harmonic mean conductivities of the two sides [S/m, W/m/K]; electrical at the
//          mean of bulk and spot temperature, thermal at the bulk temperature
//   U      voltage over the face [V]: U g(U) = |j|, the smallest root   j [A/m^2]
//   r_film film resistance on the true area at 293 K [ohm m^2]; f what heat has left of it: a film
//          that has broken or dissolved never heals
//   T_f    rise over which the film's resistance falls by e [K]
//   L      Sommerfeld's Lorenz number
//
// Sources: Cooper, Mikic, Yovanovich, Int. J. Heat Mass Transfer 12 (1969) 279 and Yovanovich
// (1982), plastic form; its electrical analogue, since a constriction is the same Laplace problem;
// Holm, Electric Contacts, 4th ed. (1967), psi-theta relation and film resistance. The fall of the
// film with temperature: contact resistances of bare steel drop to about a tenth between 20 and
// 450-600 C (Vogler & Sheppard, Weld. J. 72 (1993) 231-s; Babu et al., Sci. Technol. Weld. Join. 6
// (2001) 126; both from memory).
//
// Single spot. A tip touches over one face of radius b (contact/indentation.h), while the current
// field sees a face of radius b_f >= b: b itself, or the cold face under full force as long as the
// tip is still landing. Then b >= sqrt(F/(pi H(T_spot))), F = P pi b_f^2, and with
// s_a = a (b/b_f)^2, a = min(1, F/(pi b^2 H(T_spot))),
//
//   1/g = min(b_f^2/(b^2 g_c(a)), pi b_f^2 (rho_1 + rho_2)/(4 b_f sqrt(s_a))) + r_film f / s_a
//         + pi b_f^2 (rho_1 + rho_2)/4 (1/b - 1/b_f)
//
// the first bound being one spot that has all the true area, which many spots of that area never
// exceed, the last term the narrowing from b_f to b (Holm 1967, R = rho/(4b) a side): U is the
// whole voltage of the spot and bursting sees it.
//
// Merging: the share of the face where both surfaces are liquid becomes metal for good, with
// g = lambda_s / s and h = k_s / s (a layer as thick as the roughness, without constriction).
//
// Bursting: U cannot pass the boiling voltage of the softer side, 2 sqrt(L (T_b^2 - T_bulk^2)).
// There the bridge bursts: U stays, and only g_c U^2 of the power U j reaches the metal; the rest
// is expelled.
//
// Fixed law: g = 1/area_resistance, of 1e-16 ohm m^2 at least; h = area_conductance; nothing else.
#pragma once

#include "solver/material/material.h"
#include "solver/material/property_table.h"
#include "solver/phase_change/enthalpy.h"
#include "solver/problem/problem.h"

namespace tabmelt {

// What a face remembers.
struct ContactMemory {
  double true_fraction = 0;  // [1] a
  double film_left = 1;      // [1] f
  double merged = 0;         // [1]
};

// One moment of one face.
struct ContactMoment {
  double lower_temperature = 0;  // [K] surface below
  double upper_temperature = 0;  // [K] surface above
  double pressure = 0;           // [Pa]
  double current_density = 0;    // [A/m^2]
  double spot_radius = 0;        // [m] least b: so far, and by Hertz; only with field_radius
  double field_radius = 0;       // [m] b_f; 0: many spots
  // [1] most that a (many spots) or b^2 (one) may gain over the memory; 0: no bound. See growth in
  // coupling/spot_contacts.h.
  double growth = 0;
};

struct ContactAnswer {
  double g = 0;                 // [S/m^2]
  double h = 0;                 // [W/m^2/K]
  double voltage = 0;           // [V]
  double spot_temperature = 0;  // [K]
  double expelled_share = 0;    // [1] of the contact's power
  double spot_radius = 0;       // [m] b
  bool held_back = false;       // the bound on growth keeps a or b below what the force asks for
  ContactMemory memory;         // to keep if the step is accepted
};

// The two materials of a touching surface, lower one first.
struct ContactSide {
  const Material* material = nullptr;
  const PropertyTable* table = nullptr;
  const Enthalpy* enthalpy = nullptr;
};

class ContactModel {
 public:
  // Throws std::invalid_argument if the constriction law lacks a hardness.
  ContactModel(const Contact&, ContactSide lower, ContactSide upper);

  ContactAnswer answer(const ContactMoment&, const ContactMemory&) const;
  // Hardness [Pa] of the softer side at T; infinite under the fixed law. A stated cold hardness
  // scales the curves of both sides.
  double hardness(double T) const;
  // [1] stated over the softer material's own; 1 if none is stated.
  double stated_hardness() const { return stated_hardness_; }
  const Contact& contact() const { return contact_; }

 private:
  struct Conductance {
    double g, g_metal, true_fraction, film_left, spot, radius;
    bool held_back;
  };
  struct Power;
  Conductance conductance(double voltage, double bulk, const ContactMoment&, const ContactMemory&,
                          Power&) const;

  Contact contact_;
  ContactSide lower_, upper_;
  double stated_hardness_ = 1;  // [1] over the materials' own
  double boiling_ = 0;          // [K]
};

}  // namespace tabmelt
