// Notes of a test weld against what runs foretell, and what the next weld would tell.
#include "solver/inference/outcomes.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tabmelt::inference {
namespace {

study::Judged run_with(std::vector<study::Limit> limits) {
  study::Judged run;
  run.state = study::State::computed;
  run.limits = std::move(limits);
  return run;
}

double chance(const Foretold& f, Note note) { return f.yes[static_cast<std::size_t>(note)]; }

TEST(Outcomes, a_margin_far_away_leaves_only_a_wrong_note) {
  const NoteModel model;
  const Foretold f = foretold(run_with({{"no_bond", false, 3},
                                        {"small_nugget", true, -3},
                                        {"expulsion", true, -5},
                                        {"surface_sparking", false, 5},
                                        {"electrode_sticking", false, 5}}),
                              {}, model);
  EXPECT_NEAR(chance(f, Note::held), 1 - model.wrong, 1e-12);
  EXPECT_NEAR(chance(f, Note::button), model.wrong, 1e-12);
  // Either of two limits is seen as a spark.
  EXPECT_NEAR(chance(f, Note::spark), 1 - model.wrong, 1e-12);
  EXPECT_NEAR(chance(f, Note::stuck_tip), model.wrong, 1e-12);
  EXPECT_EQ(chance(f, Note::hole), 0.5) << "nothing was judged about it";
}

TEST(Outcomes, at_a_limit_it_may_go_either_way) {
  const NoteModel model;
  EXPECT_NEAR(chance(foretold(run_with({{"small_nugget", false, 0}}), {}, model), Note::button),
              0.5, 1e-12);
  // One scatter above: Phi(1) = 0.8413.
  EXPECT_NEAR(chance(foretold(run_with({{"small_nugget", false, 0.2}}), {}, model), Note::button),
              0.03 + 0.94 * 0.841345, 1e-6);
}

TEST(Outcomes, a_run_that_failed_says_nothing) {
  study::Judged failed;
  failed.state = study::State::failed;
  const Foretold f = foretold(failed, 12, {});
  for (const double yes : f.yes) EXPECT_EQ(yes, 0.5);
  EXPECT_FALSE(f.peel_force);
  Noted noted;
  noted.peel_force = 12;
  EXPECT_EQ(log_likelihood(noted, f, {}), 0);
}

TEST(Outcomes, notes_multiply_and_blanks_say_nothing) {
  Foretold f;
  f.yes = {0.9, 0.2, 0.5, 0.5, 0.5};
  Noted noted;
  EXPECT_TRUE(noted.empty());
  EXPECT_EQ(log_likelihood(noted, f, {}), 0);
  noted.yes[0] = true;
  noted.yes[1] = false;
  EXPECT_FALSE(noted.empty());
  EXPECT_NEAR(log_likelihood(noted, f, {}), std::log(0.9 * 0.8), 1e-12);
}

TEST(Outcomes, a_force_is_log_normal_unless_it_was_noted_wrongly) {
  Foretold f;
  f.peel_force = 10;
  Noted right, twice, nonsense;
  right.peel_force = 10;
  twice.peel_force = 14;
  nonsense.peel_force = 400;
  const NoteModel model;
  const double s = std::log(1.4), flat = 0.03 / (2 * std::log(100.0));
  const double peak = 0.97 / (s * std::sqrt(2 * M_PI));
  EXPECT_NEAR(log_likelihood(right, f, model), std::log(peak + flat), 1e-9);
  EXPECT_NEAR(log_likelihood(twice, f, model), std::log(peak * std::exp(-0.5) + flat), 1e-9);
  EXPECT_NEAR(log_likelihood(nonsense, f, model), std::log(flat), 1e-4);
}

// Two draws that foretell one note with 0.9 and 0.1: 1 - H(0.9) = 0.531 bits; draws that agree, or
// of which one has all the weight, nothing.
TEST(Outcomes, information_of_a_note_is_that_of_a_binary_channel) {
  Foretold yes, no;
  yes.yes = {0.9, 0.5, 0.5, 0.5, 0.5};
  no.yes = {0.1, 0.5, 0.5, 0.5, 0.5};
  EXPECT_NEAR(expected_information({yes, no}, {0.5, 0.5}), 0.531004, 1e-6);
  EXPECT_NEAR(expected_information({yes, yes}, {0.5, 0.5}), 0, 1e-12);
  EXPECT_NEAR(expected_information({yes, no}, {1, 0}), 0, 1e-12);
  // Two such notes tell more than one and less than twice as much.
  yes.yes[1] = 0.9;
  no.yes[1] = 0.1;
  const double both = expected_information({yes, no}, {0.5, 0.5});
  EXPECT_GT(both, 0.6);
  EXPECT_LT(both, 1);
}

TEST(Outcomes, have_words) {
  EXPECT_EQ(words(Note::held), "held");
  EXPECT_EQ(words(Note::hole), "hole");
}

}  // namespace
}  // namespace tabmelt::inference
