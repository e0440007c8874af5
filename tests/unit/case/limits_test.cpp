// Cases too large to be meant: each is refused with a complaint, before anything is computed.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "io/case/key_depth.h"
#include "tests/support/temporary_folder.h"
#include "tests/unit/case/sample_cases.h"

namespace tabmelt::testing {
namespace {

std::string repeated(int times, const std::string& entry) {
  std::string text;
  for (int n = 0; n < times; ++n) text += fmt::format(fmt::runtime(entry), n);
  return text;
}

const std::string layer =
    "[[layer]]\nname = \"n{}\"\nmaterial = \"air\"\nthickness = \"0.001 mm\"\n";
const std::string probe = "[[probe]]\nname = \"p{}\"\npart = \"can\"\nz = \"-0.01 mm\"\n";

std::string first_complaint(const std::string& text) {
  const auto list = complaints_about(text);
  return list.empty() ? "" : list.front().message;
}

TEST(Limits, layers_that_cannot_be_numbered_are_refused) {
  EXPECT_EQ(first_complaint(bank_case + repeated(150, layer)), "");
  for (const int many : {199, 200, 300, 2000})
    EXPECT_TRUE(contains(first_complaint(bank_case + repeated(many, layer)), "too many")) << many;
}

TEST(Limits, probes_and_pulses) {
  EXPECT_EQ(first_complaint(bank_case + repeated(1000, probe)), "");
  EXPECT_TRUE(contains(first_complaint(bank_case + repeated(1001, probe)), "at most 1000"));
  const auto with_pulses = [](int many) {
    return with(bank_case, "[[\"8 ms\", \"0 ms\"]]",
                "[" + repeated(many, "[\"0.01 ms\", \"0.01 ms\"], ") + "]");
  };
  EXPECT_EQ(first_complaint(with_pulses(1000)), "");
  EXPECT_TRUE(contains(first_complaint(with_pulses(1001)), "at most 1000"));
}

TEST(Limits, keys_of_many_parts_never_reach_the_parser) {
  std::string key = "a";
  for (int n = 1; n < 100000; ++n) key += ".a";
  for (const std::string& text : {key + " = 1", "[" + key + "]", "[[" + key + "]]",
                                  "x = { " + key + " = 1 }", key, "\n\n" + key + " = 1"}) {
    const auto list = complaints_about(text);
    ASSERT_EQ(list.size(), 1u);
    EXPECT_TRUE(contains(list[0].message, "more than 64 parts")) << list[0].message;
    EXPECT_LT(list[0].excerpt.size(), 200u);
  }
}

TEST(Limits, only_dots_between_parts_of_a_key_count) {
  const std::string dots(500, '.');
  for (const std::string& text :
       {"x = \"" + dots + "\"", "x = '" + dots + "'", "# " + dots,
        "x = \"\"\"\n" + dots + "\n\"\"\"", "x = '''" + dots + "'''", "x = \"\\\"" + dots + "\"",
        "x = [" + repeated(500, "1.5, ") + "]", repeated(500, "a{}.b = 1.5\n")})
    EXPECT_EQ(line_of_too_deep_key(text), 0) << text.substr(0, 20);
  EXPECT_EQ(line_of_too_deep_key("x = \"\"\"\n\n\"\"\"\n" + dots), 4) << "lines in quotes count";
  EXPECT_EQ(line_of_too_deep_key("x = \"open\n" + dots), 2) << "quotes end with the line";
}

TEST(Limits, complaints_are_counted_where_nobody_reads_on) {
  const auto list =
      complaints_about(bank_case + "[nonsense]\n" + "[limits]\n" + repeated(30000, "k{} = 1\n"));
  ASSERT_EQ(list.size(), 101u);
  EXPECT_EQ(list.back().message, "and 29901 complaints more");
}

TEST(Limits, a_skin_is_not_plated_itself) {
  const std::string plated =
      "[materials.m{}]\nbase = \"copper\"\n"
      "plating = {{ material = \"m{}\", thickness = \"5 um\", sheet = \"0.1 mm\" }}\n";
  std::string chain = "[materials.m400]\nbase = \"copper\"\n";
  for (int n = 0; n < 400; ++n) chain += fmt::format(fmt::runtime(plated), n, n + 1);
  const auto list = complaints_about(bank_case + chain);
  ASSERT_FALSE(list.empty());
  EXPECT_TRUE(contains(list[0].message, "plated itself")) << list[0].message;
  // One skin is what plating is for.
  EXPECT_TRUE(complaints_about(bank_case + fmt::format(fmt::runtime(plated), 0, 1) +
                               "[materials.m1]\nbase = \"nickel\"\n")
                  .empty());
}

TEST(Limits, texts_hold_no_control_characters) {
  for (const char* code : {"\\u001b[31m", "\\u0007", "\\n", "\\u009b", "\\u007f"}) {
    const std::string text = with(bank_case, "0.15 mm nickel", code);
    EXPECT_TRUE(contains(first_complaint(text), "holds control characters")) << code;
  }
}

class Folder : public ::testing::Test {
 protected:
  Folder() { std::filesystem::create_directories(path / "case" / "materials"); }
  void put(const std::string& file, const std::string& text) { std::ofstream(path / file) << text; }
  Case read_here(const std::string& text) { return read_case_text(text, path / "case" / "x.toml"); }
  std::vector<Complaint> complaints_here(const std::string& text) {
    return complaints_of([&] { read_here(text); });
  }

