// Many cases in one call: one table, one index, what is wrong with one leaves the others.
#include <gtest/gtest.h>

#include <sstream>

#include "tests/command/program.h"
#include "tests/support/contains.h"

namespace tabmelt::test {
namespace {

namespace fs = std::filesystem;

std::vector<std::string> lines(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

class ManyCases : public InFolder {
 protected:
  void SetUp() override {
    give("good.toml", quick_weld);
    std::string light = quick_weld;
    light.replace(light.find("6.8 V"), 5, "1.5 V");
    give("light.toml", light);
    std::string wrong = quick_weld;
    wrong.replace(wrong.find("30 N"), 4, "30 V");
    give("wrong.toml", wrong);
  }
  Finished run(std::vector<std::string> more) {
    more.insert(more.begin(), {"run", "--no-pictures"});
    return tell(more);
  }
};

TEST_F(ManyCases, end_with_one_table_and_an_index_of_the_keys_that_differ) {
  const Finished done = run({"good.toml", "light.toml", "-o", "all"});
  ASSERT_EQ(done.status, 0) << done.error;
  EXPECT_TRUE(contains(done.out, "weakest margin")) << done.out;
  EXPECT_TRUE(contains(done.out, "all/index.csv")) << done.out;
  const auto rows = lines(text("all/index.csv"));
  ASSERT_EQ(rows.size(), 3u);
  EXPECT_TRUE(rows[0].starts_with("case,file,state,verdict,good,nugget [m],")) << rows[0];
  EXPECT_TRUE(rows[0].ends_with(",source.charge_voltage")) << rows[0];
  EXPECT_TRUE(rows[1].starts_with("good,good.toml,computed,fused,1,0.000")) << rows[1];
  EXPECT_TRUE(rows[1].ends_with(",6.8 V")) << rows[1];
  EXPECT_TRUE(rows[2].starts_with("light,light.toml,computed,no weld,0,0,")) << rows[2];
  EXPECT_TRUE(rows[2].ends_with(",1.5 V")) << rows[2];
}

TEST_F(ManyCases, brief_prints_the_table_only) {
  const Finished done = run({"good.toml", "light.toml", "--brief", "-o", "all"});
  ASSERT_EQ(done.status, 0) << done.error;
  const auto rows = lines(done.out);
  ASSERT_EQ(rows.size(), 3u) << done.out;
  EXPECT_TRUE(contains(rows[1], "good") && contains(rows[1], "fused")) << rows[1];
  EXPECT_TRUE(contains(rows[2], "no weld") && contains(rows[2], "within limits")) << rows[2];
  const Finished one = run({"good.toml", "--brief", "-o", "one"});
  EXPECT_EQ(lines(one.out).size(), 2u) << one.out;
  EXPECT_FALSE(exists("one/index.csv"));
}

TEST_F(ManyCases, an_index_is_never_overwritten) {
  ASSERT_EQ(run({"good.toml", "light.toml", "-o", "all"}).status, 0);
  const std::string first = text("all/index.csv");
  give("other.toml", quick_weld);
  give("another.toml", quick_weld);
  ASSERT_EQ(run({"other.toml", "another.toml", "-o", "all"}).status, 0);
  EXPECT_EQ(text("all/index.csv"), first);
  EXPECT_TRUE(contains(text("all/index-2.csv"), "another"));
}

TEST_F(ManyCases, set_changes_every_case_and_may_be_repeated) {
  const Finished done = run({"good.toml", "light.toml", "--set", "pressing.force=40 N", "--set",
                             "strip.thickness=0.2 mm", "--brief", "-o", "all"});
  ASSERT_EQ(done.status, 0) << done.error;
  for (const char* name : {"all/good/summary.json", "all/light/summary.json"})
    for (const char* value : {"\"40 N\"", "\"0.2 mm\""})
      EXPECT_TRUE(contains(text(name), value)) << name << value;
  // Equal in all cases now, so no column.
  EXPECT_FALSE(contains(text("all/index.csv"), "pressing.force"));
}

TEST_F(ManyCases, keep_going_computes_what_is_right) {
  const Finished strict = run({"good.toml", "wrong.toml", "-o", "strict"});
  EXPECT_EQ(strict.status, 2);
  EXPECT_FALSE(exists("strict"));
  const Finished done = run({"good.toml", "wrong.toml", "--keep-going", "-o", "all"});
  EXPECT_EQ(done.status, 2);
  EXPECT_TRUE(contains(done.error, "wrong.toml:9: pressing.force")) << done.error;
  EXPECT_TRUE(exists("all/good/result.vtkhdf"));
  EXPECT_TRUE(contains(text("all/index.csv"), "wrong.toml,wrong.toml,wrong input,")) << done.out;
  EXPECT_EQ(run({"wrong.toml", "--keep-going"}).status, 2);
}

TEST_F(ManyCases, require_good_has_an_exit_status_of_its_own) {
  EXPECT_EQ(run({"good.toml", "--require", "good", "-o", "a"}).status, 0);
  EXPECT_EQ(run({"good.toml", "light.toml", "--require", "good", "-o", "b"}).status, 5);
  EXPECT_EQ(run({"good.toml", "light.toml", "-o", "c"}).status, 0);
  // Wrong input goes before.
  EXPECT_EQ(
      run({"light.toml", "wrong.toml", "--keep-going", "--require", "good", "-o", "d"}).status, 2);
  EXPECT_EQ(run({"good.toml", "--require", "luck"}).status, 2);
}

TEST_F(ManyCases, equal_runs_leave_equal_files_without_date) {
  TemporaryFolder here, there;
  for (const fs::path& at : {here.path(), there.path()}) {
    write_file(at / "weld.toml", quick_weld);
    const Finished done = finished({"run", "weld.toml", "--no-date", "-o", "out"}, at);
    ASSERT_EQ(done.status, 0) << done.error;
  }
  std::size_t compared = 0;
  for (const auto& entry : fs::directory_iterator(here.path() / "out")) {
    const fs::path name = entry.path().filename();
    EXPECT_TRUE(file_text(entry.path()) == file_text(there.path() / "out" / name)) << name;
    ++compared;
  }
  EXPECT_GE(compared, 6u);
  const std::string summary = file_text(here.path() / "out/summary.json");
  EXPECT_FALSE(contains(summary, "\"date\""));
  EXPECT_FALSE(contains(summary, "cpu_seconds"));
}

TEST_F(ManyCases, the_record_holds_every_input_and_where_materials_came_from) {
  ASSERT_EQ(run({"good.toml", "-o", "out"}).status, 0);
  for (const char* name : {"out/summary.json", "out/report.md", "out/report.html"})
    for (const char* part : {"pressing.force", "30 N", "electrode.tip_diameter", "layer.1.name",
                             "numerics.step_tolerance", "nickel-200.toml"})
      EXPECT_TRUE(contains(text(name), part)) << name << ": " << part;
  EXPECT_TRUE(contains(text("out/summary.json"), "\"date\""));
}

TEST_F(ManyCases, report_has_no_long_lines) {
  ASSERT_EQ(run({"good.toml", "-o", "out"}).status, 0);
  for (const std::string& line : lines(text("out/report.md"))) EXPECT_LE(line.size(), 130u) << line;
}

}  // namespace
}  // namespace tabmelt::test
