// Everything a user can get wrong in a case file: what is said, and where it points.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>

#include "io/case/explain.h"
#include "tests/support/contains.h"
#include "tests/support/temporary_folder.h"
#include "tests/unit/case/sample_cases.h"

namespace tabmelt::testing {
namespace {

// Line of the template that starts with these words, replaced by another; 0 if there is none.
struct Edited {
  std::string text;
  int line = 0;
};

Edited with_line(const std::string& start, const std::string& replacement) {
  Edited result;
  std::istringstream lines(bank_case);
  int number = 0;
  for (std::string line; std::getline(lines, line);) {
    ++number;
    if (line.starts_with(start)) {
      line = replacement;
      result.line = number;
    }
    result.text += line + '\n';
  }
  return result;
}

struct Slip {
  const char* start;        // the template's line
  const char* replacement;  // what the user typed
  const char* found;        // words of the complaint
  const char* advice;       // more words
};

class OneSlip : public ::testing::TestWithParam<Slip> {};

// One slip brings exactly one complaint, which shows the line.
TEST_P(OneSlip, brings_one_complaint_at_its_line) {
  const Slip slip = GetParam();
  const Edited edited = with_line(slip.start, slip.replacement);
  ASSERT_GT(edited.line, 0) << slip.start;
  const auto list = complaints_about(edited.text);
  ASSERT_EQ(list.size(), 1u) << (list.empty() ? "none" : list[0].message + " | " + list[1].message);
  EXPECT_EQ(list[0].line, edited.line) << list[0].message;
  EXPECT_EQ(list[0].excerpt, slip.replacement);
  EXPECT_TRUE(contains(list[0].file, "sample.toml"));
  EXPECT_TRUE(contains(list[0].message, slip.found)) << list[0].message;
  EXPECT_TRUE(contains(list[0].message, slip.advice)) << list[0].message;
}

INSTANTIATE_TEST_SUITE_P(
    Reader, OneSlip,
    ::testing::Values(
        Slip{"slit", "slitt = true", "unknown key \"strip.slitt\"", "did you mean \"strip.slit\""},
        Slip{"[switch]", "[swich]", "unknown key \"swich\"", "did you mean \"switch\""},
        Slip{"slit", "force = \"3 N\"", "unknown key \"strip.force\"", "pressing.force"},
        Slip{"slit", "zzzzzzzzzzz = 1", "unknown key", "allowed in [strip] are name, material"},
        Slip{"thickness", "thickness = \"25 N\"", "is a force where a length", "0.005 mm to 2 mm"},
        Slip{"force", "force = \"0.15 mm\"", "is a length where a force", "0.01 N to 5000 N"},
        Slip{"force", "force = \"26 kN\"", "out of range", "0.01 N to 5000 N"},
        Slip{"force", "force = \"-25 N\"", "out of range", "0.01 N to 5000 N"},
        Slip{"force", "force = \"nan N\"", "not a finite number", "allowed is"},
        Slip{"force", "force = 25", "has no unit", "\"1 N\""},
        Slip{"force", "force = \"25\"", "has no unit", "\"1 N\""},
        Slip{"force", "force = true", "is a truth value", "a text with a unit"},
        Slip{"force", "force = [\"25 N\"]", "is a list", "a text with a unit"},
        Slip{"force", "force = 1979-05-27", "is a date", "a text with a unit"},
        Slip{"charge_voltage", "charge_voltage = \"16,5 V\"", "comma", "write a point"},
        Slip{"parallel", "parallel = 0", "out of range", "1 to 100000"},
        Slip{"parallel", "parallel = 1.5", "is a number", "a whole number"},
        Slip{"parallel", "parallel = \"20\"", "is a text", "a whole number"},
        Slip{"parallel", "tolerance = nan", "not a finite number", "0 to 0.9"},
        Slip{"slit", "slit = \"yes\"", "is a text", "true or false"},
        Slip{"end", "end = \"negativ bottom\"", "did you mean \"negative bottom\"",
             "\"positive cap\""},
        Slip{"size", "size = \"18560\"", "did you mean \"18650\"", "\"21700\""},
        Slip{"kind", "kind = \"condenser\"", "is not known", "\"capacitor bank\""},
        Slip{"title", "title = 5", "is a whole number", "a text in quotes"},
        Slip{"material", "material = \"nickle-200\"", "there is no material \"nickle-200\"",
             "did you mean \"nickel-200\""},
        Slip{"material", "material = \"../../etc/passwd\"", "there is no material", "known are"},
        Slip{"pulses", "pulses = [[\"8 ms\"]]", "is not a pair", "list of pairs"},
        Slip{"pulses", "pulses = [[\"8 ms\", \"3 mm\"]]", "a length where a time", "list of pairs"},
        Slip{"pulses", "pulses = []", "empty list", "list of pairs"},
        Slip{"pulses", "pulses = \"8 ms\"", "is a text", "list of pairs"},
        Slip{"rated_voltage", "peak = \"600 A\"", "has no meaning here",
             "source.kind = \"exponential current\""},
        Slip{"force", "force = \"25 N\\n\\u0007\"", "belongs to no unit", "allowed is"}),
    [](const auto& slip) { return "n" + std::to_string(slip.index); });

TEST(Complaints, missing_keys_point_to_their_table) {
  const Edited edited = with_line("part_esr", "# taken out");
  const auto list = complaints_about(edited.text);
  ASSERT_EQ(list.size(), 1u);
  EXPECT_EQ(list[0].excerpt, "[source]                       # 20 parts in parallel: 94 mF, 12 J");
  EXPECT_TRUE(contains(list[0].message, "source.part_esr is missing")) << list[0].message;
  EXPECT_TRUE(contains(list[0].message, "data sheet")) << list[0].message;
}

TEST(Complaints, an_empty_file_says_what_every_case_needs) {
  const auto list = complaints_about("");
  std::string all;
  for (const Complaint& complaint : list) all += complaint.message + '\n';
  for (const char* key : {"can.thickness", "pressing.force", "source.kind"})
    EXPECT_TRUE(contains(all, std::string(key) + " is missing")) << all;
  EXPECT_EQ(list.size(), 3u) << all;
}

TEST(Complaints, come_all_at_once_in_the_order_of_the_lines) {
  const auto list = complaints_about(R"([strip]
thicknes = "0.15 mm"
material = "nickel-2000"
[pressing]
force = "25 mm"
[electrode]
tip_diameter = "5 mm"
body_diameter = "3 mm"
[source]
kind = "battery"
open_circuit_voltage = "-3 V"
[can]
thickness = "0.3 mm"
)");
  std::vector<int> lines;
  for (const Complaint& complaint : list) lines.push_back(complaint.line);
  EXPECT_TRUE(std::is_sorted(lines.begin(), lines.end()));
  for (const int line : {2, 3, 5, 7, 8, 9, 11})
    EXPECT_EQ(std::count(lines.begin(), lines.end(), line), 1) << line;
  EXPECT_EQ(list.size(), 7u);
}

TEST(Complaints, of_combinations_point_to_a_key_that_is_given) {
  const auto list = complaints_about(pure_check +
                                     "[[probe]]\nname = \"P4\"\npart = \"strip\"\n"
                                     "z = \"-0.1 mm\"\n");
  ASSERT_EQ(list.size(), 1u);
  EXPECT_EQ(list[0].excerpt, "[[probe]]");
  EXPECT_TRUE(contains(list[0].message, "outside the part \"strip\"")) << list[0].message;

  Edited narrow = with_line("slit", "width = \"5 mm\"\ndirection = \"across\"");
  const auto across = complaints_about(narrow.text);
  ASSERT_EQ(across.size(), 1u);
  EXPECT_TRUE(contains(across[0].message, "takes 5.5 mm, the strip has 5 mm")) << across[0].message;
  EXPECT_EQ(across[0].line, narrow.line + 1);
}

TEST(Complaints, need_a_hardness_under_the_constriction_law) {
  const auto list = complaints_about("pressing.force = \"20 N\"\n" +
                                     with(pure_check,
                                          "law = \"fixed\"\narea_resistance = \"2.0e-9 ohm m2\"\n"
                                          "area_conductance = \"1e5 W/m2/K\"\n",
                                          "law = \"constriction\"\n"));
  ASSERT_EQ(list.size(), 2u);
  EXPECT_TRUE(contains(list[0].message, "has no hardness"));
}

TEST(Complaints, charging_above_the_rating_is_none) {
  const Edited edited = with_line("rated_voltage", "rated_voltage = \"10 V\"");
  EXPECT_TRUE(complaints_about(edited.text).empty());
}

TEST(Complaints, of_materials_show_where_they_are) {
  const auto list = complaints_about(pure_check + R"([materials.odd]
density = "3 m"
specific_heat = {unit = "J/kg/K", points = [[300, 1], [200, 3]]}
thermal_conductivty = "3 W/m/K"
thermal_conductivity = {points = [[300, "nan W/m/K"]]}
resistivity = {value = "7e-8 ohm m", temperature_coefficient = "-0.005 /K", reference_temperature = "293.15 K"}
melting = {solidus = "1700 K", liquidus = "1600 K", latent_heat = "1 J/kg"}
boiling = {temperature = "3000 K"}
)");
  ASSERT_EQ(list.size(), 7u);
  for (const char* words :
       {"density = \"3 m\" is a length where a density", "temperatures do not increase",
        "did you mean \"thermal_conductivity\"", "not a finite number", "falls to zero at 493 K",
        "liquidus below its solidus", "needs `latent_heat`"})
    EXPECT_TRUE(std::any_of(list.begin(), list.end(), [&](const Complaint& c) {
      return contains(c.message, words) && c.line > 0 && !c.excerpt.empty();
    })) << words;
}

TEST(Complaints, tell_of_broken_toml_with_its_line) {
  for (const std::string text :
       {"title = \"a\"\n[cell\nsize = 3\n", "title = \"a\"\nx = = 2\n",
        "title = \"a\"\ntitle = \"b\"\n", "title = \"a\"\nb = \"\xff\xfe\"\n"}) {
    const auto list = complaints_about(text);
    ASSERT_EQ(list.size(), 1u) << text;
    EXPECT_EQ(list[0].line, 2) << list[0].message;
    EXPECT_TRUE(contains(list[0].message, "not understood as TOML")) << list[0].message;
    EXPECT_FALSE(list[0].excerpt.empty());
  }
}

TEST(Complaints, refuse_what_is_no_text) {
  const auto list = complaints_about(std::string("title = \"a\"\0\0\0", 14));
  ASSERT_EQ(list.size(), 1u);
  EXPECT_TRUE(contains(list[0].message, "not a text file"));
}

class Files : public ::testing::Test {
 protected:
  static std::string message_about(const std::filesystem::path& file) {
    return message_of([&] { read_case(file); });
  }

