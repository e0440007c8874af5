// Published welds beside what the program makes of them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solver/solve.h"
#include "tests/agreement/row.h"
#include "tests/practice/handbook.h"
#include "tests/practice/weld.h"

namespace tabmelt::agreement {
namespace {

// Least current of 0.15 mm strip, unslit, 5 ms, that fuses 0.6 mm [A].
double least_current(const std::string& strip) {
  practice::Setting s;
  s.strip = strip;
  s.duration = 5;
  double low = 800, high = 2500;
  while (high / low > 1.005) {
    s.current = std::sqrt(low * high);
    (practice::weld(s).nugget < 0.6e-3 ? low : high) = s.current;
  }
  return s.current;
}

// Voltage from sheet to sheet of 0.2 mm nickel under 50 N and 1 kA as the joint melts [V].
double melting_voltage() {
  const practice::Handbook thin{"nickel 0.20", "nickel-200", 0.2, 1.5, 50, 1000,
                                8.3,           60,           0,   0,   "", false};
  const Result r = solve(practice::half_model(thin, 1, false));
  const auto melts = std::find_if(r.history.begin(), r.history.end(), [](const StepRecord& s) {
    return s.joints[0].nugget_diameter > 0;
  });
  return 2 * (melts->load_resistance - melts->spots[0].contacts[0].resistance) * melts->current;
}

}  // namespace

Section published_welds() {
  Section s{"Published welds",
            "Two equal sheets between two rounded tips of CuCrZr at the published current, force "
            "and time; "
            "all contact values are defaults, nothing is fitted to a row. One weld, nickel of 0.79 "
            "mm, is "
            "computed to stick to its tips, which no published one does.\n\nMissed:\n\n",
            {}};
  for (const practice::Handbook& h : practice::handbook()) {
    const double computed = practice::nugget(solve(practice::half_model(h, 1, false)));
    if (h.held)
      s.rows.push_back({h.name + " mm, nugget [mm]", h.source, h.nugget, computed, 0.2});
    else
      s.about += fmt::format(
          "* {} mm: nugget {:.2f} mm, published {:.2f} mm ({}); thin sheets come "
          "out too cold\n",
          h.name, computed, h.nugget, h.source);
  }
  const double steel = least_current("nickel-plated-steel"), nickel = least_current("nickel-200");
  s.about += fmt::format(
      "* plated steel strip of 0.15 mm on a can needs {:.2f} of nickel's energy, in practice 0.5 "
      "to "
      "0.8 (common practice, no source)\n"
      "* sheets of 0.2 mm nickel melt at {:.1f} V from sheet to sheet, published 0.22 to 0.65 "
      "(Tan, "
      "thesis, Waterloo (2005), abstract)",
      steel * steel / (nickel * nickel), melting_voltage());
  return s;
}

}  // namespace tabmelt::agreement
