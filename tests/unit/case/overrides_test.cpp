// A value laid over a case is checked as one in the file is, and its complaints name the key.
#include "io/case/overrides.h"

#include <gtest/gtest.h>

#include "io/case/explain.h"
#include "tests/unit/case/sample_cases.h"

namespace tabmelt::testing {
namespace {

Case read_with(const std::vector<Override>& overrides) {
  return read_case_text(template_case(), "/nowhere/case.toml", overrides);
}

std::string complaint_about(const Override& one) {
  return message_of([&] { read_with({one}); });
}

TEST(Overrides, sets_a_key_that_is_given_and_one_that_is_not) {
  const Case read = read_with({{"strip.thickness", "0.2 mm"}, {"leads.length", "0.5 m"}});
  EXPECT_DOUBLE_EQ(read.problem.top().thickness, 0.2e-3);
  EXPECT_DOUBLE_EQ(read.problem.circuit.leads.length, 0.5);
  EXPECT_TRUE(contains(read.full_text, "thickness = \"0.2 mm\"\n"));
}

TEST(Overrides, are_the_same_as_the_key_in_the_file) {
  const std::string text =
      with(with(template_case(), "0.15 mm\"", "0.12 mm\""), "slit = false", "slit = true");
  const std::string given = read_case_text(text, "/nowhere/case.toml").full_text;
  const std::string laid = read_with({{"strip.thickness", "0.12 mm"},
                                      {"strip.slit", "true"},
                                      {"title", "0.12 mm nickel strip on an 18650 cell"}})
                               .full_text;
  EXPECT_EQ(given.substr(given.find("[cell]")), laid.substr(laid.find("[cell]")));
}

TEST(Overrides, later_ones_win) {
  const Case read = read_with({{"pressing.force", "40 N"}, {"pressing.force", "50 N"}});
  EXPECT_DOUBLE_EQ(read.problem.pressing.force, 50);
}

TEST(Overrides, quotes_may_stand_or_be_left_out) {
  EXPECT_DOUBLE_EQ(read_with({{"pressing.force", "\"40 N\""}}).problem.pressing.force, 40);
  EXPECT_DOUBLE_EQ(read_with({{"pressing.force", "40N"}}).problem.pressing.force, 40);
}

TEST(Overrides, reach_entries_of_lists_by_number_name_and_word) {
  for (const char* disc :
       {"layer.2.thickness", "layer.insulating disc.thickness", "layer.disc.thickness"}) {
    const Case read = read_with({{disc, "0.33 mm"}});
    ASSERT_EQ(read.problem.inner.size(), 3u) << disc;
    EXPECT_DOUBLE_EQ(read.problem.inner[1].thickness, 0.33e-3) << disc;
    EXPECT_TRUE(read.problem.inner[1].molten_limit) << disc;
    EXPECT_DOUBLE_EQ(read.problem.inner[0].thickness, 0.05e-3) << disc;
  }
  EXPECT_DOUBLE_EQ(read_with({{"strip.1.thickness", "0.2 mm"}}).problem.top().thickness, 0.2e-3);
}

TEST(Overrides, reach_one_half_of_a_pair) {
  const Case read = read_with({{"switch.pulses.1.1", "8 ms"}});
  ASSERT_EQ(read.problem.circuit.power_switch.train.size(), 1u);
  EXPECT_DOUBLE_EQ(read.problem.circuit.power_switch.train[0].on, 8e-3);
}

TEST(Overrides, change_a_constant_of_a_material) {
  const Case read = read_with({{"materials.nickel-200.hardness", "1.2 GPa"}});
  EXPECT_DOUBLE_EQ(*read.problem.top().material->hardness, 1.2e9);
  EXPECT_DOUBLE_EQ(read.problem.top().material->density,
                   read_with({}).problem.top().material->density);
}

TEST(Overrides, complaints_name_the_key_and_its_range) {
  const std::string range = complaint_about({"pressing.force", "6000 N"});
  EXPECT_TRUE(contains(range, "--set, line 1: pressing.force = \"6000 N\" is out of range"))
      << range;
  EXPECT_TRUE(contains(range, "0.01 N to 5000 N")) << range;
  EXPECT_TRUE(contains(complaint_about({"pressing.force", "3 mm"}), "pressing.force"));
  EXPECT_TRUE(
      contains(complaint_about({"pressing.farce", "3 N"}), "did you mean \"pressing.force\""));
  EXPECT_TRUE(contains(complaint_about({"layer.dish.thickness", "1 mm"}), "insulating disc"));
  EXPECT_TRUE(contains(complaint_about({"strip.2.thickness", "1 mm"}), "only one [strip]"));
  EXPECT_TRUE(contains(complaint_about({"switch.pulses.2.1", "1 ms"}), "no pair 2"));
  EXPECT_TRUE(contains(complaint_about({"strip.slit", "perhaps"}), "true or false"));
  EXPECT_TRUE(contains(complaint_about({"conductor.bar.length", "1 mm"}), "no [[conductor]]"));
}

TEST(Overrides, complain_about_each_of_several) {
  const auto list = complaints_of([] {
    read_with({{"pressing.force", "0 N"}, {"strip.width", "8 mm"}, {"strip.thickness", "9 m"}});
  });
  ASSERT_EQ(list.size(), 2u);
  EXPECT_EQ(list[1].line, 3);
  EXPECT_EQ(list[1].excerpt, "strip.thickness = 9 m");
}

TEST(Overrides, are_key_and_value) {
  EXPECT_EQ(parsed_override(" strip.width = 8 mm ").value, "8 mm");
  for (const char* wrong : {"strip.width", "=8 mm", "strip.width=", "a=b\nc=d"})
    EXPECT_THROW(parsed_override(wrong), InputError) << wrong;
}

TEST(Overrides, values_are_read_back_in_si) {
  const CaseValues values(read_with({}).full_text);
  const auto value = [&](const std::string& key) { return values.of(*address_of(key)); };
  EXPECT_DOUBLE_EQ(value("strip.thickness").value(), 0.15e-3);
  EXPECT_DOUBLE_EQ(value("layer.disc.thickness").value(), 0.2e-3);
  EXPECT_DOUBLE_EQ(value("switch.pulses.1.1").value(), 6e-3);
  EXPECT_DOUBLE_EQ(value("joints.count").value(), 4);
  EXPECT_DOUBLE_EQ(value("materials.nickel-200.hardness").value(), 1.5e9);
  EXPECT_FALSE(value("strip.material"));
  EXPECT_FALSE(value("source.part_esr"));  // a battery has none
  EXPECT_FALSE(address_of("nonsense.key"));
}

}  // namespace
}  // namespace tabmelt::testing
