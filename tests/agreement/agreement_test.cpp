// Every row of the table of agreement lies within its band, and the page is what the program
// prints. Catches: a wrong number or unit in a material file, an integral over the wrong curve, a
// table of conductors mistyped, a solver that has left its exact answers, a page gone stale.
#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

#include "tests/agreement/row.h"
#include "tests/support/near.h"

namespace tabmelt::agreement {
namespace {

void every_difference_lies_within_its_band(const std::vector<Section>& sections) {
  for (const Section& s : sections) {
    EXPECT_FALSE(s.rows.empty()) << s.title;
    for (const Row& r : s.rows)
      EXPECT_NEAR_RELATIVE(r.computed, r.expected, r.band) << s.title << ": " << r.quantity;
  }
}

void every_row_names_its_source_and_a_band_that_means_something(
    const std::vector<Section>& sections) {
  for (const Section& s : sections) {
    EXPECT_GT(s.about.size(), 20u) << s.title;
    for (const Row& r : s.rows) {
      EXPECT_GT(r.source.size(), 8u) << r.quantity;
      EXPECT_GT(r.band, 0) << r.quantity;
      EXPECT_LE(r.band, 0.3) << r.quantity;
      EXPECT_NE(r.expected, 0) << r.quantity;
    }
  }
}

void the_page_is_what_the_program_prints(const std::vector<Section>& sections) {
  std::ifstream in(TABMELT_SOURCE_DIR "/tests/AGREEMENT.md");
  const std::string page{std::istreambuf_iterator<char>(in), {}};
  EXPECT_EQ(page, document(sections))
      << "renew it: build/tests/agreement/agreement > tests/AGREEMENT.md";
}

// One test, since computing the rows takes longest.
TEST(Agreement, rows_lie_within_their_bands_name_sources_and_are_the_page) {
  const std::vector<Section> sections = all_sections();
  every_difference_lies_within_its_band(sections);
  every_row_names_its_source_and_a_band_that_means_something(sections);
  the_page_is_what_the_program_prints(sections);
}

}  // namespace
}  // namespace tabmelt::agreement
