// Quantities as people type them. Conversion factors are exact by definition (SI brochure, 9th
// ed. 2019; inch, pound-force and standard gravity: NIST SP 811, 2008).
#include "io/case/units.h"

#include <gtest/gtest.h>

#include <cmath>
#include <thread>
#include <vector>

#include "tests/support/contains.h"

namespace tabmelt::units {
namespace {

struct Spelling {
  const char* text;
  const char* reference;
  double si;
};

TEST(Units, reads_usual_spellings) {
  constexpr double degree = 3.14159265358979323846 / 180;
  const Spelling spellings[] = {
      {"4.7 mF", "mF", 4.7e-3},
      {"4.7mF", "F", 4.7e-3},
      {"4700 uF", "mF", 4.7e-3},
      {"4700 µF", "mF", 4.7e-3},
      {"0.15 mm", "mm", 1.5e-4},
      {"150 um", "mm", 1.5e-4},
      {"150 µm", "mm", 1.5e-4},
      {"150 μm", "mm", 1.5e-4},
      {"0.1 inch", "mm", 2.54e-3},
      {"16 mm2", "mm2", 1.6e-5},
      {"16 mm^2", "mm2", 1.6e-5},
      {"16 mm²", "mm2", 1.6e-5},
      {"2e-9 ohm m2", "ohm m2", 2e-9},
      {"2e-3 ohm mm2", "ohm m2", 2e-9},
      {"1e5 W/m2/K", "W/m2/K", 1e5},
      {"1e5 W/(m2 K)", "W/m2/K", 1e5},
      {"1e5 W/(m2*K)", "W/m2/K", 1e5},
      {"1e5 W m-2 K-1", "W/m2/K", 1e5},
      {"25 N", "N", 25},
      {"2.5 kgf", "N", 2.5 * 9.80665},
      {"2 N/mm", "N/mm", 2000},
      {"50 mm/s", "mm/s", 0.05},
      {"120 degC", "degC", 393.15},
      {"120 °C", "degC", 393.15},
      {"120°C", "degC", 393.15},
      {"393.15 K", "degC", 393.15},
      {"32 degF", "degC", 273.15},
      {"-20 degC", "degC", 253.15},
      {"3 K", "K", 3},
      {"3 mohm", "mohm", 3e-3},
      {"25 K/W", "K/W", 25},
      {"3 mOhm", "mohm", 3e-3},
      {"3 mΩ", "mohm", 3e-3},
      {"3mΩ", "mohm", 3e-3},
      {"1 uH", "uH", 1e-6},
      {"1 µH", "uH", 1e-6},
      {"30 deg", "deg", 30 * degree},
      {"30°", "deg", 30 * degree},
      {"0.5 rad", "deg", 0.5},
      {"7850 kg/m3", "kg/m3", 7850},
      {"7.85 g/cm3", "kg/m3", 7850},
      {"480 J/kg/K", "J/kg/K", 480},
      {"480 J/(kg K)", "J/kg/K", 480},
      {"2.978e5 J/kg", "kJ/kg", 2.978e5},
      {"297.8 kJ/kg", "kJ/kg", 2.978e5},
      {"7e-8 ohm m", "ohm m", 7e-8},
      {"7 µohm cm", "ohm m", 7e-8},
      {"0.006 /K", "1/K", 0.006},
      {"0.006 1/K", "1/K", 0.006},
      {"0.6 %/K", "1/K", 0.006},
      {"1 %", "1", 0.01},
      {"0.1", "1", 0.1},
      {"1.5 GPa", "GPa", 1.5e9},
      {"1.2 kA", "A", 1200},
      {"8 ms", "ms", 8e-3},
      {"  +8   ms  ", "ms", 8e-3},
      {"400 V", "V", 400},
  };
  for (const Spelling& s : spellings) {
    double value = std::nan("");
    EXPECT_NO_THROW(value = in_si(s.text, s.reference)) << s.text;
    EXPECT_NEAR(value, s.si, 1e-12 * std::abs(s.si)) << s.text;
  }
}

TEST(Units, refuses_what_is_no_quantity_of_the_kind) {
  const std::pair<const char*, const char*> texts[] = {
      {"25 N", "mm"},
      {"8", "mm"},
      {"", "mm"},
      {"mm", "mm"},
      {"4.7 mQ", "mF"},
      {"nan mm", "mm"},
      {"inf mm", "mm"},
      {"1e999 mm", "mm"},
      {"1,5 mm", "mm"},
      {"1 000 mm", "mm"},
      {"2 3 mm", "mm"},
      {"0x10 mm", "mm"},
      {"1 Hz", "ms"},
      {"5 S", "mohm"},
      {"5 degC", "K"},
      {"30", "deg"},
      {"30 %", "deg"},
      {"20 deg", "1"},
      {"1e5 W/m2K", "W/m2/K"},
      {"5 mm @ 2", "mm"},
      {"3 s since 2000-01-01", "ms"},
      {"5 lg(re 1 mW)", "W"},
      {"1 mm\x01", "mm"},
  };
  for (const auto& [text, reference] : texts)
    EXPECT_THROW(in_si(text, reference), UnitError) << text;
}

TEST(Units, names_what_was_found_and_what_belongs) {
  try {
    in_si("3 mm", "N");
    FAIL() << "a length passed for a force";
  } catch (const UnitError& error) {
    const std::string message = error.what();
    EXPECT_TRUE(contains(message, "is a length where a force")) << message;
  }
}

TEST(Units, prints_in_the_natural_unit) {
  EXPECT_EQ(in_unit(1.5e-4, "mm"), "0.15 mm");
  EXPECT_EQ(in_unit(393.15, "degC"), "120 degC");
  EXPECT_EQ(in_unit(0.1, "1"), "0.1");
}

TEST(Units, may_be_used_from_several_threads) {
  std::vector<std::thread> threads;
  std::vector<int> wrong(4, 0);
  for (std::size_t n = 0; n < wrong.size(); ++n)
    threads.emplace_back([&wrong, n] {
      for (int k = 1; k <= 300; ++k)
        if (std::abs(in_si(std::to_string(k) + " mm", "mm") - k * 1e-3) > 1e-12) ++wrong[n];
    });
  for (std::thread& thread : threads) thread.join();
  for (const int count : wrong) EXPECT_EQ(count, 0);
}

}  // namespace
}  // namespace tabmelt::units
