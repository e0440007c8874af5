// The complete text of a case reads back to the same problem, to the last digit.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>

#include "io/case/explain.h"
#include "tests/support/temporary_folder.h"
#include "tests/unit/case/problem_in_words.h"
#include "tests/unit/case/sample_cases.h"

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

TEST(FullText, of_the_template_reads_back) { expect_round_trip(read(template_case())); }
TEST(FullText, of_a_pure_check_reads_back) { expect_round_trip(read(pure_check)); }
TEST(FullText, of_an_opposed_battery_reads_back) { expect_round_trip(read(opposed_battery)); }
TEST(FullText, of_a_whole_bench_reads_back) { expect_round_trip(read(whole_bench)); }
TEST(FullText, of_sources_switches_and_frames_reads_back) {
  for (const std::string& text :
       {head + bank_source +
            "[charger]\ncurrent = \"0.8 A\"\n[[conductor]]\nname = \"bar\"\n"
            "length = \"90 mm\"\ncross_section = \"30 mm2\"\n",
        head + bank_source + "[switch]\nkind = \"thyristor\"\n[leads]\ngauge = 6\n",
        head + bank_source + "[switch]\nfirst = \"2 ms\"\npause = \"9 ms\"\nmain = \"4 ms\"\n",
        head + bank_source +
            "[switch]\nkind = \"contactor\"\nbounces = 1\n"
            "pulses = [[\"9 ms\", \"0 ms\"]]\n",
        head + "[source]\nkind = \"supercapacitor\"\npart_capacitance = \"100 F\"\n"
               "dissipation_factor = 0.3\ndissipation_frequency = \"1 Hz\"\nseries = 2\n"
               "charge_voltage = \"5 V\"\n",
        head + bank_source +
            "[[conductor]]\nname = \"frame\"\nframe_width = \"90 mm\"\n"
            "frame_height = \"70 mm\"\ncross_section = \"6 mm2\"\n",
        head + "[source]\nkind = \"bench supply\"\nvoltage = \"5 V\"\ncurrent_limit = \"60 A\"\n"
               "[switch]\nmain = \"9 ms\"\n"})
    expect_round_trip(read(text));
}
// Whoever states every default gets the same numbers as who states none, in every demo.
TEST(FullText, of_every_demo_states_its_defaults_without_changing_one) {
  for (const auto& entry : std::filesystem::directory_iterator(TABMELT_SOURCE_DIR "/cases")) {
    if (!std::filesystem::exists(entry.path() / "case.toml")) continue;
    SCOPED_TRACE(entry.path().string());
    expect_round_trip(read_case(entry.path() / "case.toml"));
  }
}
TEST(FullText, without_layers_reads_back) { expect_round_trip(read("layer = []\n" + bank_case)); }
TEST(FullText, with_odd_texts_reads_back) {
  expect_round_trip(read("layer = []\n" + pure_check + R"([materials."a b.c"]
base = "my-steel"
description = """two
lines, "quotes" and ' marks"""
)"));
}

TEST(FullText, holds_a_measured_current) {
  const test::TemporaryFolder folder;
  const std::string text = pure_check.substr(0, pure_check.find("kind = \"exponential")) +
                           "kind = \"measured current\"\nfile = \"trace.csv\"\n" +
                           pure_check.substr(pure_check.find("[numerics]"));
  std::ofstream(folder.path() / "trace.csv")
      << "time [ms],current [A]\n0,0.1\n0.333333333333,1.7\n";
  expect_round_trip(read_case_text(text, folder.path() / "case.toml"));
}

TEST(FullText, differs_where_the_problem_differs) {
  EXPECT_NE(in_words(read(bank_case).problem),
            in_words(read(with(bank_case, "25 N", "26 N")).problem));
}

}  // namespace
}  // namespace tabmelt::testing
