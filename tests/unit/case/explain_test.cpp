// The explanations are enough to write a case, and hold every key.
#include "io/case/explain.h"

#include <gtest/gtest.h>

#include <set>
#include <sstream>

#include "io/case/nearest.h"
#include "io/case/schema.h"
#include "tests/support/contains.h"
#include "tests/unit/case/sample_cases.h"

namespace tabmelt::testing {
namespace {

TEST(Explain, holds_every_key_once_with_a_meaning) {
  const std::string all = explain_all();
  std::set<std::string> seen;
  for (const Key* one : every_key()) {
    const Key& key = *one;
    EXPECT_TRUE(seen.insert(key.path).second) << key.path << " stands twice";
    EXPECT_TRUE(contains(all, "\n" + key.path + "\n")) << key.path;
    EXPECT_GT(key.meaning.size(), 10u) << key.path;
    EXPECT_EQ(key.meaning.back(), '.') << key.path;
    EXPECT_TRUE(key.required || !key.standard.value.empty() || !key.rule_in_words.empty())
        << key.path << " does not say what happens if it is left out";
    if (!key.standard.value.empty()) {
      EXPECT_GT(key.standard.reason.size(), 5u) << key.path;
    }
    EXPECT_EQ(static_cast<bool>(key.applies.holds), !key.applies.words.empty()) << key.path;
  }
  for (const char* property : {"density", "melting", "hardness_ratio"})
    EXPECT_TRUE(contains(all, std::string("materials.<name>.") + property)) << property;
}

// The example of a pure check in the introduction, and that of a material, are cases that work.
TEST(Explain, examples_can_be_read) {
  std::string check, material;
  std::istringstream lines(explain_all());
  bool in_check = true;
  for (std::string line; std::getline(lines, line);) {
    if (line == "Top of the file") in_check = false;
    const bool indented = line.starts_with("  ") && !line.starts_with("   ");
    if (in_check && indented) check += line.substr(2) + '\n';
    if (contains(line, "[materials.my-strip") || (!material.empty() && indented))
      material += line.substr(2) + '\n';
  }
  ASSERT_TRUE(contains(check, "area_resistance"));
  ASSERT_TRUE(contains(material, "hardness_ratio"));
  const Problem p = read(check).problem;
  EXPECT_EQ(p.probes.size(), 1u);
  EXPECT_FALSE(p.cell_limits);
  const std::string both =
      with(check + material, "[strip]\n", "[strip]\nmaterial = \"my-strip\"\n");
  EXPECT_EQ(read(both).problem.top().material->name, "my-strip");
}

TEST(Explain, one_key_gives_range_default_and_reason) {
  const std::string text = explain("strip.thickness");
  EXPECT_TRUE(contains(text, "0.005 mm to 2 mm")) << text;
  EXPECT_TRUE(contains(text, "0.15 mm")) << text;
  EXPECT_TRUE(contains(text, "common practice, no source")) << text;
  EXPECT_TRUE(contains(explain("pressing.force"), "required"));
  EXPECT_TRUE(contains(explain("source.peak"), "source.kind = \"exponential current\""));
}

TEST(Explain, tables_and_bare_names) {
  EXPECT_TRUE(contains(explain("[strip]"), "strip.slit"));
  EXPECT_TRUE(contains(explain("contact"), "contact.tip.law"));
  EXPECT_TRUE(contains(explain("contact"), "contact.faying.law"));
  const std::string thickness = explain("thickness");
  for (const char* key : {"strip.thickness", "can.thickness", "layer.thickness"})
    EXPECT_TRUE(contains(thickness, key)) << key;
  EXPECT_TRUE(contains(explain("materials"), "melting"));
  EXPECT_TRUE(contains(explain("density"), "kg/m3"));
  EXPECT_TRUE(contains(explain(""), "[strip]"));
}

TEST(Explain, suggests_the_nearest_key) {
  EXPECT_TRUE(contains(explain("strip.thicknes"), "did you mean \"strip.thickness\"?"));
  EXPECT_TRUE(contains(explain("stripp"), "did you mean \"strip\"?"));
  EXPECT_TRUE(contains(explain("elektrode.tip"), "did you mean \"electrode\"?"));
  EXPECT_TRUE(contains(explain("zzzzzz"), "can, contact, pressing,")) << "each table once";
  EXPECT_TRUE(contains(explain("charge_volts"), "source.charge_voltage"));
}

TEST(Nearest, counts_edits_and_swaps) {
  EXPECT_EQ(edit_distance("force", "force"), 0u);
  EXPECT_EQ(edit_distance("froce", "force"), 1u);
  EXPECT_EQ(edit_distance("kitten", "sitting"), 3u);  // Levenshtein's usual example
  EXPECT_EQ(edit_distance("Tip-Diameter", "tip_diameter"), 0u);
  EXPECT_FALSE(nearest("xyz", {"force", "closing"}));
  EXPECT_FALSE(nearest("r", {"z", "part"}));
}

}  // namespace
}  // namespace tabmelt::testing
