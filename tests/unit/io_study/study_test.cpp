// Many runs of one case: what is computed, kept, found again and refused.
#include "io/study/study.h"

#include <gtest/gtest.h>
#include <tbb/global_control.h>

#include <array>
#include <atomic>
#include <condition_variable>
#include <map>
#include <mutex>
#include <thread>

#include "io/case/explain.h"
#include "io/case/units.h"
#include "io/store/result_writer.h"
#include "solver/study/judged_run.h"
#include "tests/support/temporary_folder.h"

namespace tabmelt {
namespace {

using study::Point;
using study::State;

// The usual weld on a coarse grid, some hundredths of a second each.
StudiedCase coarse() {
  return {"weld",
          "/nowhere/case.toml",
          template_case(),
          {{"numerics.resolution", "0.3"}, {"numerics.end_time", "8 ms"}}};
}

std::vector<Point> forces() { return {{24}, {30}, {36}, {42}}; }

TEST(Knob, sets_what_it_reads) {
  const Case read = read_case_text(template_case(), "/nowhere/case.toml");
  for (const char* key : {"pressing.force", "strip.thickness", "boundary.ambient", "joints.count",
                          "contact.tip.slope", "switch.pulses.1.1", "layer.disc.thickness",
                          "materials.nickel-200.hardness"}) {
    const Knob knob = knob_of(read, key);
    const double other = knob.whole() ? knob.value + 1 : knob.value * 1.0123456789;
    const Case changed = read_case_text(template_case(), "/nowhere/case.toml", {knob.at(other)});
    EXPECT_NEAR(knob_of(changed, key).value / other, 1, 1e-11) << key;
  }
  EXPECT_THROW(knob_of(read, "strip.material"), InputError);
  EXPECT_THROW(knob_of(read, "source.part_esr"), InputError);
  EXPECT_THROW(knob_of(read, "pressing.farce"), InputError);
}

TEST(Knob, spans_have_units_once_or_twice_and_stay_in_range) {
  const Case read = read_case_text(template_case(), "/nowhere/case.toml");
  for (const char* text : {"pressing.force=15 N..60 N", "pressing.force=15..60 N"}) {
    const KnobSpan span = knob_span(read, text);
    EXPECT_DOUBLE_EQ(span.from, 15);
    EXPECT_DOUBLE_EQ(span.to, 60);
  }
  EXPECT_DOUBLE_EQ(knob_span(read, "strip.thickness=0.1..0.2 mm").to, 0.2e-3);
  EXPECT_DOUBLE_EQ(knob_span(read, "joints.count=1..8").to, 8);
  for (const char* wrong :
       {"pressing.force", "pressing.force=15", "pressing.force=60..15 N", "pressing.force=0..60 N",
        "pressing.force=15..60", "strip.thickness=0.1..9 m", "no.key=1..2"})
    EXPECT_THROW(knob_span(read, wrong), InputError) << wrong;
}

TEST(Study, gives_each_point_the_run_that_it_would_have_alone) {
  const test::TemporaryFolder folder;
  Processes alone;
  Study study(coarse(), folder.path(), "1", alone);
  const std::vector<Knob> knobs{knob_of(study.base(), "pressing.force")};
  const auto runs = study.over(knobs)(forces());
  for (std::size_t n = 0; n < runs.size(); ++n) {
    ASSERT_EQ(runs[n].state, State::computed);
    EXPECT_EQ(runs[n], computed_run(study.at(knobs, forces()[n]).problem)) << n;
    EXPECT_EQ(runs[n].good, runs[n].margin >= 0);
  }
  EXPECT_EQ(study.counts().computed, 4u);
  EXPECT_EQ(study.counts().reused, 0u);
}

TEST(Study, does_not_depend_on_the_number_of_threads) {
  std::vector<std::vector<study::Judged>> all;
  for (const std::size_t threads : {1u, 4u}) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    const test::TemporaryFolder folder;
    Processes alone;
    Study study(coarse(), folder.path(), "1", alone);
    all.push_back(study.over({knob_of(study.base(), "pressing.force")})(forces()));
  }
  EXPECT_EQ(all[0], all[1]);
}

TEST(Study, goes_on_where_it_stopped) {
  const test::TemporaryFolder folder;
  Processes alone;
  std::vector<study::Judged> first;
  {
    Study study(coarse(), folder.path(), "1", alone);
    std::atomic<std::size_t> done{0};
    study.tell([&](const StudyCounts& counts) { done = counts.computed; });
    study.stop_when([&] { return done >= 2; });
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, 1);
    first = study.over({knob_of(study.base(), "pressing.force")})(forces());
    EXPECT_TRUE(study.stopped());
    EXPECT_TRUE(study::cut_short(first));
  }
  Study study(coarse(), folder.path(), "1", alone);
  const auto all = study.over({knob_of(study.base(), "pressing.force")})(forces());
  EXPECT_FALSE(study.stopped());
  EXPECT_EQ(study.counts().reused, 2u);
  EXPECT_EQ(study.counts().computed, 2u);
  for (std::size_t n = 0; n < all.size(); ++n)
    EXPECT_TRUE(first[n].state == State::not_run || first[n] == all[n]) << n;
  // Another kind of study finds the same runs; another version of the program does not.
  const auto twice = study.over({knob_of(study.base(), "pressing.force"),
                                 knob_of(study.base(), "strip.thickness")})({{24, 0.15e-3}});
  EXPECT_EQ(twice[0], all[0]);
  EXPECT_EQ(study.counts().computed, 2u);
  Study newer(coarse(), folder.path(), "2", alone);
  newer.over({knob_of(newer.base(), "pressing.force")})({{24}});
  EXPECT_EQ(newer.counts().computed, 1u);
}

