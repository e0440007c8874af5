// Welds as people make them, computed: settings in, what became of them out.
#pragma once

#include <string>
#include <vector>

#include "solver/result/result.h"
#include "solver/verdict/verdict.h"

namespace tabmelt::practice {

// Strip on the negative bottom of an 18650, two tips side by side, square current.
struct Setting {
  std::string strip = "nickel-200";
  double thickness = 0.15;  // [mm]
  bool slit = false;
  double current = 1250;  // [A]
  double duration = 7;    // [ms]
  double force = 30;      // [N] per tip
  double tip = 1.5;       // [mm] diameter
  bool flat = false;
  double spacing = 4;  // [mm]
  double resolution = 0.6;
  std::string more;  // further lines of the case
};

enum class Grade { no_weld, small, good, overdone };

struct Weld {
  Verdict verdict;
  Grade grade = Grade::no_weld;
  double nugget = 0;        // [m]
  double inner_wall = 0;    // [K]
  double winding = 0;       // [K]
  double peak_voltage = 0;  // [V] over both spots
  double energy = 0;        // [J] at both spots
};

std::string case_text(const Setting&);
Weld weld(const Setting&);
// Side by side on all cores; the order stays.
std::vector<Weld> weld_all(const std::vector<Setting>&);

// Random settings of the box in which people weld, always the same ones: 0.7-2.5 kA, 1-12 ms,
// 15-60 N, tips of 1-2 mm, 3-6 mm apart, slit or not, nickel of 0.10 to 0.20 mm or nickel-plated
// steel of 0.15 mm (common practice, no source).
std::vector<Setting> box(int count);
// The everyday weld: 0.15 mm nickel, unslit, rounded tips, 1-1.5 kA for 5-10 ms at 20-40 N (common
// practice, no source).
std::vector<Setting> core(int count);

char letter(const Weld&);       // G good, o overdone, s small or stuck, . no weld
std::string told(const Weld&);  // what holds, in words

}  // namespace tabmelt::practice
