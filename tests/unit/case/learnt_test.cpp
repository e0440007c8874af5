// What was learnt, as a file that a case takes by name.
#include "io/case/learnt.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "io/case/explain.h"
#include "io/case/overrides.h"
#include "io/case/spreads.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

class LearntFile : public ::testing::Test {
 protected:
  LearntFile() {
    std::string name = (fs::temp_directory_path() / "tabmelt-learnt-XXXXXX").string();
    folder_ = mkdtemp(name.data());
  }
  ~LearntFile() override { fs::remove_all(folder_); }

  void write(const std::string& text) const { std::ofstream(folder_ / "l.toml") << text; }
  Case read(const std::string& lines, const std::vector<Override>& overrides = {}) const {
    return read_case_text(lines + template_case(), folder_ / "case.toml", overrides);
  }
  std::string complaint(const std::string& lines) const {
    try {
      read(lines);
    } catch (const InputError& error) {
      std::string all;
      for (const Complaint& c : error.complaints())
        all += c.file + ":" + std::to_string(c.line) + ": " + c.message + "\n";
      return all;
    }
    return "";
  }
  static double force(const Case& read) { return read.problem.pressing.force; }

  fs::path folder_;
};

const std::string taking = "learnt = \"l.toml\"\n";
const std::string file =
    "about = \"twelve welds\"\n"
    "[[learnt]]\nkey = \"pressing.force\"\nvalue = \"26.5 N\"\nspread = \"normal 1.2 N\"\n"
    "[[learnt]]\nkey = \"layer.insulating disc.thickness\"\nvalue = \"0.31 mm\"\n"
    "[[learnt]]\nkey = \"materials.nickel-200.hardness\"\nvalue = \"1.4 GPa\"\n";

TEST_F(LearntFile, ReplacesValuesAndSpreads) {
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

TEST_F(LearntFile, SetReplacesWhatWasLearnt) {
  write(file);
  EXPECT_DOUBLE_EQ(force(read(taking, {{"pressing.force", "33 N"}})), 33);
  EXPECT_DOUBLE_EQ(force(read(taking, {{"learnt", "none"}})), 30);
  EXPECT_DOUBLE_EQ(force(read("", {{"learnt", "l.toml"}})), 26.5);
}

// The complete text holds the values and needs the file no more.
TEST_F(LearntFile, TheCompleteTextStandsAlone) {
  write(file);
  const Case with = read(taking);
  const Case again = read_case_text(with.full_text, "/nowhere/case.toml");
  EXPECT_DOUBLE_EQ(force(again), 26.5);
  EXPECT_EQ(with.full_text.find("learnt ="), std::string::npos);
}

TEST_F(LearntFile, IsWrittenAsItIsRead) {
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

TEST_F(LearntFile, ACaseIsMadeToTakeAnother) {
  EXPECT_EQ(taking_learnt("title = \"a\"\n", "b.toml"), "learnt = \"b.toml\"\ntitle = \"a\"\n");
  EXPECT_EQ(taking_learnt("title = \"a\"\nlearnt = \"old\"\n[strip]\n", "b.toml"),
            "learnt = \"b.toml\"\ntitle = \"a\"\n[strip]\n");
}

TEST_F(LearntFile, FaultsAreNamedWithTheirPlace) {
  EXPECT_NE(complaint(taking).find("there is no such file"), std::string::npos);
  write("about = \"x\"\n");
  EXPECT_NE(complaint(taking).find("holds no [[learnt]]"), std::string::npos);
  write("[[learnt]]\nkey = \"pressing.farce\"\nvalue = \"3 N\"\n");
  EXPECT_NE(complaint(taking).find("l.toml:1: "), std::string::npos) << complaint(taking);
  EXPECT_NE(complaint(taking).find("pressing.force"), std::string::npos);
  write("[[learnt]]\nkey = \"pressing.force\"\nvalue = \"3 V\"\n");
  EXPECT_NE(complaint(taking).find("pressing.force = \"3 V\""), std::string::npos)
      << complaint(taking);
  write("[[learnt]]\nkey = \"pressing.force\"\n");
  EXPECT_NE(complaint(taking).find("needs key and value"), std::string::npos);
  write("[[learnt]]\nkey = \"pressing.force\"\nvalue = 3\nworth = \"\"\n");
  EXPECT_NE(complaint(taking).find("value must be a text"), std::string::npos);
  EXPECT_NE(complaint(taking).find("unknown worth"), std::string::npos);
  write("learnt = [1]\nmore = 1\n");
  EXPECT_NE(complaint(taking).find("write [[learnt]]"), std::string::npos);
  EXPECT_NE(complaint(taking).find("unknown key more"), std::string::npos);
  EXPECT_NE(complaint("learnt = 3\n").find("learnt must be the name of a file"), std::string::npos);
}

TEST_F(LearntFile, IsExplained) {
  EXPECT_NE(explain("learnt").find("--set replaces both"), std::string::npos);
}

}  // namespace
}  // namespace tabmelt
