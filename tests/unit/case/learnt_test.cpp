// What was learnt, as a file that a case takes by name.
#include "io/case/learnt.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "io/case/explain.h"
#include "io/case/overrides.h"
#include "io/case/spreads.h"
#include "tests/support/temporary_folder.h"
#include "tests/unit/case/sample_cases.h"

namespace tabmelt::testing {
namespace {

namespace fs = std::filesystem;

class LearntFile : public ::testing::Test {
 protected:
  void write(const std::string& text) const { std::ofstream(folder_ / "l.toml") << text; }
  Case read(const std::string& lines, const std::vector<Override>& overrides = {}) const {
    return read_case_text(lines + template_case(), folder_ / "case.toml", overrides);
  }
  std::string complaint(const std::string& lines) const {
    return message_of([&] { read(lines); });
  }
  static double force(const Case& read) { return read.problem.pressing.force; }

  const test::TemporaryFolder of_its_own_;
  const fs::path folder_ = of_its_own_.path();
};

const std::string taking = "learnt = \"l.toml\"\n";
const std::string file =
    "about = \"twelve welds\"\n"
    "[[learnt]]\nkey = \"pressing.force\"\nvalue = \"26.5 N\"\nspread = \"normal 1.2 N\"\n"
    "[[learnt]]\nkey = \"layer.insulating disc.thickness\"\nvalue = \"0.31 mm\"\n"
    "[[learnt]]\nkey = \"materials.nickel-200.hardness\"\nvalue = \"1.4 GPa\"\n";

TEST_F(LearntFile, replaces_values_and_spreads) {
  write(file);
  const Case with = read(taking);
  EXPECT_DOUBLE_EQ(force(with), 26.5);
  EXPECT_EQ(with.learnt.about, "twelve welds");
  ASSERT_EQ(with.learnt.values.size(), 3u);
  bool found = false;
  for (const UncertainKey& key : uncertain_keys(with))
    if (key.key == "pressing.force") {
      found = true;
      EXPECT_EQ(key.reason, "learnt: twelve welds");
      EXPECT_NEAR(key.distribution.quantile(0.841345), 27.7, 1e-3);
    }
  EXPECT_TRUE(found);
  EXPECT_NEAR(with.problem.inner[1].thickness, 0.31e-3, 1e-15) << with.problem.inner[1].name;
  EXPECT_NEAR(*with.problem.top().material->hardness, 1.4e9, 1);
}

TEST_F(LearntFile, set_replaces_what_was_learnt) {
  write(file);
  EXPECT_DOUBLE_EQ(force(read(taking, {{"pressing.force", "33 N"}})), 33);
  EXPECT_DOUBLE_EQ(force(read(taking, {{"learnt", "none"}})), 30);
  EXPECT_DOUBLE_EQ(force(read("", {{"learnt", "l.toml"}})), 26.5);
}

// The complete text holds the values and needs the file no more.
TEST_F(LearntFile, the_complete_text_stands_alone) {
  write(file);
  const Case with = read(taking);
  const Case again = read_case_text(with.full_text, "/nowhere/case.toml");
  EXPECT_DOUBLE_EQ(force(again), 26.5);
  EXPECT_FALSE(contains(with.full_text, "learnt ="));
}

TEST_F(LearntFile, is_written_as_it_is_read) {
  write(file);
  ComplaintLog log;
  Learnt learnt = read_learnt(folder_ / "l.toml", log);
  write(learnt_text(learnt));
  const Learnt again = read_learnt(folder_ / "l.toml", log);
  EXPECT_TRUE(log.empty());
  ASSERT_EQ(again.values.size(), learnt.values.size());
  for (std::size_t n = 0; n < again.values.size(); ++n) {
    EXPECT_EQ(again.values[n].key, learnt.values[n].key);
    EXPECT_EQ(again.values[n].value, learnt.values[n].value);
    EXPECT_EQ(again.values[n].spread, learnt.values[n].spread);
  }
  EXPECT_EQ(again.about, learnt.about);
}

TEST_F(LearntFile, a_case_is_made_to_take_another) {
  EXPECT_EQ(taking_learnt("title = \"a\"\n", "b.toml"), "learnt = \"b.toml\"\ntitle = \"a\"\n");
  EXPECT_EQ(taking_learnt("title = \"a\"\nlearnt = \"old\"\n[strip]\n", "b.toml"),
            "learnt = \"b.toml\"\ntitle = \"a\"\n[strip]\n");
}

TEST_F(LearntFile, faults_are_named_with_their_place) {
  EXPECT_TRUE(contains(complaint(taking), "there is no such file"));
  write("about = \"x\"\n");
  EXPECT_TRUE(contains(complaint(taking), "holds no [[learnt]]"));
  write("[[learnt]]\nkey = \"pressing.farce\"\nvalue = \"3 N\"\n");
  EXPECT_TRUE(contains(complaint(taking), "l.toml, line 1: ")) << complaint(taking);
  EXPECT_TRUE(contains(complaint(taking), "pressing.force"));
  write("[[learnt]]\nkey = \"pressing.force\"\nvalue = \"3 V\"\n");
  EXPECT_TRUE(contains(complaint(taking), "pressing.force = \"3 V\"")) << complaint(taking);
  write("[[learnt]]\nkey = \"pressing.force\"\n");
  EXPECT_TRUE(contains(complaint(taking), "needs key and value"));
  write("[[learnt]]\nkey = \"pressing.force\"\nvalue = 3\nworth = \"\"\n");
  EXPECT_TRUE(contains(complaint(taking), "value must be a text"));
  EXPECT_TRUE(contains(complaint(taking), "unknown worth"));
  write("learnt = [1]\nmore = 1\n");
  EXPECT_TRUE(contains(complaint(taking), "write [[learnt]]"));
  EXPECT_TRUE(contains(complaint(taking), "unknown key more"));
  EXPECT_TRUE(contains(complaint("learnt = 3\n"), "learnt must be the name of a file"));
}

}  // namespace
}  // namespace tabmelt::testing
