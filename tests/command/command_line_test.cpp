// Slips of the keyboard, readers that leave, folders of odd names, full disks.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>

#include "tests/command/program.h"
#include "tests/support/contains.h"

namespace tabmelt::test {
namespace {

namespace fs = std::filesystem;

class CommandLine : public InFolder {
 protected:
  CommandLine() { give("weld.toml", quick_weld); }
  // In a shell, inside the folder; the program is $tabmelt.
  int shell(const std::string& words) const {
    const std::string line =
        "cd '" + folder().string() + "' && tabmelt='" TABMELT_PROGRAM "' && " + words;
    return WEXITSTATUS(std::system(("bash -c \"" + line + "\"").c_str()));
  }
};

TEST_F(CommandLine, names_the_nearest_command_and_option) {
  const Finished command = tell({"runn", "weld.toml"});
  EXPECT_EQ(command.status, 2);
  EXPECT_TRUE(contains(command.error, "there is no command \"runn\"; did you mean \"run\"?"))
      << command.error;
  const Finished option = tell({"run", "weld.toml", "--breif"});
  EXPECT_EQ(option.status, 2);
  EXPECT_TRUE(contains(option.error, "did you mean \"--brief\"?")) << option.error;
  const Finished far = tell({"xxxxxxxxx"});
  EXPECT_EQ(far.status, 2);
  EXPECT_TRUE(contains(far.error, "there are run, check,")) << far.error;
  EXPECT_EQ(tell({}).status, 2);
  EXPECT_EQ(tell({"run", "--help"}).status, 0);
  const Finished nothing = tell({"run"});
  EXPECT_EQ(nothing.status, 2);
  EXPECT_TRUE(contains(nothing.error, "tabmelt: CASE is required")) << nothing.error;
}

TEST_F(CommandLine, a_reader_that_has_seen_enough_is_no_trouble) {
  EXPECT_EQ(shell("set -o pipefail; \\$tabmelt explain 2> error | head -1 > /dev/null"), 0);
  EXPECT_EQ(text("error"), "");
  EXPECT_EQ(shell("\\$tabmelt explain > /dev/full 2> /dev/null"), 3);
}

TEST_F(CommandLine, names_of_dots_make_no_folder_outside_the_results) {
  for (const char* name : {"..toml", "...toml"}) {
    give(name, quick_weld);
    ASSERT_EQ(tell({"run", "--no-pictures", name}).status, 0) << name;
    EXPECT_FALSE(exists("results/result.vtkhdf")) << name;
    EXPECT_FALSE(exists("result.vtkhdf")) << name;
    EXPECT_TRUE(exists("results/case/result.vtkhdf")) << name;
    fs::remove_all(at("results"));
  }
  give(".hidden.toml", quick_weld);
  ASSERT_EQ(tell({"run", "--no-pictures", ".hidden.toml"}).status, 0);
  EXPECT_TRUE(exists("results/hidden/result.vtkhdf"));
}

TEST_F(CommandLine, an_empty_folder_name_is_refused) {
  const Finished done = tell({"run", "--no-pictures", "weld.toml", "-o", ""});
  EXPECT_EQ(done.status, 2);
  EXPECT_TRUE(contains(done.error, "empty")) << done.error;
  EXPECT_FALSE(exists("result.vtkhdf"));
}

// Files end at 100 kB, as on a disk that is full.
TEST_F(CommandLine, a_full_disk_is_status_three_and_names_the_part_file) {
  EXPECT_EQ(shell("trap '' XFSZ; ulimit -f 100; \\$tabmelt run --no-pictures weld.toml --set "
                  "numerics.resolution=1 -o out 2> error > /dev/null"),
            3);
  EXPECT_TRUE(contains(text("error"), "out/result.part.vtkhdf")) << text("error");
  EXPECT_FALSE(exists("out/result.vtkhdf"));
}

TEST_F(CommandLine, picture_and_view_share_a_status_where_nothing_can_be_shown) {
  ASSERT_EQ(tell({"run", "--no-pictures", "weld.toml", "-o", "out"}).status, 0);
  EXPECT_EQ(shell("DISPLAY= \\$tabmelt view out 2> error"), 3);
  EXPECT_EQ(shell("touch file; \\$tabmelt picture out --only section -o file/below 2> error"), 3);
  // No result at all is wrong input for both.
  EXPECT_EQ(shell("\\$tabmelt view weld.toml 2> error"), 2);
  EXPECT_EQ(shell("\\$tabmelt picture weld.toml 2> error"), 2);
}

TEST_F(CommandLine, explains_words_of_verdicts_and_what_files_hold) {
  EXPECT_TRUE(contains(tell({"explain", "stick weld"}).out, "melted against the other"));
  EXPECT_EQ(tell({"explain", "stik weld"}).status, 2);
  const std::string all = tell({"explain", "output"}).out;
  for (const char* part : {"result.vtkhdf", "history.csv", "summary.json", "index.csv",
                           "nugget_diameter", "(T, nz, nr)", "findings[].margin", "peak_current"})
    EXPECT_TRUE(contains(all, part)) << part;
  EXPECT_LT(tell({"explain", "history.csv"}).out.size(), all.size());
}

// The columns of a page are those of a file.
TEST_F(CommandLine, the_output_page_names_every_column_of_the_history) {
  ASSERT_EQ(tell({"run", "--no-pictures", "weld.toml", "-o", "out"}).status, 0);
  const std::string page = tell({"explain", "history.csv"}).out;
  const std::string csv = text("out/history.csv");
  std::string heading = csv.substr(0, csv.find('\n'));
  std::size_t columns = 0;
  for (std::size_t from = 0; from < heading.size(); ++columns) {
    const std::size_t comma = std::min(heading.find(',', from), heading.size());
    const std::string column = heading.substr(from, comma - from);
    EXPECT_TRUE(contains(page, "  " + column.substr(0, column.find(' ')) + " ")) << column;
    from = comma + 1;
  }
  EXPECT_GT(columns, 20u);
}

TEST_F(CommandLine, completion_offers_commands_options_and_words) {
  ASSERT_EQ(shell("\\$tabmelt completion bash > complete.bash"), 0);
  const auto offered = [&](const std::string& words, int at_word) {
    shell("source ./complete.bash; COMP_WORDS=(" + words + "); COMP_CWORD=" +
          std::to_string(at_word) + "; _tabmelt; echo \\${COMPREPLY[*]} > offered");
    return text("offered");
  };
  EXPECT_EQ(offered("tabmelt tol", 1), "tolerance\n");
  EXPECT_TRUE(contains(offered("tabmelt run --b", 2), "--brief"));
  EXPECT_EQ(offered("tabmelt explain pressing.fo", 2), "pressing.force\n");
  EXPECT_EQ(offered("tabmelt explain stick", 2), "stick_weld\n");
}

TEST_F(CommandLine, the_manual_holds_every_command_and_word) {
  const std::string manual = tell({"manual"}).out;
  EXPECT_TRUE(manual.starts_with(".TH TABMELT 1")) << manual.substr(0, 200);
  for (const char* part : {".SS run", ".SS tolerance", "stick weld", "pressing.force"})
    EXPECT_TRUE(contains(manual, part)) << part;
}

}  // namespace
}  // namespace tabmelt::test
