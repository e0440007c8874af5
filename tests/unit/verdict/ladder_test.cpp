#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "solver/verdict/criteria.h"
#include "synthetic_weld.h"

namespace tabmelt {
namespace {

using namespace synthetic;

TEST(Ladder, good_weld_is_good_and_every_criterion_is_reported) {
  const Verdict v = judge(nickel_on_can(), good_weld());
  EXPECT_EQ(v.leading, Outcome::fused);
  EXPECT_TRUE(v.good);
  EXPECT_TRUE(v.cell_safe);
  EXPECT_EQ(v.findings.size(), 10u);
  std::set<Outcome> reported;
  for (const Finding& f : v.findings) {
    reported.insert(f.outcome);
    EXPECT_EQ(f.holds, f.outcome == Outcome::fused) << key(f.outcome);
    EXPECT_GT(f.margin, 0) << key(f.outcome);
    EXPECT_FALSE(f.basis.empty()) << key(f.outcome);
    EXPECT_FALSE(f.advice.empty()) << key(f.outcome);
    EXPECT_FALSE(f.quantity.empty()) << key(f.outcome);
    EXPECT_FALSE(f.unit.empty()) << key(f.outcome);
  }
  EXPECT_EQ(reported.size(), 10u);
  EXPECT_NEAR(v.nugget_diameter, 0.8e-3, 1e-12);
  EXPECT_NEAR(v.smallest_good_nugget, 0.6e-3, 1e-12);
  EXPECT_GT(v.peel_strength, 0);
}

TEST(Ladder, no_side_molten_is_no_bond_and_one_is_stuck) {
  const Problem p = nickel_on_can();  // melts at 1728 K (strip) and 1800 K (can)
  const Verdict cold = judge(p, unmelted(1727));
  EXPECT_EQ(cold.leading, Outcome::no_bond);
  EXPECT_LT(find(cold, Outcome::no_bond)->margin, 0);
  EXPECT_DOUBLE_EQ(find(cold, Outcome::no_bond)->limit, 1728);
  const Verdict warm = judge(p, unmelted(1729));
  EXPECT_EQ(warm.leading, Outcome::stuck);
  EXPECT_GT(find(warm, Outcome::no_bond)->margin, 0);
  EXPECT_FALSE(find(warm, Outcome::no_bond)->holds);
  EXPECT_LT(find(warm, Outcome::stuck)->margin, 0);
}

TEST(Ladder, smallest_good_nugget_parts_small_from_fused) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  r.joints[0].nugget.value = r.joints[0].fused_diameter = 0.599e-3;
  const Verdict small = judge(p, r);
  EXPECT_EQ(small.leading, Outcome::small_nugget);
  EXPECT_FALSE(small.good);
  const Finding* f = find(small, Outcome::small_nugget);
  EXPECT_EQ(f->unit, "m");
  EXPECT_DOUBLE_EQ(f->value, 0.599e-3);
  EXPECT_DOUBLE_EQ(f->limit, 0.6e-3);
  EXPECT_NEAR(f->margin, -1. / 600, 1e-9);
  r.joints[0].nugget.value = r.joints[0].fused_diameter = 0.601e-3;
  EXPECT_EQ(judge(p, r).leading, Outcome::fused);
  EXPECT_NEAR(find(judge(p, r), Outcome::fused)->margin, 1. / 600, 1e-9);
}

TEST(Ladder, area_fused_at_different_moments_counts) {
  Result r = good_weld();
  r.joints[0].nugget.value = 0.5e-3;  // a ring that moved inwards
  r.joints[0].fused_diameter = 0.7e-3;
  EXPECT_EQ(judge(nickel_on_can(), r).leading, Outcome::fused);
}

TEST(Ladder, sparks_count_from_half_a_percent_or_20_mj) {
  const Problem p = nickel_on_can();
  Result r = good_weld();  // 4.8 J at the spots: half a percent is 24 mJ, 20 mJ decides
  r.ledger.expelled = 19.9e-3;
  EXPECT_FALSE(holds(judge(p, r), Outcome::surface_sparking));
  r.ledger.expelled = 20.1e-3;
  const Verdict v = judge(p, r);
  EXPECT_EQ(v.leading, Outcome::surface_sparking);
  EXPECT_FALSE(v.good);
  EXPECT_NEAR(find(v, Outcome::surface_sparking)->margin, -0.005, 1e-9);

  r.ledger.contacts[0] = r.ledger.contacts[1] = 0.1;
  r.ledger.electrodes = r.ledger.sheets[0] = r.ledger.sheets[1] = 0.1;  // 0.5 J: 2.5 mJ decides
  r.ledger.expelled = 2.4e-3;
  EXPECT_FALSE(holds(judge(p, r), Outcome::surface_sparking));
  r.ledger.expelled = 2.6e-3;
  EXPECT_TRUE(holds(judge(p, r), Outcome::surface_sparking));
}

TEST(Ladder, half_a_contact_that_bursts_sparks) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  r.contacts[0].burst_share = {0.49, 0.1e-3, 0, 0};
  EXPECT_FALSE(holds(judge(p, r), Outcome::surface_sparking));
  r.contacts[0].burst_share.value = 0.51;
  EXPECT_TRUE(holds(judge(p, r), Outcome::surface_sparking));
  // A large voltage at an edge alone throws off nothing.
  r.contacts[0].burst_share.value = 0;
  r.contacts[0].voltage.value = 0.97;
  EXPECT_TRUE(judge(p, r).good);
  // A measured contact has no bridge to burst.
  Problem fixed = p;
  fixed.under_tip().fixed.emplace();
  fixed.joint(0).fixed.emplace();
  EXPECT_EQ(find(judge(fixed, r), Outcome::surface_sparking), nullptr);
}

