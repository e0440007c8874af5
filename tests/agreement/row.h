// One value somebody else states, what the program makes of it, and the difference allowed.
#pragma once

#include <string>
#include <vector>

namespace tabmelt::agreement {

struct Row {
  std::string quantity;  // with its unit in square brackets
  std::string source;
  double expected = 0;
  double computed = 0;
  double band = 0;  // [1] largest difference allowed, relative to the expected value

  double difference() const { return (computed - expected) / expected; }
};

struct Section {
  std::string title;
  std::string about;  // how well the values are known, and what that makes the bands
  std::vector<Row> rows;
};

// Values published by others, measured or standardised.
Section contact_voltages();
Section spreading_resistances();
Section pressed_contacts();
Section published_welds();
Section wires_and_leads();
Section sources();
Section metals();
Section decomposition();
// Exact solutions.
Section exact_heat();
Section exact_melting();
Section exact_joule_heat();
Section exact_circuits();
Section exact_cells();

std::vector<Section> all_sections();

// The whole document in Markdown.
std::string document(const std::vector<Section>&);

}  // namespace tabmelt::agreement