TEST(Study, counts_a_case_that_is_not_possible_as_failed) {
  const test::TemporaryFolder folder;
  Processes alone;
  Study study(coarse(), folder.path(), "1", alone);
  // The tip is then wider than the way to the other one.
  const auto runs = study.over({knob_of(study.base(), "electrode.tip_diameter")})({{0.012}});
  EXPECT_EQ(runs[0].state, State::failed);
  EXPECT_NE(runs[0].reason.find("can.rim_radius"), std::string::npos) << runs[0].reason;
  EXPECT_EQ(study.counts().failed, 1u);
}

TEST(Study, refuses_the_folder_of_another_case) {
  const test::TemporaryFolder folder;
  Processes alone;
  { Study study(coarse(), folder.path(), "1", alone); }
  EXPECT_NO_THROW(Study(coarse(), folder.path(), "1", alone));
  StudiedCase other = coarse();
  other.settings.push_back({"pressing.force", "31 N"});
  EXPECT_THROW(Study(other, folder.path(), "1", alone), OutputError);
}

// Two processes played by two threads: each computes its share and hears the other's.
class Pair {
 public:
  std::vector<std::string> gathered(int rank, const std::string& mine) {
    std::unique_lock lock(mutex_);
    const int round = rounds_[static_cast<std::size_t>(rank)]++;
    auto& all = said_[round];
    all.resize(2);
    all[static_cast<std::size_t>(rank)] = mine;
    ++here_[round];
    changed_.notify_all();
    changed_.wait(lock, [&] { return here_[round] == 2; });
    return said_[round];
  }

 private:
  std::mutex mutex_;
  std::condition_variable changed_;
  std::array<int, 2> rounds_{};
  std::map<int, std::vector<std::string>> said_;
  std::map<int, int> here_;
};

class OneOfTwo : public Processes {
 public:
  OneOfTwo(Pair& pair, int rank) : pair_(pair), rank_(rank) {}
  int rank() const override { return rank_; }
  int count() const override { return 2; }
  std::vector<std::string> gathered(const std::string& mine) override {
    return pair_.gathered(rank_, mine);
  }

 private:
  Pair& pair_;
  int rank_;
};

TEST(Study, of_two_processes_says_the_same_as_of_one) {
  const test::TemporaryFolder folder, single;
  Pair pair;
  std::array<std::vector<study::Judged>, 2> answers, again;
  std::array<StudyCounts, 2> counts;
  // The second batch falls to the other process, point by point, and one of it comes twice.
  const std::vector<Point> first{{24}, {30}, {36}}, second{{30}, {24}, {30}};
  {
    std::vector<std::jthread> both;
    for (int rank = 0; rank < 2; ++rank)
      both.emplace_back([&, rank] {
        OneOfTwo process(pair, rank);
        Study study(coarse(), folder.path(), "1", process);
        const auto n = static_cast<std::size_t>(rank);
        const auto evaluate = study.over({knob_of(study.base(), "pressing.force")});
        answers[n] = evaluate(first);
        again[n] = evaluate(second);
        counts[n] = study.counts();
      });
  }
  Processes alone;
  Study study(coarse(), single.path(), "1", alone);
  const auto expected = study.over({knob_of(study.base(), "pressing.force")})(first);
  const std::vector<study::Judged> turned{expected[1], expected[0], expected[1]};
  for (std::size_t n = 0; n < 2; ++n) {
    EXPECT_EQ(answers[n], expected);
    EXPECT_EQ(again[n], turned);
    EXPECT_EQ(counts[n].computed, 3u) << "each run is computed once";
    EXPECT_EQ(counts[n].reused, 3u);
  }
}

TEST(Study, computes_a_point_that_comes_twice_in_a_batch_once) {
  const test::TemporaryFolder folder;
  Processes alone;
  Study study(coarse(), folder.path(), "1", alone);
  const auto runs = study.over({knob_of(study.base(), "pressing.force")})({{24}, {24}, {24}});
  EXPECT_EQ(runs[0], runs[1]);
  EXPECT_EQ(runs[0], runs[2]);
  EXPECT_EQ(study.counts().computed, 1u);
  EXPECT_EQ(study.counts().reused, 2u);
}

}  // namespace
}  // namespace tabmelt
