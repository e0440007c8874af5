// One study in several processes: the same bytes for any number of them, also when one of them was
// killed in the middle.
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <thread>

#include "tests/command/program.h"

namespace tabmelt::test {
namespace {

namespace fs = std::filesystem;

std::string map_in(int processes, const std::string& folder, const std::string& before = "") {
  return before + "mpirun --allow-run-as-root --oversubscribe -n " + std::to_string(processes) +
         " " TABMELT_PROGRAM
         " map case.toml --over source.charge_voltage='3..9 V' --over pressing.force='15..60 N'"
         " --cells 4 --coarse 4 --no-pictures -o " +
         folder + " > " + folder + ".out 2> " + folder + ".error";
}

class Processes : public InFolder {
 protected:
  void SetUp() override {
#ifndef TABMELT_MPI
    GTEST_SKIP() << "built without MPI";
#endif
    give("case.toml", quick_weld);
  }
  int shell(const std::string& command) const {
    return std::system(("cd " + folder().string() + " || exit 1; " + command).c_str());
  }
  std::string csv(const std::string& into) const {
    return file_text(folder() / into / "map-source_charge_voltage-pressing_force.csv");
  }
  std::size_t kept(const std::string& into) const {
    std::size_t lines = 0;
    std::error_code ignored;
    for (const auto& entry : fs::directory_iterator(folder() / into / "runs", ignored)) {
      const std::string text = file_text(entry.path());
      lines += static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
    }
    return lines;
  }
};

TEST_F(Processes, any_number_of_them_gives_the_same_bytes) {
  for (const int n : {1, 2, 4}) {
    const std::string into = "m" + std::to_string(n);
    ASSERT_EQ(shell(map_in(n, into)), 0) << file_text(folder() / (into + ".error"));
  }
  EXPECT_GT(csv("m1").size(), 1000u);
  EXPECT_EQ(csv("m1"), csv("m2"));
  EXPECT_EQ(csv("m1"), csv("m4"));
  EXPECT_EQ(kept("m1"), kept("m4")) << "each run is computed by one process only";
  // Only one of them speaks.
  EXPECT_EQ(file_text(folder() / "m4.out").find("files in m4"),
            file_text(folder() / "m4.out").rfind("files in m4"));
}

TEST_F(Processes, one_killed_in_the_middle_the_study_goes_on) {
  ASSERT_EQ(shell(map_in(1, "whole")), 0);
  ASSERT_EQ(shell("( " + map_in(2, "killed", "exec ") + " ) & echo $! > pid"), 0);
  const auto deadline = std::chrono::steady_clock::now() + std::chrono::seconds(60);
  while (kept("killed") < 6 && std::chrono::steady_clock::now() < deadline)
    std::this_thread::sleep_for(std::chrono::milliseconds(2));
  // One of the two; the other cannot go on without it.
  ASSERT_EQ(shell("kill -KILL $(cut -d' ' -f1 /proc/$(cat pid)/task/$(cat pid)/children); "
                  "while kill -0 $(cat pid) 2>/dev/null; do sleep 0.05; done"),
            0);
  ASSERT_GE(kept("killed"), 6u);
  ASSERT_EQ(csv("killed"), "") << "they were not killed in the middle";
  ASSERT_EQ(shell(map_in(4, "killed")), 0) << file_text(folder() / "killed.error");
  EXPECT_EQ(csv("killed"), csv("whole"));
  EXPECT_EQ(file_text(folder() / "killed.out").find(" 0 were there already"), std::string::npos);
}

TEST_F(Processes, learning_and_fitting_say_the_same_in_any_number_of_them) {
  std::string brief = quick_weld;
  brief.replace(brief.find("5 ms"), 4, "2 ms");
  write_file(folder() / "case.toml", brief);
  write_file(folder() / "welds.csv", "source.charge_voltage [V],peel\n4,clean\n8,button\n");
  std::string trace = "time [us],current [A]\n";
  for (int n = 0; n < 300; ++n)
    trace += std::to_string(4 * n) + "," + std::to_string((n < 50 ? 0 : 1700 - n) + n % 3) + "\n";
  write_file(folder() / "pulse.csv", trace);
  for (const std::string n : {"1", "2"}) {
    const std::string start =
        "mpirun --allow-run-as-root --oversubscribe -n " + n + " " TABMELT_PROGRAM " ";
    ASSERT_EQ(shell(start +
                    "learn case.toml welds.csv --draws 20 --rounds 1 --candidates 2 "
                    "--no-pictures -o l" +
                    n + " > out 2> error"),
              0)
        << file_text(folder() / "error");
    ASSERT_EQ(
        shell(start + "fit case.toml pulse.csv --unknown joints.resistance --no-pictures -o f" + n +
              " > out 2> error"),
        0)
        << file_text(folder() / "error");
  }
  const auto file = [&](const std::string& name) { return file_text(folder() / name); };
  EXPECT_GT(file("l1/learn.csv").size(), 1000u);
  EXPECT_EQ(file("l1/learn.csv"), file("l2/learn.csv"));
  EXPECT_EQ(file("l1/learn.md"), file("l2/learn.md"));
  EXPECT_EQ(file("f1/fit.csv"), file("f2/fit.csv"));
  // Both come back to points that they had before, in another place of another batch.
  EXPECT_EQ(kept("l1"), kept("l2")) << "each run is computed by one process only";
  EXPECT_EQ(kept("f1"), kept("f2"));
}

TEST_F(Processes, a_complaint_is_told_once_and_ends_all) {
  const int status = shell(
      "mpirun --allow-run-as-root --oversubscribe -n 3 " TABMELT_PROGRAM
      " map case.toml --over no.key='5..14 V' --over pressing.force='15..60 N' 2> error > out");
  EXPECT_NE(status, 0);
  const std::string error = file_text(folder() / "error");
  const auto first = error.find("unknown key");
  ASSERT_NE(first, std::string::npos) << error;
  EXPECT_EQ(error.find("unknown key", first + 1), std::string::npos) << error;
}

}  // namespace
}  // namespace tabmelt::test
