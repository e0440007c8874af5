// The complete text of a case reads back to the same problem, to the last digit.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>

#include "io/case/explain.h"
#include "tests/unit/case/problem_in_words.h"
#include "tests/unit/case/sample_cases.h"
#include "tests/unit/io_study/folder.h"

namespace tabmelt::testing {
namespace {

void expect_round_trip(const Case& first) {
  Case second;
  // Far from any folder of materials but the shipped one: the text brings its own.
  ASSERT_NO_THROW(second = read_case_text(first.full_text, "/nowhere/again.toml"))
      << first.full_text;
  EXPECT_EQ(in_words(first.problem), in_words(second.problem));
  EXPECT_TRUE(second.defaults.empty())
      << second.defaults.front().key << " is not in the complete text";
  EXPECT_EQ(first.title, second.title);
}

TEST(FullText, OfTheTemplateReadsBack) { expect_round_trip(read(template_case())); }
TEST(FullText, OfAPureCheckReadsBack) { expect_round_trip(read(pure_check)); }
TEST(FullText, OfAnOpposedBatteryReadsBack) { expect_round_trip(read(opposed_battery)); }
TEST(FullText, OfAWholeBenchReadsBack) { expect_round_trip(read(whole_bench)); }
// Whoever states every default gets the same numbers as who states none, in every demo.
TEST(FullText, OfEveryDemoStatesItsDefaultsWithoutChangingOne) {
  for (const auto& entry : std::filesystem::directory_iterator(TABMELT_SOURCE_DIR "/cases")) {
    if (!std::filesystem::exists(entry.path() / "case.toml")) continue;
    SCOPED_TRACE(entry.path().string());
    expect_round_trip(read_case(entry.path() / "case.toml"));
  }
}
TEST(FullText, WithoutLayersReadsBack) { expect_round_trip(read("layer = []\n" + bank_case)); }
TEST(FullText, WithOddTextsReadsBack) {
  expect_round_trip(read("layer = []\n" + pure_check + R"([materials."a b.c"]
base = "my-steel"
description = """two
lines, "quotes" and ' marks"""
)"));
}

TEST(FullText, HoldsAMeasuredCurrent) {
  const test::Folder folder;
  const std::string text = pure_check.substr(0, pure_check.find("kind = \"exponential")) +
                           "kind = \"measured current\"\nfile = \"trace.csv\"\n" +
                           pure_check.substr(pure_check.find("[numerics]"));
  std::ofstream(folder.path / "trace.csv") << "time [ms],current [A]\n0,0.1\n0.333333333333,1.7\n";
  expect_round_trip(read_case_text(text, folder.path / "case.toml"));
}

TEST(FullText, DiffersWhereTheProblemDiffers) {
  EXPECT_NE(in_words(read(bank_case).problem),
            in_words(read(with(bank_case, "25 N", "26 N")).problem));
}

}  // namespace
}  // namespace tabmelt::testing
