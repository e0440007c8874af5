// The contact laws of one face against hand-computed values and what must hold for any of them.
// Catches: a wrong power of pressure, r.m.s. and slope swapped, the voltage measured at the wrong
// temperature, a fixed law that listens to force.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "solver/contact/contact.h"
#include "solver/material/constants.h"
#include "tests/support/near.h"

namespace tabmelt {
namespace {

using std::numbers::pi;
constexpr double cold = 293.15;

Material metal(double rho_e, double k, double hardness) {
  Material m;
  m.name = "metal";
  m.density = 8000;
  m.specific_heat = Curve::constant(500);
  m.thermal_conductivity = Curve::constant(k);
  m.resistivity = Curve::constant(rho_e);
  m.hardness = hardness;
  return m;
}

// A touching pair and everything the model needs of it.
struct Pair {
  Material lower, upper;
  PropertyTable lower_table, upper_table;
  Enthalpy lower_enthalpy, upper_enthalpy;
  ContactModel model;
  Pair(Material a, Material b, Contact contact)
      : lower(std::move(a)),
        upper(std::move(b)),
        lower_table(lower),
        upper_table(upper),
        lower_enthalpy(lower),
        upper_enthalpy(upper),
        model(contact, {&lower, &lower_table, &lower_enthalpy},
              {&upper, &upper_table, &upper_enthalpy}) {}
  Pair(const Pair&) = delete;
};

Contact constriction(double roughness, double slope, double film = 0) {
  Contact c;
  c.fixed.reset();
  c.radius = 0.75e-3;
  c.roughness = roughness;
  c.slope = slope;
  c.film_resistance = film;
  return c;
}

// g = 1.25 lambda_s (m/sigma) (P/H)^0.95, the electrical analogue of the plastic contact
// conductance of Cooper, Mikic, Yovanovich, Int. J. Heat Mass Transfer 12 (1969) 279. Nickel on
// iron, worked by hand from it: rho_e 7.0e-8 and 9.8e-8 ohm m, sigma 1 um, m 0.1, H 1.5 GPa, round
// tip of 1.5 mm: 10, 20 and 50 N give 76, 40 and 17 uohm.
TEST(ContactLaws, constriction_has_the_hand_computed_resistance) {
  const Pair pair(metal(9.8e-8, 75, 1.5e9), metal(7.0e-8, 90, 1.5e9), constriction(1e-6, 0.1));
  const double area = pi * 0.75e-3 * 0.75e-3;
  const struct { double force, resistance; } rows[] = {{10, 76e-6}, {20, 40e-6}, {50, 17e-6}};
  for (const auto& row : rows) {
    const ContactAnswer a = pair.model.answer({cold, cold, row.force / area, 0}, {});
    EXPECT_NEAR_RELATIVE(1 / (a.g * area), row.resistance, 0.05) << row.force;
    // The same formula, written out.
    const double lambda = 2 / (9.8e-8 + 7.0e-8);
    const double exact = 1.25 * lambda * 0.1 / 1e-6 * std::pow(row.force / area / 1.5e9, 0.95);
    EXPECT_NEAR_RELATIVE(a.g, exact, 1e-12);
    const double k = 2 * 75.0 * 90.0 / (75 + 90);
    EXPECT_NEAR_RELATIVE(a.h, exact * k / lambda, 1e-12);
  }
}

// One spot of radius b inside the face of radius b_f on which the grid lets current enter: the
// spot's own constriction, Holm's (rho_1 + rho_2)/4 (1/b - 1/b_f), comes on top of the rough touch
// of b, 1.25 lambda_s (m/sigma) over its area. Worked by hand: 2 N at 1 GPa give b = 25.2 um.
TEST(ContactLaws, one_spot_inside_its_face_narrows_the_current) {
  const double rho1 = 9.8e-8, rho2 = 7.0e-8, force = 2, face = 1e-4;
  const Pair pair(metal(rho1, 75, 1e9), metal(rho2, 90, 1.5e9), constriction(1e-6, 0.1));
  ContactMoment moment;
  moment.lower_temperature = moment.upper_temperature = cold;
  moment.pressure = force / (pi * face * face);
  moment.field_radius = face;
  const ContactAnswer a = pair.model.answer(moment, {});
  const double b = std::sqrt(force / (pi * 1e9));
  EXPECT_NEAR_RELATIVE(a.spot_radius, b, 1e-12);
  EXPECT_NEAR(b, 25.2e-6, 0.05e-6);
  const double narrowing = (rho1 + rho2) / 4 * (1 / b - 1 / face);
  const double touch = 1 / (1.25 * 2 / (rho1 + rho2) * 0.1 / 1e-6 * pi * b * b);
  EXPECT_NEAR_RELATIVE(1 / (a.g * pi * face * face), narrowing + touch, 1e-12);
  EXPECT_GT(narrowing, touch);
  // Less true area than the spot's: as many spots as one, never more resistance than one of it.
  ContactMoment light = moment;
  light.spot_radius = 2 * b;
  const double one = (rho1 + rho2) / (4 * b);
  const double many =
      1 / (1.25 * 2 / (rho1 + rho2) * 0.1 / 1e-6 * 4 * pi * b * b * std::pow(0.25, 0.95));
  EXPECT_NEAR_RELATIVE(1 / (pair.model.answer(light, {}).g * pi * face * face),
                       std::min(one, many) + (rho1 + rho2) / 4 * (0.5 / b - 1 / face), 1e-12);
  // A spot as wide as its face narrows nothing.
  moment.field_radius = b;
  moment.pressure = 1e9;
  EXPECT_NEAR_RELATIVE(1 / (pair.model.answer(moment, {}).g * pi * b * b), touch, 1e-9);
}

TEST(ContactLaws, conductance_grows_as_force_to_the_0_95) {
  const Pair pair(metal(1.4e-7, 60, 1.5e9), metal(7.0e-8, 90, 2e9), constriction(1e-6, 0.1));
  const double one = pair.model.answer({cold, cold, 5e6, 0}, {}).g;
  const double ten = pair.model.answer({cold, cold, 50e6, 0}, {}).g;
  EXPECT_NEAR_RELATIVE(std::log10(ten / one), 0.95, 1e-12);
}

TEST(ContactLaws, the_softer_side_sets_the_true_area) {
  const Pair pair(metal(1e-7, 60, 2e9), metal(1e-7, 60, 0.8e9), constriction(1e-6, 0.1));
  const ContactAnswer a = pair.model.answer({cold, cold, 8e6, 0}, {});
  EXPECT_NEAR_RELATIVE(a.memory.true_fraction, 8e6 / 0.8e9, 1e-12);
  EXPECT_EQ(pair.model.hardness(cold), 0.8e9);
}

TEST(ContactLaws, stated_hardness_replaces_the_softer_sides) {
  Contact c = constriction(1e-6, 0.1);
  c.hardness = 3e9;
  const Pair pair(metal(1e-7, 60, 2e9), metal(1e-7, 60, 0.8e9), c);
  EXPECT_NEAR_RELATIVE(pair.model.answer({cold, cold, 9e6, 0}, {}).memory.true_fraction, 3e-3,
                       1e-12);
}

// Stating the softer side's own hardness changes nothing, whichever side is softer when hot.
TEST(ContactLaws, stating_the_default_hardness_changes_nothing) {
  Material first = metal(1e-7, 60, 1.6e9), second = metal(1e-7, 60, 1.5e9);
  first.hardness_ratio = {{293, 1300}, {1, 0.1}};   // softer when hot
  second.hardness_ratio = {{293, 1700}, {1, 0.1}};  // softer when cold
  Contact stated = constriction(1e-6, 0.1);
  stated.hardness = 1.5e9;
  const Pair own(first, second, constriction(1e-6, 0.1)), told(first, second, stated);
  for (double T = 293; T < 1800; T += 50) EXPECT_EQ(own.model.hardness(T), told.model.hardness(T));
}

// Film on the true contact area, in series: 1/g = 1/g_c + r_film/a (Holm, Electric Contacts,
// 4th ed. (1967)).
TEST(ContactLaws, film_lies_in_series_on_the_true_area) {
  const Pair clean(metal(1e-7, 60, 1e9), metal(1e-7, 60, 1e9), constriction(1e-6, 0.1));
  const Pair filmed(metal(1e-7, 60, 1e9), metal(1e-7, 60, 1e9), constriction(1e-6, 0.1, 3e-12));
  const ContactMoment moment{cold, cold, 1e7, 0};
  const double a = 1e7 / 1e9;
  EXPECT_NEAR_RELATIVE(1 / filmed.model.answer(moment, {}).g - 1 / clean.model.answer(moment, {}).g,
                       3e-12 / a, 1e-9);
  EXPECT_EQ(filmed.model.answer(moment, {}).h, clean.model.answer(moment, {}).h);
}

// T_spot^2 = T_bulk^2 + U^2/(4 L) (Kohlrausch, Ann. Phys. 306 (1900) 132): 0.1 V at 300 K bulk give
// 438.6 K.
TEST(ContactLaws, spot_is_as_hot_as_its_voltage_says) {
  const Pair pair(metal(1e-7, 60, 1e9), metal(1e-7, 60, 1e9), constriction(1e-6, 0.1, 1e-10));
  for (const double j : {1e7, 1e8, 5e8}) {
    const ContactAnswer a = pair.model.answer({290, 310, 1e7, j}, {});
    EXPECT_GT(a.voltage, 0);
    EXPECT_NEAR_RELATIVE(a.spot_temperature * a.spot_temperature,
                         300.0 * 300 + a.voltage * a.voltage / (4 * constants::lorenz), 1e-9);
  }
  EXPECT_NEAR(std::sqrt(300.0 * 300 + 0.01 / (4 * constants::lorenz)), 438.557873, 1e-5);
}

TEST(ContactLaws, voltage_times_conductance_is_the_current) {
  Material soft = metal(1e-7, 60, 1e9);
  soft.resistivity = {{293.15, 1500}, {7e-8, 5e-7}};
  soft.hardness_ratio = {{293.15, 1500}, {1, 0.1}};
  soft.melting = Melting{1720, 1730, 3e5};
  const Pair pair(soft, metal(1.7e-8, 390, 1.2e9), constriction(1e-6, 0.1, 2e-12));
  for (double j = 1e6; j < 1e10; j *= 1.7) {
    const ContactAnswer a = pair.model.answer({400, 500, 2e7, j}, {});
    if (a.expelled_share > 0) continue;
    EXPECT_NEAR_RELATIVE(a.voltage * a.g, j, 1e-5) << j;
  }
}

TEST(ContactLaws, current_either_way_is_the_same) {
  const Pair pair(metal(1e-7, 60, 1e9), metal(7e-8, 90, 1e9), constriction(1e-6, 0.1, 1e-11));
  const ContactAnswer there = pair.model.answer({300, 400, 1e7, 3e8}, {});
  const ContactAnswer back = pair.model.answer({300, 400, 1e7, -3e8}, {});
  EXPECT_EQ(there.g, back.g);
  EXPECT_EQ(there.voltage, back.voltage);
}

TEST(ContactLaws, fixed_law_is_what_it_was_told) {
  Contact c;
  c.fixed.emplace();
  c.radius = 1e-3;
  c.fixed->area_resistance = 2e-9;
  c.fixed->area_conductance = 1e5;
  Material m = metal(1e-7, 60, 1e9);
  m.hardness.reset();  // not needed
  const Pair pair(m, m, c);
  for (const double j : {0.0, 1e8}) {
    for (const double pressure : {0.0, 1e8}) {
      const ContactAnswer a = pair.model.answer({300, 1500, pressure, j}, {});
      EXPECT_DOUBLE_EQ(a.g, 5e8);
      EXPECT_EQ(a.h, 1e5);
      EXPECT_DOUBLE_EQ(a.voltage, j / 5e8);
      EXPECT_EQ(a.expelled_share, 0);
    }
  }
}

TEST(ContactLaws, constriction_without_any_hardness_is_refused) {
  Material m = metal(1e-7, 60, 1e9);
  m.hardness.reset();
  EXPECT_THROW(Pair(m, m, constriction(1e-6, 0.1)), std::invalid_argument);
}

TEST(ContactLaws, nothing_touches_without_pressure) {
  const Pair pair(metal(1e-7, 60, 1e9), metal(1e-7, 60, 1e9), constriction(1e-6, 0.1));
  EXPECT_EQ(pair.model.answer({cold, cold, 0, 0}, {}).g, 0);
}

}  // namespace
}  // namespace tabmelt
