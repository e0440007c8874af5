#include "tests/practice/random_cases.h"

#include <fmt/format.h>

#include "tests/practice/draws.h"

namespace tabmelt::practice {
namespace {

// Drawn one after the other: the order of a call's arguments is the compiler's own.
std::string source(Draws& d, int kind) {
  if (kind == 0) {
    const double part = d.log_between(1, 100), esr = d.log_between(2, 30);
    const int parallel = d.whole(4, 30);
    return fmt::format(
        "kind = \"capacitor bank\"\npart_capacitance = \"{:.2f} mF\"\npart_esr = \"{:.2f} "
        "mohm\"\nparallel = {}\ncharge_voltage = \"{:.2f} V\"\n",
        part, esr, parallel, d.log_between(4, 25));
  }
  if (kind == 1) {
    const double part = d.log_between(50, 500), esr = d.log_between(0.2, 2);
    const int series = d.whole(2, 5), parallel = d.whole(1, 3);
    return fmt::format(
        "kind = \"supercapacitor\"\npart_capacitance = \"{:.1f} F\"\npart_esr = \"{:.3f} "
        "mohm\"\nseries = {}\nparallel = {}\ncharge_voltage = \"{:.2f} V\"\n",
        part, esr, series, parallel, d.between(2.5, 5));
  }
  if (kind == 2) {
    const double voltage = d.between(6, 15);
    return fmt::format(
        "kind = \"battery\"\nopen_circuit_voltage = \"{:.2f} V\"\ninternal_resistance = "
        "\"{:.2f} mohm\"\n",
        voltage, d.log_between(2, 15));
  }
  const double peak = d.log_between(500, 4000);
  return fmt::format(
      "kind = \"exponential current\"\npeak = \"{:.0f} A\"\ntime_constant = \"{:.2f} ms\"\n", peak,
      d.log_between(0.5, 6));
}

std::string stack(Draws& d) {
  const char* cells[] = {"18650", "21700", "26650"};
  const char* ends[] = {"negative bottom", "positive cap"};
  const char* strips[] = {"nickel-200", "nickel-200", "stainless-304", "nickel-plated-steel"};
  const char* tips[] = {"copper", "copper-chromium-zirconium", "molybdenum", "tungsten"};
  const char *cell = cells[d.whole(0, 2)], *end = ends[d.whole(0, 1)];
  const char *strip = strips[d.whole(0, 3)], *tip = tips[d.whole(0, 3)];
  const double thickness = d.between(0.08, 0.3), diameter = d.between(0.8, 3);
  const bool slit = d.chance(0.5), flat = d.chance(0.3);
  const double rough_tip = d.log_between(0.5, 4), rough_joint = d.log_between(0.5, 4);
  const double slope = d.between(0.05, 0.25);
  return fmt::format(
      "[cell]\nsize = \"{}\"\nend = \"{}\"\n[strip]\nmaterial = \"{}\"\nthickness = \"{:.3f} "
      "mm\"\nslit = {}\n[electrode]\nmaterial = \"{}\"\ntip_diameter = \"{:.3f} mm\"\ntip_shape = "
      "\"{}\"\n[contact.tip]\nroughness = \"{:.2f} um\"\nslope = {:.3f}\n[contact.faying]\n"
      "roughness = \"{:.2f} um\"\n",
      cell, end, strip, thickness, slit, tip, diameter, flat ? "flat" : "domed", rough_tip, slope,
      rough_joint);
}

std::string one_case(Draws& d, int number, double resolution) {
  std::string text = fmt::format("title = \"random {}\"\n", number) + stack(d);
  const int kind = d.whole(0, 3);
  // Landing on a connected source: a battery would then never stop.
  const bool prescribed = kind == 3, lands = d.chance(0.6) && kind == 0;
  text += fmt::format("[pressing]\nforce = \"{:.2f} N\"\n", d.log_between(2, 80));
  if (lands)
    text += fmt::format("closing = \"unswitched\"\napproach_speed = \"{:.3f} m/s\"\n",
                        d.log_between(0.02, 0.3));
  const double lead = d.log_between(6, 50);
  text += fmt::format("[leads]\ncross_section = \"{:.1f} mm2\"\nlength = \"{:.2f} m\"\n", lead,
                      d.log_between(0.2, 1.2));
  text += "[source]\n" + source(d, kind);
  const double first = d.log_between(0.3, 12), pause = d.log_between(0.5, 5);
  const double second = d.log_between(0.3, 8);
  const bool two = d.chance(0.3);
  if (!lands && !prescribed)
    text += two ? fmt::format(
                      "[switch]\npulses = [[\"{:.2f} ms\", \"{:.2f} ms\"], [\"{:.2f} ms\", \"0 "
                      "ms\"]]\n",
                      first, pause, second)
                : fmt::format("[switch]\npulses = [[\"{:.2f} ms\", \"0 ms\"]]\n", first);
  return text + fmt::format("[numerics]\nresolution = {}\nframes = 1\n", resolution);
}

}  // namespace

std::vector<std::string> random_cases(int count, double resolution) {
  Draws d(20261130);
  std::vector<std::string> cases;
  for (int n = 0; n < count; ++n) cases.push_back(one_case(d, n, resolution));
  return cases;
}

}  // namespace tabmelt::practice
