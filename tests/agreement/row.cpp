#include "tests/agreement/row.h"

#include <cmath>
#include <cstdio>

namespace tabmelt::agreement {
namespace {

std::string text(const char* format, double value) {
  char buffer[40];
  std::snprintf(buffer, sizeof buffer, format, value);
  return buffer;
}

// Differences that only round-off decides are not printed digit by digit: they may differ from one
// machine to the next.
std::string difference(const Row& row) {
  const double percent = 100 * row.difference();
  if (std::abs(percent) < 5e-4) return "< 0.001 %";
  return text(std::abs(percent) < 0.1 ? "%+.3f %%" : "%+.2f %%", percent);
}

}  // namespace

std::vector<Section> all_sections() {
  return {contact_voltages(), spreading_resistances(), pressed_contacts(),
          published_welds(),  wires_and_leads(),       sources(),
          metals(),           decomposition(),         exact_heat(),
          exact_melting(),    exact_joule_heat(),      exact_circuits(),
          exact_cells()};
}

std::string document(const std::vector<Section>& sections) {
  std::string out =
      "# What others say, and what the program computes\n\n"
      "Printed by `build/tests/agreement/agreement`; a test checks that this page is what it "
      "prints "
      "and\nthat every difference lies within its band. To renew it after a change:\n\n"
      "```\nbuild/tests/agreement/agreement > tests/AGREEMENT.md\n```\n\n"
      "*Expected* is the value of the source, *difference* is relative to it, *band* is the "
      "largest "
      "one\nallowed. Metals are those of `cases/materials`; exact solutions use round numbers.\n";
  for (const Section& s : sections) {
    out += "\n## " + s.title + "\n\n" + s.about + "\n\n";
    out += "| quantity | source | expected | computed | difference | band |\n";
    out += "|---|---|---|---|---|---|\n";
    for (const Row& r : s.rows)
      out += "| " + r.quantity + " | " + r.source + " | " + text("%.4g", r.expected) + " | " +
             text("%.4g", r.computed) + " | " + difference(r) + " | " +
             text("%.3g %%", 100 * r.band) + " |\n";
  }
  return out;
}

}  // namespace tabmelt::agreement
