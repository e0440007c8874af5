// The program as a person or a script meets it. Cases are small and coarse: what is asked here is
// behaviour, not physics.
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <sstream>
#include <thread>

#include "io/store/result_reader.h"
#include "tests/command/program.h"
#include "tests/support/contains.h"

namespace tabmelt::test {
namespace {

namespace fs = std::filesystem;

const std::string strong = "charge_voltage = \"12 V\"\n";
const std::string feeble = "charge_voltage = \"1 V\"\n";
const std::string coarse = "[numerics]\nresolution = 0.5\n";
const std::string brief = coarse + "end_time = \"1 ms\"\n";
const std::string endless =
    "[numerics]\nresolution = 2\nstep_tolerance = 1e-6\nend_time = \"5 s\"\n";

using Command = InFolder;

std::string with_folder(std::string text, const std::string& from, const std::string& to) {
  for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos; at += to.size()) {
    text.replace(at, from.size(), to);
  }
  return text;
}

TEST_F(Command, help_names_every_exit_status_and_gives_examples) {
  const Finished help = tell({"--help"});
  EXPECT_EQ(help.status, 0);
  for (const char* part : {"Exit statuses", "\n  0  ", "\n  1  ", "\n  2  ", "\n  3  ", "\n  4  ",
                           "Examples", "tabmelt run ", "tabmelt check "}) {
    EXPECT_TRUE(contains(help.out, part)) << part << "\n" << help.out;
  }
}

TEST_F(Command, explains_a_key_and_refuses_an_unknown_one) {
  const Finished known = tell({"explain", "strip.thickness"});
  EXPECT_EQ(known.status, 0);
  EXPECT_TRUE(contains(known.out, "strip.thickness")) << known.out;
  EXPECT_GT(tell({"explain"}).out.size(), 10 * known.out.size());

  const Finished unknown = tell({"explain", "strip.thicknes"});
  EXPECT_EQ(unknown.status, 2);
  EXPECT_TRUE(contains(unknown.error, "strip.thickness")) << unknown.error;
}

TEST_F(Command, template_runs_as_it_is) {
  give("mine.toml", tell({"template"}).out);
  const Finished done = tell({"run", "--no-pictures", "mine.toml"});
  EXPECT_EQ(done.status, 0) << done.error;
  for (const char* name :
       {"result.vtkhdf", "result.xdmf", "history.csv", "summary.json", "report.md"}) {
    EXPECT_TRUE(exists(std::string("results/mine/") + name)) << name;
  }
}

TEST_F(Command, the_case_in_the_readme_runs) {
  const std::string readme = file_text(fs::path(TABMELT_SOURCE_DIR) / "README.md");
  const std::string mark = "```toml\n";
  const std::size_t start = readme.find(mark);
  ASSERT_NE(start, std::string::npos);
  const std::size_t from = start + mark.size();
  give("readme.toml", readme.substr(from, readme.find("```", from) - from));
  const Finished done = tell({"run", "--no-pictures", "readme.toml"});
  EXPECT_EQ(done.status, 0) << done.error;
}

TEST_F(Command, every_moment_of_a_demo_is_stored_once_up_to_the_last) {
  const std::string demo = std::string(TABMELT_SOURCE_DIR) + "/cases/trimmer-negative";
  ASSERT_EQ(tell({"run", "--no-pictures", demo, "-o", "out"}).status, 0);
  const StoredRun stored = read_result_file(folder() / "out/result.vtkhdf");
  const std::vector<double>& times = stored.frame_times;
  ASSERT_GT(times.size(), 10u);
  EXPECT_EQ(times.front(), 0);
  for (std::size_t k = 1; k < times.size(); ++k) EXPECT_GT(times[k], times[k - 1]) << k;
  EXPECT_EQ(times.back(), stored.series.at("time").back());
}

TEST_F(Command, prints_verdict_ledger_and_cell_side_within_a_hundred_columns) {
  give("weld.toml", weld + strong + coarse);
  const Finished done = tell({"run", "--no-pictures", "weld.toml", "-o", "out"});
  EXPECT_EQ(done.status, 0) << done.error;
  for (const char* part : {"weld: Strip on a can bottom",
                           "WELD: ", "energy: ", "inside of the cell: ", "results in out"}) {
    EXPECT_TRUE(contains(done.out, part)) << part << "\n" << done.out;
  }
  std::istringstream lines(done.out);
  for (std::string line; std::getline(lines, line);) {
    const auto columns = std::count_if(line.begin(), line.end(),
                                       [](char c) { return (c & 0xC0) != 0x80; });  // UTF-8
    EXPECT_LE(columns, 100) << line;
  }
}

TEST_F(Command, reads_a_case_from_standard_input) {
  const Finished done =
      finished({"run", "--no-pictures", "-", "-o", "out"}, folder(), weld + feeble + brief);
  EXPECT_EQ(done.status, 0) << done.error;
  EXPECT_TRUE(exists("out/result.vtkhdf"));
}

TEST_F(Command, a_folder_stands_for_its_case_and_gives_its_name) {
  fs::create_directory(folder() / "bench");
  give("bench/case.toml", weld + feeble + brief);
  EXPECT_EQ(tell({"run", "--no-pictures", "bench"}).status, 0);
  EXPECT_TRUE(exists("results/bench/result.vtkhdf"));
}

TEST_F(Command, misspelt_key_is_named_with_its_line_and_the_nearest_key) {
  std::string text = weld + feeble;
  text.replace(text.find("thickness"), 9, "thicknes");
  give("wrong.toml", text);
  const Finished done = tell({"run", "wrong.toml"});
  EXPECT_EQ(done.status, 2);
  EXPECT_TRUE(contains(done.error, "wrong.toml:6:")) << done.error;
  EXPECT_TRUE(contains(done.error, "did you mean \"strip.thickness\"")) << done.error;
  EXPECT_FALSE(exists("results"));
}

TEST_F(Command, all_complaints_of_all_cases_come_before_anything_runs) {
  give("good.toml", weld + feeble + brief);
  give("wrong.toml", weld + "charge_voltage = \"-3 V\"\npart_esl = \"1 nH\"\n");
  const Finished done = tell({"run", "good.toml", "wrong.toml", "missing.toml"});
  EXPECT_EQ(done.status, 2);
  for (const char* part : {"wrong.toml:16:", "wrong.toml:17:", "missing.toml"}) {
    EXPECT_TRUE(contains(done.error, part)) << part << "\n" << done.error;
  }
  EXPECT_FALSE(exists("results"));
}

TEST_F(Command, refuses_what_is_no_case_file) {
  fs::create_directory(folder() / "empty");
  std::string junk(4096, '\0');
  for (std::size_t i = 0; i < junk.size(); ++i) junk[i] = static_cast<char>(i * 167 + i / 256);
  give("junk.toml", junk);
  give("huge.toml", std::string(2'000'000, '#'));
  for (const char* name : {"missing.toml", "empty", "junk.toml", "huge.toml", "/dev/zero"}) {
    const Finished done = tell({"run", name});
    EXPECT_EQ(done.status, 2) << name;
    EXPECT_TRUE(contains(done.error, name)) << done.error;
    EXPECT_LT(done.error.size(), 2000u) << name;
  }
  EXPECT_FALSE(exists("results"));
}

TEST_F(Command, two_cases_of_one_name_are_refused) {
  give("a.toml", weld + feeble + brief);
  const Finished done = tell({"run", "a.toml", "./a.toml"});
  EXPECT_EQ(done.status, 2);
  EXPECT_TRUE(contains(done.error, "same name")) << done.error;
}

// chmod does not bind root, so the folder is put below a regular file.
TEST_F(Command, unwritable_folder_is_input_trouble) {
  give("weld.toml", weld + feeble + brief);
  give("file", "");
  const Finished done = tell({"run", "weld.toml", "-o", "file/out"});
  EXPECT_EQ(done.status, 2);
  EXPECT_TRUE(contains(done.error, "file/out")) << done.error;
}

TEST_F(Command, never_overwrites_results) {
  give("weld.toml", weld + feeble + brief);
  ASSERT_EQ(tell({"run", "--no-pictures", "weld.toml", "-o", "out"}).status, 0);
  const std::string before = file_text(folder() / "out/result.vtkhdf");
  const Finished again = tell({"run", "--no-pictures", "weld.toml", "-o", "out"});
  EXPECT_EQ(again.status, 2);
  EXPECT_TRUE(contains(again.error, "out already holds results")) << again.error;
  EXPECT_EQ(file_text(folder() / "out/result.vtkhdf"), before);
}

TEST_F(Command, cases_side_by_side_answer_in_the_order_asked) {
  give("slow.toml", weld + strong + coarse);
  give("quick.toml", weld + feeble + brief);
  const std::vector<std::string> ask = {"run", "--no-pictures", "slow.toml", "quick.toml", "-o"};
  const auto into = [&](const char* name) {
    std::vector<std::string> arguments = ask;
    arguments.emplace_back(name);
    return tell(arguments);
  };
  const Finished done = into("all");
  ASSERT_EQ(done.status, 0) << done.error;
  EXPECT_TRUE(exists("all/slow/result.vtkhdf"));
  EXPECT_TRUE(exists("all/quick/result.vtkhdf"));
  ASSERT_TRUE(contains(done.out, "slow: ") && contains(done.out, "quick: ")) << done.out;
  EXPECT_LT(done.out.find("slow: "), done.out.find("quick: "));

  const Finished again = into("two");
  EXPECT_EQ(with_folder(again.out, "two/", "all/"), done.out);
}

TEST_F(Command, check_tells_the_cell_side_by_its_status_and_writes_nothing) {
  give("feeble.toml", weld + feeble + coarse);
  give("strict.toml", weld + feeble + coarse + "[limits]\ninner_wall = \"20.1 degC\"\n");
  const Finished safe = tell({"check", "feeble.toml"});
  EXPECT_EQ(safe.status, 0) << safe.out << safe.error;
  const Finished exceeded = tell({"check", "strict.toml"});
  EXPECT_EQ(exceeded.status, 1) << exceeded.out << exceeded.error;
  EXPECT_TRUE(contains(exceeded.out, "EXCEEDED")) << exceeded.out;
  EXPECT_EQ(tell({"check", "feeble.toml", "strict.toml"}).status, 1);
  EXPECT_FALSE(exists("results"));
}

TEST_F(Command, check_refuses_a_case_without_a_cell) {
  std::string text = weld + feeble + coarse;
  text.replace(text.find("negative bottom"), 15, "none");
  give("bare.toml", text);
  const Finished done = tell({"check", "bare.toml"});
  EXPECT_EQ(done.status, 2) << done.out << done.error;
}

TEST_F(Command, ctrl_c_leaves_a_playable_part_file_and_tells_where) {
  give("long.toml", weld + strong + endless);
  Program run({"run", "long.toml", "-o", "out"}, folder());
  const fs::path part = folder() / "out/result.part.vtkhdf";
  // From its making on the run is on its way and listens.
  for (int tenths = 0; tenths < 600 && !exists("out"); ++tenths) {
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
  }
  ASSERT_TRUE(exists("out"));
  std::this_thread::sleep_for(std::chrono::seconds(2));  // until steps are taken
  run.send(SIGINT);
  const Finished done = run.finished();
  EXPECT_EQ(done.status, 3);
  EXPECT_TRUE(contains(done.error, "interrupted")) << done.error;
  EXPECT_TRUE(contains(done.error, "out/result.part.vtkhdf")) << done.error;
  EXPECT_FALSE(exists("out/result.vtkhdf"));
  const StoredRun stored = read_result_file(part);
  EXPECT_FALSE(stored.complete);
  ASSERT_GE(stored.frame_times.size(), 2u);
  EXPECT_GT(stored.frame_times.back(), 0);
  EXPECT_EQ(stored.frame(0).temperature.size(), stored.region.size());
}

TEST_F(Command, progress_shows_on_a_terminal_only) {
  give("weld.toml", weld + feeble + coarse);
  const Finished piped = tell({"run", "--no-pictures", "weld.toml", "-o", "piped"});
  EXPECT_EQ(piped.status, 0);
  EXPECT_EQ(piped.error, "");
  EXPECT_FALSE(contains(piped.out, "\r"));
  EXPECT_FALSE(contains(piped.out, "\x1b"));

  const std::string bar = "\r[";
  EXPECT_TRUE(
      contains(on_a_terminal({"run", "--no-pictures", "weld.toml", "-o", "shown"}, folder()), bar));
  EXPECT_FALSE(contains(
      on_a_terminal({"run", "--no-pictures", "--quiet", "weld.toml", "-o", "quiet"}, folder()),
      bar));
}

}  // namespace
}  // namespace tabmelt::test
