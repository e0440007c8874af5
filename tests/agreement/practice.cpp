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
  for (s.current = 800; s.current < 2500; s.current *= 1.01)
    if (practice::weld(s).nugget >= 0.6e-3) break;
  return s.current;
}

// Voltage from sheet to sheet of 0.2 mm nickel under 50 N and 1 kA as the joint melts [V].
double melting_voltage() {
  const practice::Handbook thin{"nickel 0.20", "nickel-200", 0.2, 1.5, 50, 1000,
                                8.3,           60,           0,   0,   "", false};
  const Result r = solve(practice::half_model(thin, 1, false));
  const auto melts = std::find_if(r.history.begin(), r.history.end(),
                                  [](const StepRecord& s) { return s.nugget_diameter > 0; });
  return 2 * (melts->load_resistance - melts->tip_resistance) * melts->current;
}

}  // namespace

Section published_welds() {
  Section s{"Published welds",
            "Two equal sheets between two rounded tips of CuCrZr at the published current, force "
            "and time; "
            "all contact values are defaults. Nothing is fitted to a row. Rows marked *missed* lie "
            "outside "
            "a fifth; their band only says how far. Thin sheets come out too cold, the flat and "
            "the rounded "
            "face alike. One weld, nickel of 0.79 mm, is computed to stick to its tips, which no "
            "published "
            "one does. ",
            {}};
  for (const practice::Handbook& h : practice::handbook()) {
    const double computed = practice::nugget(solve(practice::half_model(h, 1, false)));
    const bool met = std::abs(computed / h.nugget - 1) <= 0.2;
    s.rows.push_back({(met ? "" : "missed: ") + h.name + " mm, nugget [mm]", h.source, h.nugget,
                      computed, met ? 0.2 : 0.45});
  }
  const double steel = least_current("nickel-plated-steel"), nickel = least_current("nickel-200");
  s.rows.push_back({"missed: plated steel's energy over nickel's, 0.15 mm on a can [1]",
                    "0.5 to 0.8; common practice, no source", 0.65,
                    steel * steel / (nickel * nickel), 0.45});
  s.about += fmt::format(
      "Missed, too: sheets of 0.2 mm nickel melt at {:.2f} V from sheet to sheet, published are "
      "0.22 "
      "to 0.65 (Tan, thesis, Waterloo (2005), abstract).",
      melting_voltage());
  return s;
}

}  // namespace tabmelt::agreement