TEST(Ladder, nugget_as_wide_as_the_face_is_expelled) {
  const Problem p = nickel_on_can();  // face 1.1 mm
  Result r = good_weld();
  r.joints[0].nugget.value = r.joints[0].fused_diameter = 1.09e-3;
  EXPECT_FALSE(holds(judge(p, r), Outcome::expulsion));
  r.joints[0].nugget.value = r.joints[0].fused_diameter = 1.11e-3;
  EXPECT_EQ(judge(p, r).leading, Outcome::expulsion);
  // A ring counts by its outer rim: hypot(0.9, 0.7) = 1.14 mm.
  r.joints[0].nugget.value = r.joints[0].fused_diameter = 0.9e-3;
  r.joints[0].hole_diameter = 0.7e-3;
  EXPECT_TRUE(holds(judge(p, r), Outcome::expulsion));
  EXPECT_NEAR(find(judge(p, r), Outcome::expulsion)->value, std::hypot(0.9e-3, 0.7e-3), 1e-12);
}

TEST(Ladder, boiled_metal_is_expelled_by_the_heat_it_carries) {
  Result r = good_weld();  // heat of vaporisation 6 MJ/kg: 20 mJ are 3.33 ug
  r.vaporised_mass = 3.2e-9;
  EXPECT_TRUE(judge(nickel_on_can(), r).good);
  r.vaporised_mass = 3.4e-9;
  const Verdict v = judge(nickel_on_can(), r);
  EXPECT_EQ(v.leading, Outcome::expulsion);
  EXPECT_EQ(find(v, Outcome::expulsion)->unit, "J");
  EXPECT_LT(find(v, Outcome::expulsion)->margin, 0);
}

TEST(Ladder, three_quarters_of_the_face_molten_stick_to_the_tip) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  r.contacts[0].radius = 0.4e-3;
  const double face = 3.14159265358979 * 0.16e-6;
  r.stuck_area = 0.74 * face;
  EXPECT_TRUE(judge(p, r).good);
  r.stuck_area = 0.76 * face;
  const Verdict v = judge(p, r);
  EXPECT_EQ(v.leading, Outcome::electrode_sticking);
  EXPECT_NEAR(find(v, Outcome::electrode_sticking)->value, 0.76, 1e-12);
}

