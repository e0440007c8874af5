// `tabmelt refine` as a person or a script meets it.
#include <gtest/gtest.h>

#include <chrono>
#include <csignal>
#include <sstream>
#include <thread>

#include "tests/command/program.h"

namespace tabmelt::test {
namespace {

const std::filesystem::path benchmark_case =
    std::filesystem::path(TABMELT_SOURCE_DIR) / "cases/three-code-benchmark/case.toml";

// The benchmark case with a setting of its own replaced.
std::string with(std::string text, const std::string& key, const std::string& value) {
  const std::size_t begin = text.find("\n" + key + " = ") + 1;
  EXPECT_NE(begin, 0u) << key;
  return text.replace(begin, text.find('\n', begin) - begin, key + " = " + value);
}

std::string coarse_benchmark() {
  return with(with(file_text(benchmark_case), "resolution", "0.5"), "step_tolerance", "2e-3");
}

std::string line_with(const std::string& text, const std::string& start) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (line.find(start) != std::string::npos) return line;
  }
  return "";
}

// The numbers that follow the name; units are passed over.
std::vector<double> numbers(const std::string& line, const std::string& name) {
  std::vector<double> found;
  std::istringstream words(line.substr(line.find(name) + name.size()));
  for (std::string word; words >> word;) {
    std::istringstream text(word);
    double value = 0;
    if (text >> value) found.push_back(value);
  }
  return found;
}

using Refine = InFolder;

TEST_F(Refine, tells_the_error_of_a_coarse_case) {
  give("coarse.toml", coarse_benchmark());
  const Finished answer = tell({"refine", "coarse.toml"});
  ASSERT_EQ(answer.status, 0) << answer.error;
  EXPECT_EQ(answer.error, "");

  const std::vector<double> cells = numbers(line_with(answer.out, "  cells"), "cells");
  ASSERT_EQ(cells.size(), 3u) << answer.out;
  EXPECT_NEAR(cells[1] / cells[0], 1.5 * 1.5, 0.25);
  EXPECT_NEAR(cells[2] / cells[1], 1.5 * 1.5, 0.25);
  const std::vector<double> steps = numbers(line_with(answer.out, "time steps"), "time steps");
  ASSERT_EQ(steps.size(), 3u) << answer.out;
  EXPECT_LT(steps[0], steps[1]);
  EXPECT_LT(steps[1], steps[2]);
  EXPECT_EQ(numbers(line_with(answer.out, "CPU seconds"), "CPU seconds").size(), 3u);

  // The current is prescribed, 600 A at the start whatever the grid.
  const std::vector<double> current = numbers(line_with(answer.out, "peak current"), "current");
  ASSERT_GE(current.size(), 4u) << answer.out;
  for (std::size_t n = 0; n < 4; ++n) EXPECT_DOUBLE_EQ(current[n], 600);
}

// What is extrapolated from coarse grids must agree with a grid three times finer in each direction
// and a tolerance a fifth, as closely as whole degrees are printed.
TEST_F(Refine, extrapolates_to_what_a_fine_grid_gives) {
  give("coarse.toml", coarse_benchmark());
  give("fine.toml",
       with(with(file_text(benchmark_case), "resolution", "1.5"), "step_tolerance", "4e-4"));
  const Finished answer = tell({"refine", "coarse.toml", "fine.toml"});
  ASSERT_EQ(answer.status, 0) << answer.error;
  const std::size_t second = answer.out.find("\nfine: ");
  ASSERT_NE(second, std::string::npos) << answer.out;
  for (const std::string name :
       {"hottest of the joint", "hottest of the strip's top", "hottest of the inner wall"}) {
    const std::vector<double> coarse = numbers(line_with(answer.out.substr(0, second), name), name);
    const std::vector<double> fine = numbers(line_with(answer.out.substr(second), name), name);
    // As asked, 1.5 x, 2.25 x, without error [degC], error [K], band [%].
    ASSERT_GE(coarse.size(), 5u) << answer.out;
    ASSERT_GE(fine.size(), 5u) << answer.out;
    EXPECT_NEAR(coarse[3], fine[0], 0.01 * (fine[0] - 20)) << name;
    EXPECT_LE(std::abs(fine[4]), std::abs(coarse[4]) + 0.1) << name;
  }
}

TEST_F(Refine, names_a_case_it_cannot_read_and_computes_nothing) {
  give("coarse.toml", coarse_benchmark());
  give("wrong.toml", with(coarse_benchmark(), "resolution", "-1"));
  const Finished answer = tell({"refine", "coarse.toml", "wrong.toml"});
  EXPECT_EQ(answer.status, 2);
  EXPECT_EQ(answer.out, "");
  EXPECT_NE(answer.error.find("wrong.toml:"), std::string::npos) << answer.error;
  EXPECT_EQ(tell({"refine"}).status, 2);
}

TEST_F(Refine, interrupted_it_keeps_what_is_done_and_tells_what_is_not) {
  give("coarse.toml", coarse_benchmark());
  give("long.toml",
       with(with(with(file_text(benchmark_case), "resolution", "8"), "step_tolerance", "1e-6"),
            "end_time", "\"5 s\""));
  Program program({"refine", "coarse.toml", "long.toml"}, folder());
  // The table of the first case shows that the program is under way.
  for (int tenths = 0; tenths < 600 && file_text(folder() / "standard_output").empty(); ++tenths) {
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
  }
  program.send(SIGINT);
  const Finished answer = program.finished();
  EXPECT_EQ(answer.status, 3);
  EXPECT_EQ(answer.out.find("coarse: "), 0u) << answer.out;
  EXPECT_EQ(answer.out.find("long: "), std::string::npos) << answer.out;
  EXPECT_NE(answer.error.find("long, grid 2.25 x finer: "), std::string::npos) << answer.error;
}

TEST_F(Refine, is_described_in_the_help) {
  EXPECT_NE(tell({"--help"}).out.find("tabmelt refine mine.toml"), std::string::npos);
  const Finished own = tell({"refine", "--help"});
  EXPECT_EQ(own.status, 0);
  EXPECT_NE(own.out.find("Richardson"), std::string::npos);
}

}  // namespace
}  // namespace tabmelt::test
