// What is uncertain in a case, by default and by its own words.
#include "io/case/spreads.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "io/case/explain.h"
#include "io/case/units.h"
#include "tests/unit/case/sample_cases.h"

namespace tabmelt::testing {
namespace {

Case template_with(const std::string& lines) {
  return read_case_text(lines + template_case(), "/nowhere/case.toml");
}

const UncertainKey* find(const std::vector<UncertainKey>& keys, const std::string& name) {
  const auto found =
      std::find_if(keys.begin(), keys.end(), [&](const auto& k) { return k.key == name; });
  return found == keys.end() ? nullptr : &*found;
}

std::string complaint_of(const std::string& lines) {
  return message_of([&] { uncertain_keys(template_with(lines)); });
}

TEST(Spreads, every_uncertain_key_of_the_template_has_a_reason) {
  const auto keys = uncertain_keys(template_with(""));
  for (const char* name :
       {"pressing.force", "contact.tip.film_resistance", "contact.faying.film_resistance",
        "electrode.tip_diameter", "electrode.face_radius", "strip.thickness", "can.thickness",
        "joints.resistance", "source.internal_resistance", "layer.electrolyte film.thickness",
        "materials.nickel-200.hardness", "materials.copper.hardness"})
    EXPECT_TRUE(find(keys, name)) << name;
  EXPECT_FALSE(find(keys, "source.part_esr"));  // a battery
  for (const UncertainKey& key : keys) {
    EXPECT_FALSE(key.reason.empty()) << key.key;
    EXPECT_LT(key.distribution.quantile(0.1), key.value) << key.key;
    EXPECT_GT(key.distribution.quantile(0.9), key.value) << key.key;
  }
}

TEST(Spreads, defaults_read_like_those_of_a_case) {
  for (const Key* key : every_key()) {
    if (key->spread.text.empty()) continue;
    EXPECT_TRUE(contains(explain(key->path), "spread: " + key->spread.text)) << key->path;
    const Address address = *address_of(key->path);
    const double value = std::sqrt(std::max(address.lowest(), 1e-30) * address.highest());
    EXPECT_NO_THROW(spread_around(value, key->spread.text, address)) << key->path;
  }
  EXPECT_TRUE(contains(explain("hardness"), "spread: 15 %"));
}

TEST(Spreads, a_case_sets_its_own) {
  const auto keys = uncertain_keys(template_with(R"(spread.pressing.force = "normal 3 N"
spread.strip.thickness = "none"
spread.strip.width = "0.1 mm"
spread.layer.disc.thickness = "log-normal 1.2"
spread.boundary.ambient = "10 K"
)"));
  const UncertainKey* force = find(keys, "pressing.force");
  ASSERT_TRUE(force);
  EXPECT_TRUE(force->given);
  EXPECT_NEAR(force->distribution.quantile(0.5), 30, 1e-9);
  EXPECT_NEAR(force->distribution.quantile(0.8413447), 33, 1e-5);
  EXPECT_FALSE(find(keys, "strip.thickness"));
  EXPECT_NEAR(find(keys, "strip.width")->distribution.quantile(0.75), 8.05e-3, 1e-9);
  EXPECT_NEAR(find(keys, "boundary.ambient")->distribution.quantile(1e-9), 283.15, 1e-6);
  // Named by a word of it, and still the same number as the default's.
  EXPECT_TRUE(find(keys, "layer.disc.thickness"));
  EXPECT_FALSE(find(keys, "layer.insulating disc.thickness"));
}

// Only one of the two may stand in a case.
TEST(Spreads, a_number_worked_out_from_another_leaves_its_spread_to_that) {
  const std::string demo = TABMELT_SOURCE_DIR "/cases/";
  const auto bank = uncertain_keys(read_case(demo + "trimmer-thyristor/case.toml"));
  EXPECT_TRUE(find(bank, "source.dissipation_factor"));
  EXPECT_FALSE(find(bank, "source.part_esr"));
  const auto transistors = uncertain_keys(read_case(demo + "mower-lithium-battery/case.toml"));
  EXPECT_TRUE(find(transistors, "switch.part_resistance"));
  EXPECT_FALSE(find(transistors, "switch.on_resistance"));
}

TEST(Spreads, do_not_change_the_problem) {
  EXPECT_EQ(template_with("spread.pressing.force = \"5 %\"\n").full_text,
            template_with("").full_text);
}

TEST(Spreads, that_reach_beyond_the_range_are_cut_and_say_how_much) {
  const auto keys = uncertain_keys(template_with("spread.pressing.force = \"normal 100 %\"\n"));
  const UncertainKey* force = find(keys, "pressing.force");
  EXPECT_NEAR(force->distribution.cut_off(), 0.1587, 1e-3);  // below nothing: one deviation off
  EXPECT_GE(force->distribution.quantile(1e-9), 0.01);
}

TEST(Spreads, complaints_name_key_and_forms) {
  EXPECT_TRUE(contains(complaint_of("spread.pressing.farce = \"20 %\"\n"), "did you mean"));
  EXPECT_TRUE(
      contains(complaint_of("spread.pressing.force = \"20 mm\"\n"), "spread.pressing.force"));
  EXPECT_TRUE(contains(complaint_of("spread.pressing.force = \"about 3 N\"\n"), "log-normal"));
  EXPECT_TRUE(contains(complaint_of("spread.pressing.force = 0.2\n"), "must be a text"));
  EXPECT_TRUE(contains(complaint_of("spread.pressing.force = \"-5 %\"\n"), "no width"));
  EXPECT_TRUE(contains(complaint_of("spread.strip.material = \"5 %\"\n"), "no number"));
  EXPECT_TRUE(contains(complaint_of("spread.joints.count = \"5 %\"\n"), "whole number"));
  EXPECT_TRUE(
      contains(complaint_of("spread.source.part_esr = \"5 %\"\n"), "no number in this case"));
  EXPECT_TRUE(contains(complaint_of("spread.boundary.ambient = \"5 %\"\n"), "difference"));
  EXPECT_TRUE(contains(complaint_of("spread = 3\n"), "must be a table"));
}

}  // namespace
}  // namespace tabmelt::testing