TEST(Ladder, strip_burns_through_under_half_the_tip_or_in_a_wide_ring) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  r.contacts[0].radius = 0.4e-3;
  const double face = 3.14159265358979 * 0.16e-6;
  r.through_area = 0.49 * face;
  EXPECT_FALSE(holds(judge(p, r), Outcome::strip_burn_through));
  r.through_area = 0.51 * face;
  EXPECT_EQ(judge(p, r).leading, Outcome::strip_burn_through);
  r.through_area = 0;
  r.through_band.value = 0.22e-3;  // strip of 0.15 mm: 0.225 mm
  EXPECT_TRUE(judge(p, r).good);
  r.through_band.value = 0.23e-3;
  EXPECT_EQ(judge(p, r).leading, Outcome::strip_burn_through);
}

TEST(Ladder, can_is_punctured_from_eight_tenths_and_warned_of_from_half) {
  const Problem p = nickel_on_can();  // wall 0.3 mm
  Result r = good_weld();
  r.sheets[1].penetration.value = 0.145e-3;
  EXPECT_EQ(find(judge(p, r), Outcome::can_puncture)->advice.find("Melt went"), std::string::npos);
  r.sheets[1].penetration.value = 0.17e-3;
  const Verdict warned = judge(p, r);
  EXPECT_TRUE(warned.good);
  EXPECT_NE(find(warned, Outcome::can_puncture)->advice.find("56.7 %"), std::string::npos);
  EXPECT_NE(warned.sentence.find("56.7 % of the can wall"), std::string::npos) << warned.sentence;
  r.sheets[1].penetration.value = 0.239e-3;
  EXPECT_FALSE(holds(judge(p, r), Outcome::can_puncture));
  r.sheets[1].penetration.value = 0.241e-3;
  const Verdict v = judge(p, r);
  EXPECT_EQ(v.leading, Outcome::can_puncture);
  EXPECT_FALSE(v.cell_safe);
}

TEST(Ladder, can_gives_way_when_pushed_in_by_half_its_wall) {
  const Problem p = nickel_on_can();
  Result r = good_weld();
  r.wall_sunk.value = 0.49;
  EXPECT_TRUE(judge(p, r).good);
  r.wall_sunk.value = 0.51;
  EXPECT_EQ(judge(p, r).leading, Outcome::can_puncture);
  EXPECT_NEAR(find(judge(p, r), Outcome::can_puncture)->limit, 0.15e-3, 1e-12);
}

TEST(Ladder, worst_leads_and_findings_are_sorted) {
  const Problem p = nickel_on_can();
  Result r = unmelted(500);
  const std::vector<Outcome> order = {
      Outcome::no_bond,        Outcome::electrode_sticking, Outcome::surface_sparking,
      Outcome::expulsion,      Outcome::strip_burn_through, Outcome::can_puncture,
      Outcome::cell_overheated};
  for (const Outcome worst : order) {
    switch (worst) {
      case Outcome::electrode_sticking:
        r.stuck_area = 1;
        break;
      case Outcome::surface_sparking:
        r.ledger.expelled = 1;
        break;
      case Outcome::expulsion:
        r.vaporised_mass = 1e-8;
        break;
      case Outcome::strip_burn_through:
        r.through_area = 1;
        break;
      case Outcome::can_puncture:
        r.sheets[1].penetration.value = 0.3e-3;
        break;
      case Outcome::cell_overheated:
        r.inner_wall_and_layers[0].peak.value = celsius(200);
        break;
      default:
        break;
    }
    const Verdict v = judge(p, r);
    EXPECT_EQ(v.leading, worst) << key(worst);
    EXPECT_EQ(v.findings.front().outcome, worst) << key(worst);
  }
  // Those that hold come first and in falling severity.
  const Verdict all = judge(p, r);
  for (std::size_t n = 0; n < order.size(); ++n) {
    EXPECT_EQ(all.findings[n].outcome, order[order.size() - 1 - n]);
    EXPECT_TRUE(all.findings[n].holds);
  }
  for (std::size_t n = order.size(); n < all.findings.size(); ++n) {
    EXPECT_FALSE(all.findings[n].holds);
  }
}

