// Cases computed at once must come out as each would alone, on however many cores.
#include <gtest/gtest.h>
#include <sched.h>

#include <filesystem>
#include <sstream>

#include "tests/command/program.h"

namespace tabmelt::test {
namespace {

// Programs started while this lives run on one core.
class OneCore {
 public:
  OneCore() {
    sched_getaffinity(0, sizeof before_, &before_);
    int core = 0;
    while (!CPU_ISSET(core, &before_)) ++core;
    cpu_set_t one;
    CPU_ZERO(&one);
    CPU_SET(core, &one);
    sched_setaffinity(0, sizeof one, &one);
  }
  ~OneCore() { sched_setaffinity(0, sizeof before_, &before_); }
  OneCore(const OneCore&) = delete;
  OneCore& operator=(const OneCore&) = delete;

 private:
  cpu_set_t before_;
};

// Without the lines that tell the clock and the processor.
std::string timeless(const std::string& text) {
  std::istringstream in(text);
  std::string out;
  for (std::string line; std::getline(in, line);)
    if (line.find("cpu_seconds") != std::string::npos)
      std::getline(in, line);  // its value
    else if (line.find("date") == std::string::npos)
      out += line + "\n";
  return out;
}

TEST(SideBySide, results_do_not_depend_on_cores_or_company) {
  const TemporaryFolder folder;
  std::vector<std::string> all{"run", "--no-pictures"}, names;
  for (int n = 0; n < 5; ++n) {
    names.push_back("case" + std::to_string(n));
    write_file(folder.path() / (names.back() + ".toml"),
               weld + "charge_voltage = \"" + std::to_string(6 + 2 * n) + " V\"\n" +
                   "[numerics]\nresolution = 0.5\nend_time = \"4 ms\"\n");
    all.push_back(names.back() + ".toml");
  }
  all.push_back("-o");
  const auto into = [&](const std::string& where) {
    std::vector<std::string> arguments = all;
    arguments.push_back(where);
    return arguments;
  };
  ASSERT_EQ(finished(into("cores"), folder.path()).status, 0);
  {
    const OneCore one;
    ASSERT_EQ(finished(into("core"), folder.path()).status, 0);
  }
  for (const std::string& name : names) {
    ASSERT_EQ(
        finished({"run", "--no-pictures", name + ".toml", "-o", "alone-" + name}, folder.path())
            .status,
        0);
    for (const char* file : {"history.csv", "summary.json"}) {
      const std::string together = timeless(file_text(folder.path() / "cores" / name / file));
      ASSERT_GT(together.size(), 500u);
      EXPECT_EQ(together, timeless(file_text(folder.path() / "core" / name / file))) << file;
      EXPECT_EQ(together, timeless(file_text(folder.path() / ("alone-" + name) / file))) << file;
    }
  }
}

}  // namespace
}  // namespace tabmelt::test
