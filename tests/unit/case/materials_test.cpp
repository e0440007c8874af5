// What must hold for every material file that is shipped, and how materials are found and changed.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "solver/phase_change/enthalpy.h"
#include "tests/unit/case/sample_cases.h"

namespace tabmelt::testing {
namespace {

std::vector<std::string> shipped_names() {
  std::vector<std::string> names;
  const auto folder = std::filesystem::path(TABMELT_SOURCE_DIR) / "cases" / "materials";
  for (const auto& entry : std::filesystem::directory_iterator(folder))
    if (entry.path().extension() == ".toml") names.push_back(entry.path().stem().string());
  return names;
}

// As a layer, where any material may stand.
MaterialPtr shipped(const std::string& name) {
  const Case read_in = read(pure_check + "[[layer]]\nname = \"it\"\nmaterial = \"" + name +
                            "\"\nthickness = \"1 mm\"\n");
  return read_in.problem.inner.at(0).material;
}

void expect_sound(const Curve& curve, const std::string& what, double lowest, double highest) {
  ASSERT_EQ(curve.temperature.size(), curve.value.size()) << what;
  for (std::size_t n = 0; n < curve.value.size(); ++n) {
    EXPECT_GE(curve.value[n], lowest) << what << " at " << curve.temperature[n] << " K";
    EXPECT_LE(curve.value[n], highest) << what << " at " << curve.temperature[n] << " K";
    if (n > 0) {
      EXPECT_GT(curve.temperature[n], curve.temperature[n - 1]) << what;
    }
  }
}

TEST(Materials, there_are_all_that_cases_need) {
  const auto names = shipped_names();
  EXPECT_GE(names.size(), 17u);
}

TEST(Materials, every_shipped_one_is_sound) {
  for (const std::string& name : shipped_names()) {
    SCOPED_TRACE(name);
    MaterialPtr m;
    ASSERT_NO_THROW(m = shipped(name));
    EXPECT_EQ(m->name, name);
    EXPECT_FALSE(m->description.empty());
    // From still air to tungsten.
    EXPECT_GT(m->density, 1);
    EXPECT_LT(m->density, 20000);
    expect_sound(m->specific_heat, "specific heat", 100, 5000);
    expect_sound(m->specific_heat_liquid, "specific heat, liquid", 100, 5000);
    expect_sound(m->thermal_conductivity, "thermal conductivity", 0.02, 450);
    expect_sound(m->thermal_conductivity_liquid, "thermal conductivity, liquid", 0.02, 450);
    expect_sound(m->resistivity, "resistivity", 1e-8, 2e-6);
    expect_sound(m->resistivity_liquid, "resistivity, liquid", 1e-8, 2e-6);
    expect_sound(m->hardness_ratio, "hardness ratio", 0.005, 1);
    for (std::size_t n = 1; n < m->hardness_ratio.value.size(); ++n)
      EXPECT_LE(m->hardness_ratio.value[n], m->hardness_ratio.value[n - 1]);
    for (const PropertySource& s : m->sources) {
      EXPECT_GT(s.source.size(), 8u) << s.property;
      EXPECT_FALSE(contains(s.source, "set in the case")) << s.property;
    }
    EXPECT_GE(m->sources.size(), 3u);
    if (m->conducts_current()) {
      EXPECT_TRUE(m->melting && m->hardness && m->softening_temperature && m->tensile_strength);
      EXPECT_FALSE(m->hardness_ratio.empty());
    }
  }
}

// From the deep cold to beyond boiling: enthalpy rises, its inverse comes back to 1e-10, and all
// conductivities are positive.
TEST(Materials, enthalpy_rises_and_comes_back) {
  for (const std::string& name : shipped_names()) {
    const MaterialPtr m = shipped(name);
    const Enthalpy law(*m);
    double before = law.at(199);
    const double highest = m->boiling ? m->boiling->temperature + 500 : 4000;
    std::vector<double> temperatures;
    for (double T = 200; T < highest; T += 3.3) temperatures.push_back(T);
    for (const Curve* curve : {&m->specific_heat, &m->specific_heat_liquid})
      for (const double T : curve->temperature) temperatures.push_back(T);
    if (m->melting) {
      temperatures.push_back(law.solidus());
      temperatures.push_back(law.liquidus());
    }
    std::sort(temperatures.begin(), temperatures.end());
    temperatures.erase(std::unique(temperatures.begin(), temperatures.end()), temperatures.end());
    for (const double T : temperatures) {
      if (T < 200) continue;
      const double H = law.at(T);
      EXPECT_GT(H, before) << name << " at " << T << " K";
      EXPECT_NEAR(law.temperature(H), T, 1e-10 * T) << name;
      EXPECT_GT(law.heat_capacity(H), 0) << name << " at " << T << " K";
      EXPECT_GT(m->conductivity_z(T), 0) << name << " at " << T << " K";
      EXPECT_GT(m->conductivity_r(T), 0) << name << " at " << T << " K";
      if (m->conducts_current()) {
        EXPECT_GT(m->resistivity_at(T), 0) << name << " at " << T << " K";
      }
      if (m->hardness) {
        EXPECT_GT(m->hardness_at(T), 0) << name << " at " << T << " K";
      }
      before = H;
    }
  }
}

// Nothing jumps where a curve begins or ends, nor from solid to liquid: between solidus and
// liquidus the phases blend. A metal with one melting point is as discontinuous as nature has it
// there.
TEST(Materials, nothing_jumps_at_the_ends_of_a_curve) {
  for (const std::string& name : shipped_names()) {
    const MaterialPtr m = shipped(name);
    std::vector<double> ends;
    for (const Curve* curve : {&m->specific_heat, &m->specific_heat_liquid,
                               &m->thermal_conductivity, &m->thermal_conductivity_liquid,
                               &m->resistivity, &m->resistivity_liquid, &m->hardness_ratio})
      if (!curve->empty()) {
        ends.push_back(curve->lowest_temperature());
        ends.push_back(curve->highest_temperature());
      }
    if (m->melting) {
      ends.push_back(m->melting->solidus);
      ends.push_back(m->melting->liquidus);
    }
    for (const double T : ends) {
      if (m->melting && m->melting->solidus == m->melting->liquidus &&
          std::abs(T - m->melting->solidus) < 1)
        continue;
      const double d = 1e-6;
      const auto expect_continuous = [&](auto value, const char* what) {
        EXPECT_NEAR(value(T - d), value(T + d), 1e-4 * value(T))
            << name << ", " << what << " at " << T;
      };
      expect_continuous([&](double at) { return m->conductivity_z(at); }, "conductivity");
      if (m->conducts_current())
        expect_continuous([&](double at) { return m->resistivity_at(at); }, "resistivity");
      if (m->hardness) expect_continuous([&](double at) { return m->hardness_at(at); }, "hardness");
    }
  }
}

// Wiedemann-Franz: k rho/T of a metal lies near the Sommerfeld value 2.44e-8 V^2/K^2 (Ashcroft &
// Mermin, Solid State Physics, 1976); 304 exceeds it cold because its lattice conducts as well.
// Liquids too, where the file has both of their curves.
TEST(Materials, metals_follow_wiedemann_franz) {
  for (const std::string& name : shipped_names()) {
    const MaterialPtr m = shipped(name);
    if (!m->conducts_current()) continue;
    const auto lorenz = [&](double T) { return m->conductivity_z(T) * m->resistivity_at(T) / T; };
    for (double T = 293.15; T < m->melting->solidus - 1; T += 20) {
      EXPECT_GT(lorenz(T), 1.8e-8) << name << " at " << T << " K";
      EXPECT_LT(lorenz(T), name == "stainless-304" ? 3.8e-8 : 3.4e-8)
          << name << " at " << T << " K";
    }
    if (m->resistivity_liquid.empty() || m->thermal_conductivity_liquid.empty()) continue;
    for (const double T : {m->melting->liquidus + 1, m->melting->liquidus + 200}) {
      EXPECT_GT(lorenz(T), 1.8e-8) << name << ", liquid, at " << T << " K";
      EXPECT_LT(lorenz(T), 3.4e-8) << name << ", liquid, at " << T << " K";
    }
  }
}

TEST(Materials, linear_law_goes_straight_on) {
  const MaterialPtr m = read(pure_check).problem.top().material;
  for (const double T : {250.0, 293.15, 1000.0, 1728.0, 3000.0, 4000.0}) {
    const double law = 7e-8 * (1 + 0.006 * (T - 293.15));
    EXPECT_NEAR(m->resistivity.at(T), law, 1e-12 * law) << T;
  }
  EXPECT_TRUE(m->resistivity_liquid.empty());
  EXPECT_EQ(m->melting->solidus, m->melting->liquidus);
}

TEST(Materials, base_is_taken_except_what_is_changed) {
  const Case opposed = read(opposed_battery);
  const MaterialPtr soft = opposed.problem.top().material;
  const MaterialPtr base = shipped("nickel-200");
  EXPECT_EQ(soft->name, "soft-nickel");
  EXPECT_DOUBLE_EQ(soft->hardness.value(), 0.85e9);
  EXPECT_DOUBLE_EQ(base->hardness.value(), 1.5e9);
  EXPECT_EQ(soft->resistivity.value, base->resistivity.value);
  EXPECT_EQ(soft->density, base->density);
}

TEST(Materials, shipped_one_may_be_changed_under_its_own_name) {
  const Case changed = read(pure_check +
                            "[[layer]]\nname = \"x\"\nmaterial = \"copper\"\nthickness = \"1 mm\"\n"
                            "[materials.copper]\nbase = \"copper\"\ndensity = \"9000 kg/m3\"\n");
  EXPECT_DOUBLE_EQ(changed.problem.inner.at(0).material->density, 9000);
  EXPECT_GT(changed.problem.inner.at(0).material->specific_heat.value.size(), 5u);
}

TEST(Materials, circles_and_missing_bases_are_complaints) {
  const auto circle =
      complaints_about(pure_check + "[materials.a]\nbase = \"b\"\n[materials.b]\nbase = \"a\"\n");
  ASSERT_FALSE(circle.empty());
  EXPECT_TRUE(contains(circle[0].message, "based on itself")) << circle[0].message;
  const auto missing = complaints_about(pure_check + "[materials.a]\nbase = \"nickel-20\"\n");
  ASSERT_EQ(missing.size(), 1u);
  EXPECT_TRUE(contains(missing[0].message, "did you mean \"nickel-200\"")) << missing[0].message;
}

const std::string plated_copper = R"([[layer]]
name = "x"
material = "copper-strip"
thickness = "0.1 mm"
[materials.copper-strip]
base = "copper"
plating = { material = "nickel-200", thickness = "5 um", sheet = "0.10 mm" }
)";

TEST(Materials, may_be_plated) {
  const Case once = read(pure_check + plated_copper);
  const MaterialPtr m = once.problem.inner.at(0).material;
  const MaterialPtr copper = shipped("copper"), nickel = shipped("nickel-200");
  EXPECT_EQ(m->name, "copper-strip");
  EXPECT_NEAR(1 / m->resistivity_at(293.15),
              0.95 / copper->resistivity_at(293.15) + 0.05 / nickel->resistivity_at(293.15), 1);
  EXPECT_EQ(*m->hardness, *nickel->hardness);
  EXPECT_EQ(m->melting->solidus, copper->melting->solidus);
  const MaterialPtr again = read(once.full_text).problem.inner.at(0).material;
  EXPECT_EQ(again->resistivity.value, m->resistivity.value);
  EXPECT_EQ(again->radial_conductivity_ratio, m->radial_conductivity_ratio);
}

// The shipped strip of plated steel was worked out by hand the same way, from a steel of 0.06 % C.
TEST(Materials, plated_steel_is_steel_with_a_skin) {
  const std::string text =
      with(with(plated_copper, "base = \"copper\"", "base = \"low-carbon-steel\""), "0.10 mm",
           "0.15 mm");
  const MaterialPtr m = read(pure_check + text).problem.inner.at(0).material;
  const MaterialPtr shipped_one = shipped("nickel-plated-steel");
  EXPECT_NEAR(m->resistivity_at(293.15) / shipped_one->resistivity_at(293.15), 1, 0.02);
  EXPECT_EQ(m->melting->solidus, shipped_one->melting->solidus);
}

TEST(Materials, impossible_plating_is_a_complaint) {
  const auto complaint = [](const std::string& what, const std::string& instead) {
    const auto list = complaints_about(pure_check + with(plated_copper, what, instead));
    EXPECT_FALSE(list.empty()) << instead;
    return list.empty() ? "" : list[0].message;
  };
  EXPECT_TRUE(contains(complaint("5 um", "0.2 mm"), "below that of the sheet"));
  EXPECT_TRUE(contains(complaint("5 um", "5 V"), "plating"));
  EXPECT_TRUE(contains(complaint("nickel-200", "copper-strip"), "plated with itself"));
  EXPECT_TRUE(contains(complaint("nickel-200", "nickel-20"), "did you mean"));
  EXPECT_TRUE(contains(complaint("nickel-200", "air"), "both conduct"));
  EXPECT_TRUE(contains(complaint(", sheet = \"0.10 mm\"", ""), "three texts"));
}

}  // namespace
}  // namespace tabmelt::testing