  const test::TemporaryFolder of_its_own_;
  const std::filesystem::path folder_ = of_its_own_.path();
};

TEST_F(Files, that_are_missing_folders_or_too_long_are_refused) {
  EXPECT_TRUE(contains(message_about(folder_ / "none.toml"), "there is no such file"));
  EXPECT_TRUE(contains(message_about(folder_), "this is a folder"));
  EXPECT_TRUE(contains(message_about("/dev/zero"), "not an ordinary file"));
  const auto big = folder_ / "big.toml";
  std::ofstream(big) << std::string(1'000'001, '#');
  EXPECT_TRUE(contains(message_about(big), "has 1000001 bytes; allowed are at most 1000000"));
}

TEST_F(Files, of_a_current_are_read_beside_the_case) {
  const std::string text = pure_check.substr(0, pure_check.find("kind = \"exponential")) +
                           "kind = \"measured current\"\nfile = \"trace.csv\"\n" +
                           pure_check.substr(pure_check.find("[numerics]"));
  std::ofstream(folder_ / "case.toml") << text;
  EXPECT_TRUE(contains(message_about(folder_ / "case.toml"), "there is no such file"));

  std::ofstream(folder_ / "trace.csv") << "time [ms],current [kA],remark\n0,0.1,a\n\n0.5,1.2,b\n";
  const Case sound = read_case(folder_ / "case.toml");
  const auto& trace = std::get<circuit::TableCurrent>(sound.problem.circuit.source);
  EXPECT_EQ(trace.time, (std::vector<double>{0, 0.5e-3}));
  EXPECT_EQ(trace.current, (std::vector<double>{100, 1200}));

  std::ofstream(folder_ / "trace.csv") << "time [ms];current [A]\n0;1\n1;x\n1;2\n0.5;3\n";
  const std::string message = message_about(folder_ / "case.toml");
  EXPECT_TRUE(contains(message, "trace.csv, line 3: this line does not start with a number"))
      << message;
  EXPECT_TRUE(contains(message, "line 5: this line has a time that is not after")) << message;

  std::ofstream(folder_ / "trace.csv") << "time,current\n0,1\n1,2\n";
  EXPECT_TRUE(contains(message_about(folder_ / "case.toml"), "name the columns with their units"));
}

}  // namespace
}  // namespace tabmelt::testing
