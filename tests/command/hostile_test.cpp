// Input and surroundings that mean harm: the program answers with words and a documented status,
// and no terminal, file or person suffers.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <thread>

#include "tests/command/program.h"
#include "tests/support/contains.h"

namespace tabmelt::test {
namespace {

namespace fs = std::filesystem;

using Hostile = InFolder;

bool steers_a_terminal(const std::string& text) {
  return contains(text, "\x1b") || contains(text, "\a") || contains(text, "\r") ||
         contains(text, "\xC2\x9B") || contains(text, "\xE2\x80\xAE");
}

TEST_F(Hostile, nothing_that_is_printed_steers_a_terminal) {
  give("codes.toml",
       "\"\\u001b[31mkey\" = 1\ncell.size = \"18650\\u009b31m\"\n"
       "strip.material = \"\\u001b[2Jx\"\ntitle = \"a\\u202Eb\\u0007\"\n"
       "[materials.\"\\u001b[7m\"]\n\"\\u001b[1m\" = 1\ndensity = \"1\\u001b]0;t\\u0007\"\n");
  const std::string words = "\x1b[31m\xC2\x9B\xE2\x80\xAE\a";
  for (const std::vector<std::string>& arguments : {std::vector<std::string>{"run", "codes.toml"},
                                                    {"explain", words},
                                                    {words},
                                                    {"run", words},
                                                    {"run", "codes.toml", "--set", words + "=1"},
                                                    {"picture", words},
                                                    {"run", "--" + words}}) {
    const Finished done = tell(arguments);
    EXPECT_EQ(done.status, 2) << done.error;
    EXPECT_FALSE(steers_a_terminal(done.out + done.error)) << done.out << done.error;
    EXPECT_FALSE(done.error.empty());
  }
}

TEST_F(Hostile, marks_of_direction_in_a_title_are_not_printed) {
  std::string text = quick_weld;
  text.replace(text.find("Slit"), 4, "\\u202EtilS");
  give("title.toml", text);
  const Finished done = tell({"run", "title.toml", "--no-pictures", "-o", "out"});
  EXPECT_EQ(done.status, 0) << done.error;
  EXPECT_TRUE(contains(done.out, "tilS strip"));
  EXPECT_FALSE(steers_a_terminal(done.out));
  EXPECT_FALSE(steers_a_terminal(file_text(folder() / "out/report.md")));
  EXPECT_FALSE(steers_a_terminal(file_text(folder() / "out/report.html")));
}

// Runs the program with some of the standard descriptors closed.
int status_without(const std::vector<int>& closed, const std::vector<std::string>& arguments,
                   const fs::path& folder) {
  const pid_t process = fork();
  if (process == 0) {
    std::vector<std::string> words{TABMELT_PROGRAM};
    words.insert(words.end(), arguments.begin(), arguments.end());
    std::vector<char*> pointers;
    for (std::string& word : words) pointers.push_back(word.data());
    pointers.push_back(nullptr);
    const int nowhere = open("/dev/null", O_RDWR);
    for (const int standard : {0, 1, 2}) dup2(nowhere, standard);
    for (const int standard : closed) close(standard);
    if (nowhere > 2) close(nowhere);
    if (chdir(folder.c_str()) != 0) _exit(126);
    execv(TABMELT_PROGRAM, pointers.data());
    _exit(127);
  }
  int status = 0;
  waitpid(process, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

TEST_F(Hostile, closed_standard_descriptors_cost_no_result) {
  give("weld.toml", quick_weld);
  ASSERT_EQ(tell({"run", "weld.toml", "--no-pictures", "-o", "open"}).status, 0);
  int number = 0;
  for (const std::vector<int>& closed :
       {std::vector<int>{0}, {1}, {2}, {0, 1}, {0, 2}, {1, 2}, {0, 1, 2}}) {
    const std::string out = "closed" + std::to_string(++number);
    EXPECT_EQ(status_without(closed, {"run", "weld.toml", "--no-pictures", "-o", out}, folder()),
              0);
    EXPECT_EQ(file_text(folder() / out / "history.csv"), file_text(folder() / "open/history.csv"));
    EXPECT_EQ(tell({"picture", out, "--only", "curves", "-o", out + "p"}).status, 0) << out;
  }
}

TEST_F(Hostile, links_in_the_way_of_outputs_are_not_followed) {
  give("weld.toml", quick_weld);
  give("precious", "keep");
  fs::create_directories(folder() / "out");
  for (const char* name : {"section.png", "result.part.vtkhdf", "result.part.vtkhdf.tmp",
                           "section.png.tmp", "report.part.md", "report.html.tmp"})
    fs::create_symlink(folder() / "precious", folder() / "out" / name);
  EXPECT_EQ(tell({"run", "weld.toml", "-o", "out"}).status, 0);
  EXPECT_EQ(file_text(folder() / "precious"), "keep");
  EXPECT_FALSE(fs::is_symlink(folder() / "out/section.png"));
  fs::create_directories(folder() / "taken");
  fs::create_symlink(folder() / "precious", folder() / "taken/history.csv");
  EXPECT_EQ(tell({"run", "weld.toml", "-o", "taken"}).status, 2);
  EXPECT_EQ(file_text(folder() / "precious"), "keep");
}

TEST_F(Hostile, a_replaced_material_is_announced) {
  fs::create_directories(folder() / "materials");
  give("materials/nickel-200.toml", "base = \"nickel\"\ndescription = \"mine\"\n");
  give("weld.toml", quick_weld);
  const Finished done = tell({"run", "weld.toml", "--no-pictures", "-o", "out"});
  EXPECT_EQ(done.status, 0) << done.error;
  EXPECT_TRUE(contains(done.error, "\"nickel-200\"")) << done.error;
  EXPECT_TRUE(contains(done.error, "takes the place of the shipped one")) << done.error;
  std::string report = file_text(folder() / "out/report.md");
  std::replace(report.begin(), report.end(), '\n', ' ');  // lines are broken between words
  EXPECT_TRUE(contains(report, "takes the place")) << "in the report";
}

TEST_F(Hostile, a_run_too_large_is_refused_at_once) {
  give("weld.toml", weld + "charge_voltage = \"12 V\"\n");
  const auto begun = std::chrono::steady_clock::now();
  for (const char* command : {"run", "check", "refine", "tolerance", "advise"}) {
    const Finished done = tell({command, "weld.toml", "--set", "numerics.resolution=50"});
    EXPECT_EQ(done.status, 2) << command << done.error;
    EXPECT_TRUE(contains(done.error, "million cells")) << command << done.error;
  }
  EXPECT_LT(std::chrono::steady_clock::now() - begun, std::chrono::seconds(60));
}

TEST_F(Hostile, the_end_of_the_terminal_stops_a_run_as_ctrl_c_does) {
  give("long.toml", weld +
                        "charge_voltage = \"12 V\"\n[numerics]\nresolution = 1\n"
                        "step_tolerance = 1e-6\nend_time = \"5 s\"\n");
  for (const int signal : {SIGHUP, SIGTERM}) {
    const std::string out = "out" + std::to_string(signal);
    Program run({"run", "long.toml", "-o", out}, folder());
    // From its making on the run listens.
    for (int tenths = 0; tenths < 600 && !fs::exists(folder() / out); ++tenths)
      std::this_thread::sleep_for(std::chrono::milliseconds(100));
    run.send(signal);
    const Finished done = run.finished();
    EXPECT_EQ(done.status, 3) << done.error;
    EXPECT_TRUE(contains(done.error, "interrupted")) << done.error;
  }
}

}  // namespace
}  // namespace tabmelt::test
