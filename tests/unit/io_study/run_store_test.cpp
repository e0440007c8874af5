// What is kept reads back to the same bits, whatever ended the process before.
#include "io/study/run_store.h"

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <unistd.h>

#include <cmath>
#include <fstream>

#include "io/store/result_writer.h"
#include "tests/support/temporary_folder.h"

namespace tabmelt {
namespace {

using study::Judged;
using study::State;

Judged sample(double number) {
  Judged run;
  run.state = State::computed;
  run.verdict = "fused";
  run.good = true;
  run.margin = 1.0 / 3;
  run.limits = {{"expulsion", false, 0.1 + 0.2}, {"fused", true, 1e-300}};
  run.numbers = {number, std::nextafter(number, 2 * number), 4.9e-324};
  return run;
}

TEST(RunStore, reads_back_to_the_same_bits) {
  const test::TemporaryFolder folder;
  {
    RunStore store(folder.path());
    store.keep("one", sample(M_PI));
    store.keep("two", {State::failed, "no \"convergence\"\n at 2 ms"});
  }
  const RunStore again(folder.path());
  EXPECT_EQ(again.size(), 2u);
  EXPECT_EQ(*again.find("one"), sample(M_PI));
  EXPECT_EQ(again.find("two")->reason, "no \"convergence\"\n at 2 ms");
  EXPECT_FALSE(again.find("three"));
}

TEST(RunStore, passes_over_a_line_that_was_cut_off) {
  const test::TemporaryFolder folder;
  { RunStore(folder.path()).keep("one", sample(1)); }
  std::ofstream(folder.path() / "runs" / "0001.jsonl", std::ios::app)
      << line_of_run("two", sample(2)).substr(0, 60);
  RunStore store(folder.path());
  EXPECT_EQ(store.size(), 1u);
  store.keep("two", sample(2));
  EXPECT_EQ(*RunStore(folder.path()).find("two"), sample(2));
}

TEST(RunStore, several_at_once_do_not_disturb_each_other) {
  const test::TemporaryFolder folder;
  RunStore a(folder.path()), b(folder.path());
  for (int n = 0; n < 50; ++n) {
    a.keep("a" + std::to_string(n), sample(n + 1));
    b.keep("b" + std::to_string(n), sample(-n - 1));
  }
  const RunStore all(folder.path());
  EXPECT_EQ(all.size(), 100u);
  EXPECT_EQ(*all.find("a7"), sample(8));
  EXPECT_EQ(*all.find("b7"), sample(-8));
}

TEST(RunStore, a_full_disk_is_a_message_and_loses_nothing) {
  const test::TemporaryFolder folder;
  RunStore store(folder.path());
  store.keep("one", sample(1));
  rlimit before{};
  getrlimit(RLIMIT_FSIZE, &before);
  rlimit tight = before;
  tight.rlim_cur = std::filesystem::file_size(folder.path() / "runs" / "0001.jsonl") + 10;
  setrlimit(RLIMIT_FSIZE, &tight);
  EXPECT_THROW(store.keep("two", sample(2)), OutputError);
  setrlimit(RLIMIT_FSIZE, &before);
  EXPECT_FALSE(store.find("two"));
  store.keep("three", sample(3));
  const RunStore again(folder.path());
  EXPECT_EQ(again.size(), 2u);
  EXPECT_TRUE(again.find("one") && again.find("three"));
}

TEST(RunStore, a_folder_that_cannot_be_made_is_a_complaint) {
  EXPECT_THROW(RunStore("/proc/nowhere"), OutputError);
}

TEST(HashOfRun, tells_numbers_and_versions_apart_but_not_words_about_them) {
  const std::string text = "title = \"a\"\n[strip]\nthickness = \"0.15 mm\"  # default\n";
  const std::string same = "# stated\ntitle = \"b\"\n[strip]\nthickness = \"0.15 mm\"\n";
  EXPECT_EQ(hash_of_run(text, "1"), hash_of_run(same, "1"));
  EXPECT_NE(hash_of_run(text, "1"), hash_of_run(text, "2"));
  std::string other = same;
  other.replace(other.find("0.15"), 4, "0.16");
  EXPECT_NE(hash_of_run(same, "1"), hash_of_run(other, "1"));
}

// Version 5 UUID of RFC 4122, appendix B gives no SHA-1 example; this one is Python's
// uuid.uuid5(uuid.NAMESPACE_OID, "tabmelt 1\n").
TEST(HashOfRun, is_a_name_based_uuid) {
  EXPECT_EQ(hash_of_run("", "1"), "4ef011b0-3a7e-5b64-b8e9-a2bc0ae4edbd");
}

}  // namespace
}  // namespace tabmelt