// Hotter never gives a lesser bond, and each margin follows the temperature.
TEST(Ladder, bond_grows_with_temperature_and_nugget) {
  const Problem p = nickel_on_can();
  const auto rank = [](Outcome o) {
    return o == Outcome::no_bond ? 0 : o == Outcome::stuck ? 1 : o == Outcome::small_nugget ? 2 : 3;
  };
  int best = 0;
  double margin = -10;
  std::set<int> seen;
  for (double heat = 0; heat <= 1; heat += 1. / 256) {
    const double T = 293.15 + heat * 2000;
    Result r = unmelted(T);
    if (T > 1800) {
      r.joints[0].nugget.value = r.joints[0].fused_diameter = 0.9e-3 * (T - 1800) / 500;
    }
    const Verdict v = judge(p, r);
    int bond = -1, holding = 0;
    for (const Outcome o :
         {Outcome::no_bond, Outcome::stuck, Outcome::small_nugget, Outcome::fused}) {
      if (holds(v, o)) {
        bond = rank(o);
        ++holding;
      }
    }
    EXPECT_EQ(holding, 1) << "at " << T << " K";
    EXPECT_GE(bond, best) << "at " << T << " K";
    EXPECT_GE(find(v, Outcome::no_bond)->margin, margin);
    margin = find(v, Outcome::no_bond)->margin;
    best = std::max(best, bond);
    seen.insert(bond);
  }
  EXPECT_EQ(seen, (std::set<int>{0, 1, 2, 3}));
}

// For every criterion: the sign of the margin and `holds` say the same.
TEST(Ladder, margin_and_holds_agree) {
  const Problem p = nickel_on_can();
  for (double scale = 0.1; scale < 4; scale *= 1.07) {
    Result r = good_weld();
    for (Extreme* e : {&r.joints[0].peak, &r.peak_tip, &r.peak_top, &r.sheets[0].peak,
                       &r.peak_inner_wall, &r.joints[0].nugget, &r.sheets[1].penetration}) {
      e->value *= scale;
    }
    r.joints[0].fused_diameter *= scale;
    r.ledger.expelled = 8e-3 * scale;
    r.stuck_area = r.through_area = 0.2e-6 * scale;
    r.through_band.value = 0.1e-3 * scale;
    r.wall_sunk.value = 0.2 * scale;
    r.contacts[0].burst_share.value = 0.2 * scale;
    r.inner_wall_and_layers[0].peak.value *= scale;
    for (const Finding& f : judge(p, r).findings) {
      EXPECT_TRUE(std::isfinite(f.margin)) << key(f.outcome);
      if (f.outcome == Outcome::fused) {
        EXPECT_EQ(f.holds, f.margin >= 0) << scale;
      } else if (f.outcome == Outcome::stuck || f.outcome == Outcome::small_nugget ||
                 f.outcome == Outcome::no_bond) {
        EXPECT_TRUE(!f.holds || f.margin <= 0) << key(f.outcome) << ' ' << scale;
      } else {
        EXPECT_EQ(f.holds, f.margin <= 0) << key(f.outcome) << ' ' << scale;
      }
    }
  }
}

TEST(Ladder, words_and_keys_are_distinct) {
  std::set<std::string> all_words, all_keys;
  for (int o = 0; o <= static_cast<int>(Outcome::cell_overheated); ++o) {
    all_words.insert(words(static_cast<Outcome>(o)));
    all_keys.insert(key(static_cast<Outcome>(o)));
  }
  EXPECT_EQ(all_words.size(), 10u);
  EXPECT_EQ(all_keys.size(), 10u);
  EXPECT_EQ(words(Outcome::stuck), "stick weld");
  EXPECT_EQ(key(Outcome::surface_sparking), "surface_sparking");
}

}  // namespace
}  // namespace tabmelt
