// Studies as a person starts them: answers, files, going on after an interruption, complaints.
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <sstream>
#include <thread>

#include "tests/command/program.h"

namespace tabmelt::test {
namespace {

namespace fs = std::filesystem;

// A good weld on a coarse grid: some hundredths of a second each.
const std::string quick = quick_weld;

class Studies : public InFolder {
 protected:
  void SetUp() override { give("case.toml", quick); }
};

std::vector<std::string> tolerance(const std::string& into) {
  return {"tolerance", "case.toml", "--draws", "16", "--no-windows", "-o", into};
}

std::size_t lines(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

TEST_F(Studies, set_changes_a_value_of_run_and_check) {
  const Finished ran = tell({"run", "case.toml", "--no-pictures", "--set", "pressing.force=31 N",
                             "--set", "strip.thickness=0.12 mm", "-o", "r"});
  ASSERT_EQ(ran.status, 0) << ran.error;
  EXPECT_NE(text("r/history.csv").find(",31,"), std::string::npos);
  const Finished wrong = tell({"check", "case.toml", "--set", "pressing.force=31 kN"});
  EXPECT_EQ(wrong.status, 2);
  EXPECT_NE(wrong.error.find("pressing.force = \"31 kN\" is out of range"), std::string::npos);
  EXPECT_NE(wrong.error.find("--set:1:"), std::string::npos) << wrong.error;
}

TEST_F(Studies, tolerance_answers_and_leaves_files) {
  const Finished ran = tell({"tolerance", "case.toml", "--draws", "16", "-o", "t"});
  ASSERT_EQ(ran.status, 0) << ran.error;
  EXPECT_NE(ran.out.find("Chance of a good weld"), std::string::npos);
  EXPECT_NE(ran.out.find("What was taken as uncertain"), std::string::npos);
  for (const char* name : {"t/tolerance.md", "t/tolerance.csv", "t/tolerance.png", "t/study.toml"})
    EXPECT_TRUE(exists(name)) << name;
  EXPECT_EQ(lines(text("t/tolerance.csv")), 17u);
}

TEST_F(Studies, every_run_is_kept_and_computed_once) {
  const Finished first = tell(tolerance("t"));
  ASSERT_EQ(first.status, 0) << first.error;
  EXPECT_NE(first.out.find("17 runs computed, 0 were there already"), std::string::npos);
  const std::string table = text("t/tolerance.csv");
  const Finished again = tell(tolerance("t"));
  EXPECT_NE(again.out.find("0 runs computed, 17 were there already"), std::string::npos)
      << again.out;
  EXPECT_EQ(text("t/tolerance.csv"), table);
}

TEST_F(Studies, killed_in_the_middle_it_goes_on_and_says_the_same) {
  ASSERT_EQ(tell(tolerance("whole")).status, 0);
  Program victim(tolerance("killed"), folder());
  const auto deadline = std::chrono::steady_clock::now() + std::chrono::seconds(60);
  while (lines(text("killed/runs/0001.jsonl")) < 5 && std::chrono::steady_clock::now() < deadline)
    std::this_thread::sleep_for(std::chrono::milliseconds(2));
  victim.send(SIGKILL);
  victim.finished();
  ASSERT_GE(lines(text("killed/runs/0001.jsonl")), 5u);
  ASSERT_FALSE(exists("killed/tolerance.csv")) << "it was not killed in the middle";
  const Finished rest = tell(tolerance("killed"));
  EXPECT_EQ(rest.status, 0) << rest.error;
  EXPECT_EQ(rest.out.find(" 0 were there already"), std::string::npos) << rest.out;
  EXPECT_EQ(text("killed/tolerance.csv"), text("whole/tolerance.csv"));
  EXPECT_EQ(text("killed/tolerance.md"), text("whole/tolerance.md"));
}

TEST_F(Studies, interrupted_it_tells_what_is_known) {
  Program stopped({"tolerance", "case.toml", "--draws", "400", "-o", "t"}, folder());
  const auto deadline = std::chrono::steady_clock::now() + std::chrono::seconds(60);
  while (lines(text("t/runs/0001.jsonl")) < 5 && std::chrono::steady_clock::now() < deadline)
    std::this_thread::sleep_for(std::chrono::milliseconds(2));
  stopped.send(SIGINT);
  const Finished ended = stopped.finished();
  EXPECT_EQ(ended.status, 3);
  EXPECT_NE(ended.error.find("every finished run is kept"), std::string::npos) << ended.error;
  EXPECT_TRUE(exists("t/tolerance.png"));
  EXPECT_NE(text("t/tolerance.md").find("stopped before its end"), std::string::npos);
}

std::vector<std::string> lobe(const std::string& cells) {
  return {"map",      "case.toml",
          "--over",   "source.charge_voltage=3..9 V",
          "--over",   "pressing.force=15 N..60 N",
          "--cells",  cells,
          "--coarse", "2",
          "-o",       "m"};
}

TEST_F(Studies, map_leaves_tables_and_a_finer_one_uses_the_coarser) {
  const Finished coarse = tell(lobe("4"));
  ASSERT_EQ(coarse.status, 0) << coarse.error;
  EXPECT_NE(coarse.out.find(" of 25 points computed"), std::string::npos) << coarse.out;
  const std::string stem = "m/map-source_charge_voltage-pressing_force";
  EXPECT_EQ(lines(text(stem + ".csv")), 26u);
  EXPECT_TRUE(exists(stem + ".h5") && exists(stem + ".png"));
  const std::size_t before = lines(text("m/runs/0001.jsonl"));
  const Finished fine = tell(lobe("8"));
  ASSERT_EQ(fine.status, 0) << fine.error;
  EXPECT_NE(fine.out.find(" of 81 points computed"), std::string::npos);
  EXPECT_NE(fine.out.find(std::to_string(before) + " were there already"), std::string::npos)
      << fine.out;
}

// Of the verdicts of a map, one letter for each corner.
std::string verdicts(const std::string& csv) {
  std::string letters;
  std::istringstream in(csv);
  for (std::string line; std::getline(in, line);) {
    std::istringstream cells(line);
    std::string cell;
    for (int n = 0; n < 4; ++n) std::getline(cells, cell, ',');
    letters += cell.substr(0, 1);
  }
  return letters;
}

// What a full grid shows and a refined one does not are islands of a single corner, which a coarse
// solver grid brings about at the ragged edge of a limit.
TEST_F(Studies, map_refined_is_that_of_the_full_grid) {
  ASSERT_EQ(tell(lobe("8")).status, 0);
  const char* table = "m/map-source_charge_voltage-pressing_force.csv";
  const std::string refined = verdicts(text(table));
  auto whole = lobe("8");
  *std::find(whole.begin(), whole.end(), "2") = "8";
  const Finished all = tell(whole);
  ASSERT_EQ(all.status, 0) << all.error;
  EXPECT_NE(all.out.find("81 of 81 points"), std::string::npos);
  const std::string full = verdicts(text(table));
  ASSERT_EQ(refined.size(), full.size());
  int differ = 0;
  for (std::size_t n = 0; n < full.size(); ++n) differ += refined[n] != full[n] ? 1 : 0;
  EXPECT_LE(differ, 2) << refined << "\n" << full;
  EXPECT_GT(std::count(full.begin(), full.end(), 'f'), 10);
}

TEST_F(Studies, map_of_the_chance) {
  auto chance = lobe("2");
  chance.insert(chance.end(), {"--chance", "--draws", "4"});
  const Finished ran = tell(chance);
  ASSERT_EQ(ran.status, 0) << ran.error;
  EXPECT_TRUE(exists("m/chance-source_charge_voltage-pressing_force.h5"));
  EXPECT_NE(text("m/chance-source_charge_voltage-pressing_force.csv").find("chance [1]"),
            std::string::npos);
}

TEST_F(Studies, advise_names_a_change_that_makes_it_good) {
  const Finished ran = tell(
      {"advise", "case.toml", "--set", "source.charge_voltage=3 V", "--draws", "4", "-o", "a"});
  ASSERT_EQ(ran.status, 0) << ran.error;
  ASSERT_NE(ran.out.find("tabmelt run CASE --set "), std::string::npos) << ran.out;
  // Followed word by word.
  const std::string words = ran.out.substr(ran.out.find("--set ") + 6);
  const std::string set = words.substr(0, words.find('\n'));
  std::vector<std::string> follow{
      "run", "case.toml", "--no-pictures", "-o", "good", "--set", "source.charge_voltage=3 V"};
  std::istringstream each(set);
  for (std::string one; std::getline(each, one);) {
    std::string rest = one;
    while (!rest.empty()) {
      const auto next = rest.find(" --set ");
      std::string item = rest.substr(0, next);
      item.erase(std::remove(item.begin(), item.end(), '"'), item.end());
      follow.insert(follow.end(), {"--set", item});
      rest = next == std::string::npos ? "" : rest.substr(next + 7);
    }
  }
  const Finished good = tell(follow);
  EXPECT_EQ(good.status, 0) << good.error;
  EXPECT_NE(good.out.find("GOOD WELD"), std::string::npos);
  EXPECT_EQ(good.out.find("NOT A GOOD"), std::string::npos) << good.out;
}

TEST_F(Studies, run_advises_when_it_is_asked_to_and_the_weld_is_bad) {
  const std::vector<std::string> bad{
      "run", "case.toml", "--no-pictures", "--advise",
      "-o",  "bad",       "--set",         "source.charge_voltage=5 V"};
  const Finished ran = tell(bad);
  EXPECT_EQ(ran.status, 0) << ran.error;
  EXPECT_NE(ran.out.find("What helps, found by running it"), std::string::npos) << ran.out;
  EXPECT_TRUE(exists("studies/" + folder().filename().string() + "/advice.md") ||
              exists("studies/case/advice.md"));
  const Finished good = tell({"run", "case.toml", "--no-pictures", "--advise", "-o", "good"});
  EXPECT_EQ(good.out.find("What helps"), std::string::npos);
}

TEST_F(Studies, design_finds_a_cheap_set_up_or_says_none) {
  const std::vector<std::string> common{
      "--vary", "source.parallel=4..20", "--least", "source.parallel", "--draws", "4", "--trials",
      "12"};
  std::vector<std::string> found{"design", "case.toml", "--chance", "0.5", "-o", "d"};
  found.insert(found.end(), common.begin(), common.end());
  const Finished ran = tell(found);
  ASSERT_EQ(ran.status, 0) << ran.error;
  EXPECT_NE(ran.out.find("Least source.parallel = "), std::string::npos) << ran.out;
  std::vector<std::string> none{"design", "case.toml", "--set", "source.charge_voltage=2 V",
                                "-o",     "n"};
  none.insert(none.end(), common.begin(), common.end());
  const Finished nothing = tell(none);
  ASSERT_EQ(nothing.status, 0) << nothing.error;
  EXPECT_NE(nothing.out.find("None: no set-up"), std::string::npos) << nothing.out;
}

TEST_F(Studies, complaints_name_what_is_wrong) {
  const auto complaint = [&](const std::vector<std::string>& arguments, const std::string& words) {
    const Finished ran = tell(arguments);
    EXPECT_EQ(ran.status, 2) << words;
    EXPECT_NE(ran.error.find(words), std::string::npos) << ran.error;
  };
  complaint({"tolerance", "nowhere.toml"}, "no such file");
  complaint({"tolerance", "case.toml", "--set", "spread.pressing.force=20 %"}, "spread");
  complaint(
      {"map", "case.toml", "--over", "pressing.farce=1..2 N", "--over", "strip.width=5..8 mm"},
      "did you mean");
  complaint(
      {"map", "case.toml", "--over", "pressing.force=0..60 N", "--over", "strip.width=5..8 mm"},
      "pressing.force: 0 N is out of range; allowed is 0.01 N to 5000 N");
  complaint({"map", "case.toml", "--over", "strip.material=1..2", "--over", "strip.width=5..8 mm"},
            "no number");
  complaint({"map", "case.toml", "--over", "pressing.force=15..60 N"}, "twice");
  complaint({"design", "case.toml", "--vary", "source.parallel=4..20", "--least", "parts"},
            "source.parallel");
  give("spread.toml", "spread.pressing.force = \"20 mm\"\n" + quick);
  complaint({"tolerance", "spread.toml"}, "spread.pressing.force");
  ASSERT_EQ(tell(tolerance("t")).status, 0);
  complaint({"tolerance", "case.toml", "--set", "pressing.force=31 N", "-o", "t"}, "another case");
}

TEST_F(Studies, progress_tells_the_time_left_on_a_terminal_and_nothing_in_a_pipe) {
  const std::string shown = on_a_terminal(
      {"tolerance", "case.toml", "--draws", "60", "--no-windows", "-o", "t"}, folder());
  EXPECT_NE(shown.find(" of 61 runs"), std::string::npos) << shown.substr(0, 500);
  EXPECT_NE(shown.find(" s left"), std::string::npos);
  EXPECT_EQ(tell(tolerance("p")).error, "");
}

}  // namespace
}  // namespace tabmelt::test
