// What a face remembers: true area, broken film, merging; and what happens where the bridge bursts.
// Catches: a contact that recovers on cooling, a film that grows again, burst power that vanishes
// from the books.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "solver/contact/contact.h"
#include "solver/material/constants.h"
#include "tests/support/near.h"

namespace tabmelt {
namespace {

// Round numbers near nickel, soft when hot.
Material strip_metal() {
  Material m;
  m.name = "strip metal";
  m.density = 8900;
  m.specific_heat = Curve::constant(500);
  m.thermal_conductivity = Curve::constant(80);
  m.resistivity = {{293.15, 1728}, {7e-8, 5.6e-7}};
  m.melting = Melting{1723, 1733, 298000};
  m.boiling = Boiling{3186, 6.4e6};
  m.hardness = 1.5e9;
  m.hardness_ratio = {{293.15, 1723}, {1, 0.05}};
  m.softening_temperature = 793;
  return m;
}

struct Joint {
  Material metal = strip_metal();
  PropertyTable table{metal};
  Enthalpy enthalpy{metal};
  ContactModel model;
  explicit Joint(const Contact& c)
      : model(c, {&metal, &table, &enthalpy}, {&metal, &table, &enthalpy}) {}
  Joint(const Joint&) = delete;
};

Contact filmed() {
  Contact c;
  c.fixed.reset();
  c.radius = 0.75e-3;
  c.roughness = 1e-6;
  c.slope = 0.1;
  c.film_resistance = 5e-12;
  return c;
}

TEST(ContactMemory, true_area_never_shrinks) {
  const Joint joint(filmed());
  ContactMemory memory;
  double area = 0;
  // Up and down in force, temperature and current.
  for (int n = 0; n < 200; ++n) {
    const double wave = std::sin(0.3 * n), other = std::cos(0.17 * n);
    const ContactMoment moment{700 + 500 * wave, 700 + 400 * other, 1e7 * (1.2 + other),
                               2e8 * std::abs(wave * other)};
    memory = joint.model.answer(moment, memory).memory;
    EXPECT_GE(memory.true_fraction, area);
    EXPECT_LE(memory.true_fraction, 1);
    area = memory.true_fraction;
  }
  EXPECT_GT(area, 2.2e7 / 1.5e9);
}

// Round by round, each gaining at most its share, to the very area that the force asks for.
TEST(ContactMemory, bounded_growth_comes_to_the_unbounded_area) {
  const Joint joint(filmed());
  constexpr double growth = 0.05;
  for (const double field_radius : {0.0, 0.3e-3}) {
    ContactMoment cold{293.15, 293.15, 1e7, 0}, hot{1200, 1200, 1e7, 0};
    cold.field_radius = hot.field_radius = field_radius;
    const ContactAnswer pressed = joint.model.answer(cold, {});
    ContactMoment bounded = hot;
    bounded.spot_radius = hot.spot_radius = pressed.spot_radius;
    const ContactAnswer wanted = joint.model.answer(hot, pressed.memory);
    EXPECT_FALSE(wanted.held_back);
    ASSERT_GT(wanted.memory.true_fraction, 2 * pressed.memory.true_fraction);
    bounded.growth = growth;
    ContactMemory memory = pressed.memory;
    double area = memory.true_fraction;
    int rounds = 0;
    for (bool held = true; held && rounds < 100; ++rounds) {
      const ContactAnswer answer = joint.model.answer(bounded, memory);
      held = answer.held_back;
      if (held) {
        EXPECT_NEAR_RELATIVE(answer.memory.true_fraction, (1 + growth) * area, 1e-12);
      }
      area = answer.memory.true_fraction;
      memory.true_fraction = area;
      bounded.spot_radius = answer.spot_radius;
    }
    const double ratio = wanted.memory.true_fraction / pressed.memory.true_fraction;
    EXPECT_EQ(rounds, static_cast<int>(std::ceil(std::log(ratio) / std::log(1 + growth))));
    EXPECT_NEAR_RELATIVE(area, wanted.memory.true_fraction, 1e-12);
  }
}

TEST(ContactMemory, film_fades_with_temperature_and_never_heals) {
  const Joint joint(filmed());
  const auto left = [&](double T, const ContactMemory& m) {
    return joint.model.answer({T, T, 1e7, 0}, m).memory;
  };
  EXPECT_EQ(left(293, {}).film_left, 1);
  const ContactMemory warm = left(693.15, {});  // one decay of 400 K above 293.15 K
  EXPECT_NEAR_RELATIVE(warm.film_left, std::exp(-1), 1e-9);
  const ContactMemory cooled = left(300, warm);
  EXPECT_EQ(cooled.film_left, warm.film_left);
  // A cold contact that was hot conducts better than one that was not: wider, and with less film.
  EXPECT_GT(joint.model.answer({300, 300, 1e7, 0}, cooled).g,
            joint.model.answer({300, 300, 1e7, 0}, {}).g);
}

TEST(ContactMemory, molten_on_both_sides_merges_for_good) {
  const Joint joint(filmed());
  EXPECT_EQ(joint.model.answer({1800, 1500, 1e7, 0}, {}).memory.merged, 0);
  EXPECT_EQ(joint.model.answer({1500, 1800, 1e7, 0}, {}).memory.merged, 0);
  EXPECT_DOUBLE_EQ(joint.model.answer({1728, 1800, 1e7, 0}, {}).memory.merged, 0.5);
  const ContactMemory merged = joint.model.answer({1800, 1800, 1e7, 0}, {}).memory;
  EXPECT_EQ(merged.merged, 1);
  // Cold again and without force it conducts like metal as thick as the roughness.
  const ContactAnswer cold = joint.model.answer({293.15, 293.15, 0, 1e8}, merged);
  EXPECT_NEAR_RELATIVE(cold.g, 1 / 7e-8 / 1e-6, 1e-2);
  EXPECT_NEAR_RELATIVE(cold.h, 80 / 1e-6, 1e-9);
}

TEST(ContactMemory, only_an_accepted_answer_is_remembered) {
  const Joint joint(filmed());
  const ContactMemory memory;
  const double before = joint.model.answer({300, 300, 1e7, 0}, memory).g;
  joint.model.answer({1900, 1900, 5e7, 0}, memory);
  EXPECT_EQ(joint.model.answer({300, 300, 1e7, 0}, memory).g, before);
}

// The bridge holds the boiling voltage 2 sqrt(L (T_b^2 - T_bulk^2)), 0.991 V for a cold joint of
// this metal (Kohlrausch relation at 3186 K).
TEST(ContactMemory, burst_holds_the_boiling_voltage_and_expels_the_rest) {
  const Joint joint(filmed());
  const double bulk = 293.15;
  const double limit = 2 * std::sqrt(constants::lorenz * (3186.0 * 3186 - bulk * bulk));
  EXPECT_NEAR(limit, 0.992, 1e-3);
  // Hardly any force: any current bursts it.
  const double j = 1e10;
  const ContactAnswer a = joint.model.answer({bulk, bulk, 1e4, j}, {});
  EXPECT_NEAR_RELATIVE(a.voltage, limit, 1e-12);
  EXPECT_NEAR_RELATIVE(a.g, j / limit, 1e-12);
  EXPECT_GT(a.expelled_share, 0);
  EXPECT_LT(a.expelled_share, 1);
  EXPECT_NEAR_RELATIVE(a.spot_temperature, 3186, 1e-9);
  // Twice the current through the same bridge: what reaches the metal stays the same.
  const ContactAnswer b = joint.model.answer({bulk, bulk, 1e4, 2 * j}, {});
  EXPECT_NEAR_RELATIVE((1 - b.expelled_share) * 2 * j, (1 - a.expelled_share) * j, 1e-9);
}

TEST(ContactMemory, voltage_never_passes_the_boiling_voltage) {
  const Joint joint(filmed());
  for (const double T : {293.15, 1000.0, 2500.0, 3100.0}) {
    const double limit = 2 * std::sqrt(constants::lorenz * (3186.0 * 3186 - T * T));
    for (double j = 1e6; j < 1e12; j *= 3)
      EXPECT_LE(joint.model.answer({T, T, 1e6, j}, {}).voltage, limit * (1 + 1e-12));
  }
}

TEST(ContactMemory, firm_contact_does_not_burst) {
  const Joint joint(filmed());
  const ContactAnswer a = joint.model.answer({293.15, 293.15, 1e7, 3e8}, {});
  EXPECT_EQ(a.expelled_share, 0);
  EXPECT_LT(a.voltage, 0.5);
}

// A hot spot softens: at the same force more current meets a wider true contact.
TEST(ContactMemory, spot_softened_by_its_voltage_widens_the_contact) {
  const Joint joint(filmed());
  const double cold = joint.model.answer({293.15, 293.15, 1e7, 1e6}, {}).memory.true_fraction;
  double before = cold;
  for (const double j : {1e8, 3e8, 1e9}) {
    const double area = joint.model.answer({293.15, 293.15, 1e7, j}, {}).memory.true_fraction;
    EXPECT_GT(area, before);
    before = area;
  }
}

}  // namespace
}  // namespace tabmelt