  const test::TemporaryFolder of_its_own_;
  const std::filesystem::path path = of_its_own_.path();
};

using MaterialFolders = Folder;

const std::string made_up =
    "density = \"1234 kg/m3\"\nspecific_heat = \"1 kJ/kg/K\"\n"
    "thermal_conductivity = \"1 W/m/K\"\n";
const std::string layer_of = "[[layer]]\nname = \"a\"\nmaterial = \"{}\"\nthickness = \"1 mm\"\n";

TEST_F(MaterialFolders, are_not_taken_from_folders_above_or_the_environment) {
  std::filesystem::create_directories(path / "materials");
  put("materials/from-above.toml", made_up);
  put("case/materials/from-case.toml", made_up);
  setenv("TABMELT_MATERIALS", (path / "materials").c_str(), 1);
  const auto list = complaints_here(pure_check + fmt::format(fmt::runtime(layer_of), "from-above"));
  unsetenv("TABMELT_MATERIALS");
  ASSERT_EQ(list.size(), 1u);
  EXPECT_TRUE(contains(list[0].message, "there is no material"));
  EXPECT_NO_THROW(read_here(pure_check + fmt::format(fmt::runtime(layer_of), "from-case")));
}

TEST_F(MaterialFolders, that_replace_shipped_ones_are_announced) {
  const std::string air = fmt::format(fmt::runtime(layer_of), "air");
  EXPECT_TRUE(read_here(pure_check + air).notices.empty());
  const auto own = read_here(pure_check + air + "[materials.air]\n" + made_up).notices;
  ASSERT_EQ(own.size(), 1u);
  EXPECT_TRUE(contains(own[0], "\"air\" of the case takes the place of the shipped one"));
  put("case/materials/air.toml", made_up);
  const auto beside = read_here(pure_check + air).notices;
  ASSERT_EQ(beside.size(), 1u);
  EXPECT_TRUE(contains(beside[0], (path / "case" / "materials" / "air.toml").string()));
  // The complete text holds shipped materials word for word.
  const Case shipped = read(bank_case);
  EXPECT_TRUE(shipped.notices.empty());
  EXPECT_TRUE(read(shipped.full_text).notices.empty());
}

using CurrentTable = Folder;

TEST_F(CurrentTable, never_shows_what_stands_in_a_file_that_is_none) {
  const std::string bench = "[source]\nkind = \"measured current\"\nfile = \"{}\"\n";
  const std::string before = bank_case.substr(0, bank_case.find("[source]"));
  put("case/secret", "root:ladder:1:2:3\ntime [s],current [secret]\n");
  put("case/half.csv", "time [s],current [A]\n0,1\nladder,2\n");
  for (const char* file :
       {"secret", "half.csv", "/dev/zero", "/dev/stdin", ".", "/proc/self/mem"}) {
    const auto list = complaints_here(before + fmt::format(fmt::runtime(bench), file));
    ASSERT_FALSE(list.empty()) << file;
    for (const Complaint& one : list) {
      EXPECT_FALSE(contains(one.excerpt, "ladder")) << file;
      EXPECT_FALSE(contains(one.message, "ladder")) << one.message;
    }
  }
}

}  // namespace
}  // namespace tabmelt::testing
