// The contacts of a case that says nothing about them: cold resistance per contact at 20 N.
//
// Band: 0.04 mohm, clean surfaces by the formula of Cooper, Mikic and Yovanovich, Int. J. Heat Mass
// Transfer 12 (1969) 279, to 0.6 mohm, a single spot as wide as plastic flow makes it, 0.886 rho
// sqrt(H/F) (Holm, Electric Contacts, 4th ed. (1967)); both worked out for nickel on steel with a
// hardness of 1.5 GPa.
// Catches: defaults in the wrong unit, a default that only looks like one.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "io/case/read_case.h"
#include "mesh/axisymmetric_grid.h"
#include "solver/contact/contact.h"

namespace tabmelt {
namespace {

Problem plain_case() {
  return read_case_text(R"(
title = "flat tips, nothing said about contacts"
[cell]
size = "18650"
end = "negative bottom"
[strip]
material = "nickel-200"
thickness = "0.15 mm"
[electrode]
material = "copper-chromium-zirconium"
tip_diameter = "1.5 mm"
[pressing]
force = "20 N"
[source]
kind = "exponential current"
peak = "600 A"
time_constant = "1.5 ms"
)",
                        std::filesystem::path(TABMELT_SOURCE_DIR) / "cases" / "plain.toml")
      .problem;
}

struct Side {
  PropertyTable table;
  Enthalpy enthalpy;
  const Material* material;
  explicit Side(const Material& m) : table(m), enthalpy(m), material(&m) {}
  ContactSide view() const { return {material, &table, &enthalpy}; }
};

double cold_resistance(const Contact& contact, const Material& lower, const Material& upper) {
  const Side below(lower), above(upper);
  const ContactModel model(contact, below.view(), above.view());
  const double area = mesh::AxisymmetricGrid::disc_area(contact.radius);
  return 1 / (model.answer({293.15, 293.15, 20 / area, 0}, {}).g * area);
}

TEST(default_contact, lies_inside_the_published_band) {
  const Problem p = plain_case();
  const double tip = cold_resistance(p.tip_contact, *p.strip.material, *p.electrode.material);
  const double faying = cold_resistance(p.faying_contact, *p.can.material, *p.strip.material);
  RecordProperty("tip_microohm", static_cast<int>(tip * 1e6));
  RecordProperty("faying_microohm", static_cast<int>(faying * 1e6));
  for (const double resistance : {tip, faying}) {
    EXPECT_GE(resistance, 0.04e-3);
    EXPECT_LE(resistance, 0.6e-3);
  }
}

// What is meant by it: the geometric middle of that band, 0.15 mohm, and up to twice that.
TEST(default_contact, faying_contact_is_near_the_middle) {
  const Problem p = plain_case();
  const double faying = cold_resistance(p.faying_contact, *p.can.material, *p.strip.material);
  EXPECT_GE(faying, 0.1e-3);
  EXPECT_LE(faying, 0.3e-3);
}

}  // namespace
}  // namespace tabmelt
