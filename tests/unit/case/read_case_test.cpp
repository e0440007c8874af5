// Cases that are right: every value ends where it belongs, and what was left out is listed.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "io/case/effective_rim.h"
#include "io/case/explain.h"
#include "tests/unit/case/sample_cases.h"

namespace tabmelt::testing {
namespace {

using std::numbers::pi;

const DefaultUsed* default_of(const Case& c, const std::string& key) {
  for (const DefaultUsed& d : c.defaults)
    if (d.key == key) return &d;
  return nullptr;
}

TEST(ReadCase, pure_check_arrives_in_si) {
  const Case c = read(pure_check);
  const Problem& p = c.problem;
  EXPECT_EQ(p.name, "constant properties");
  EXPECT_DOUBLE_EQ(p.electrode.tip_radius, 0.75e-3);
  EXPECT_DOUBLE_EQ(p.electrode.body_radius, 0.75e-3);
  EXPECT_EQ(p.electrode.taper_angle, 0);
  EXPECT_DOUBLE_EQ(p.electrode.length, 3e-3);
  EXPECT_DOUBLE_EQ(p.top().thickness, 0.15e-3);
  EXPECT_DOUBLE_EQ(p.top().rim_radius, 4e-3);
  EXPECT_DOUBLE_EQ(p.top().radius, 4e-3);
  EXPECT_DOUBLE_EQ(p.base().thickness, 0.3e-3);
  EXPECT_DOUBLE_EQ(p.base().rim_radius, 4e-3);
  EXPECT_DOUBLE_EQ(p.base().radius, 4e-3);
  EXPECT_TRUE(p.inner.empty());
  EXPECT_FALSE(p.cell_limits);
  EXPECT_EQ(p.arrangement.spots, 2);
  EXPECT_FALSE(p.top().slit);
  ASSERT_TRUE(p.under_tip().fixed);
  EXPECT_DOUBLE_EQ(p.under_tip().radius, 0.75e-3);
  EXPECT_DOUBLE_EQ(p.under_tip().fixed->area_resistance, 2e-9);
  EXPECT_DOUBLE_EQ(p.under_tip().fixed->area_conductance, 1e5);
  EXPECT_DOUBLE_EQ(p.joint(0).radius, 0.75e-3);
  EXPECT_DOUBLE_EQ(p.joint(0).fixed->area_resistance, 8e-9);
  EXPECT_DOUBLE_EQ(p.joint(0).fixed->area_conductance, 5e4);
  const auto& current = std::get<circuit::ExponentialCurrent>(p.circuit.source);
  EXPECT_EQ(current.peak, 600);
  EXPECT_DOUBLE_EQ(current.time_constant, 1.5e-3);
  EXPECT_EQ(p.circuit.leads.cross_section, 0);
  EXPECT_TRUE(p.circuit.joints.empty());
  EXPECT_EQ(p.circuit.power_switch.on_resistance, 0);
  EXPECT_TRUE(p.circuit.power_switch.train.empty());
  EXPECT_DOUBLE_EQ(p.numerics.end_time.value(), 5e-3);
  EXPECT_EQ(p.boundary.ambient, 293.15);
  EXPECT_EQ(p.electrode.material->density, 8960);
  EXPECT_EQ(p.electrode.material->specific_heat.at(900), 385);
  EXPECT_EQ(p.base().material->thermal_conductivity.at(300), 60);
  EXPECT_DOUBLE_EQ(p.base().material->resistivity.at(300), 1.4e-7);
  EXPECT_DOUBLE_EQ(p.top().material->resistivity.at(293.15), 7e-8);
  ASSERT_EQ(p.probes.size(), 1u);
  EXPECT_EQ(p.probes[0].part, "can");
  EXPECT_TRUE(complaints(p).empty());
}

TEST(ReadCase, template_is_complete) {
  Case c;
  ASSERT_NO_THROW(c = read(bank_case));
  const Problem& p = c.problem;
  EXPECT_EQ(p.top().material->name, "nickel-200");
  EXPECT_TRUE(p.top().slit);
  EXPECT_EQ(p.pressing.force, 25);
  const auto& bank = std::get<circuit::CapacitorBank>(p.circuit.source);
  EXPECT_NEAR(bank.stored_energy(), 12.03, 0.01);
  EXPECT_EQ(p.circuit.joints.size(), 4u);
  ASSERT_EQ(p.circuit.power_switch.train.size(), 1u);
  EXPECT_DOUBLE_EQ(p.circuit.power_switch.train[0].on, 8e-3);
  ASSERT_EQ(p.inner.size(), 3u);
  EXPECT_DOUBLE_EQ(p.inner[1].molten_limit.value(), 0.5);
  EXPECT_DOUBLE_EQ(p.inner[2].damage_limit.value(), 0.01);
  ASSERT_TRUE(p.cell_limits);
  EXPECT_FALSE(p.cell_limits->inner_wall);  // by its strength alone
  EXPECT_DOUBLE_EQ(p.base().radius, 9e-3);
  EXPECT_DOUBLE_EQ(p.joint(0).radius, 0.9e-3);
}

TEST(ReadCase, lists_every_default_with_its_reason) {
  const Case c = read(bank_case);
  for (const char* key :
       {"strip.width", "electrode.material", "contact.tip.film_resistance", "can.rim_radius",
        "leads.cross_section", "numerics.step_tolerance", "layer \"winding\""})
    EXPECT_NE(default_of(c, key), nullptr) << key;
  for (const char* key : {"strip.thickness", "strip.slit", "pressing.force", "source.parallel"})
    EXPECT_EQ(default_of(c, key), nullptr) << key;
  for (const DefaultUsed& d : c.defaults) {
    EXPECT_FALSE(d.value.empty()) << d.key;
    EXPECT_GT(d.reason.size(), 5u) << d.key;
  }
  EXPECT_EQ(default_of(c, "strip.width")->value, "8 mm");
}

TEST(ReadCase, opposed_battery_arrives) {
  const Problem p = read(opposed_battery).problem;
  EXPECT_EQ(p.arrangement.spots, 1);
  EXPECT_TRUE(p.top().slit);
  EXPECT_DOUBLE_EQ(p.electrode.face_radius, 10 * p.electrode.tip_radius);
  EXPECT_EQ(p.base().rim_radius, p.base().radius);
  EXPECT_EQ(p.pressing.closing, Closing::unswitched);
  EXPECT_DOUBLE_EQ(p.pressing.approach_speed, 0.05);
  EXPECT_DOUBLE_EQ(p.pressing.tip_stiffness, 2000);
  const auto& battery = std::get<circuit::Battery>(p.circuit.source);
  EXPECT_EQ(battery.open_circuit_voltage, 12.6);
  EXPECT_EQ(battery.rated_current, 900);
  ASSERT_EQ(p.circuit.power_switch.train.size(), 2u);
  EXPECT_DOUBLE_EQ(p.circuit.power_switch.train[0].off, 5e-3);
  ASSERT_EQ(p.inner.size(), 2u);
  EXPECT_EQ(p.inner[0].limit_reason, "set in the case file");
  EXPECT_FALSE(p.inner[1].limit);
  EXPECT_DOUBLE_EQ(p.cell_limits->inner_wall.value(), 373.15);
}

TEST(ReadCase, layers_of_the_cell_can_be_left_out) {
  const std::string cell = "layer = []\n" + bank_case;
  const Case c = read(cell);
  EXPECT_TRUE(c.problem.inner.empty());
  EXPECT_TRUE(c.problem.cell_limits);
}

TEST(ReadCase, plain_circuit_keeps_to_what_is_given) {
  std::string text = pure_check;
  const auto from = text.find("kind = \"exponential"), to = text.find("[numerics]");
  text.replace(
      from, to - from,
      "kind = \"capacitor bank\"\npart_capacitance = \"0.1 F\"\npart_esr = \"0 ohm\"\n"
      "charge_voltage = \"10 V\"\n[leads]\nresistance = \"5 mohm\"\ninductance = \"1 uH\"\n");
  const Problem p = read(text).problem;
  EXPECT_DOUBLE_EQ(p.circuit.leads.resistance.value(), 5e-3);
  EXPECT_DOUBLE_EQ(p.circuit.leads.inductance.value(), 1e-6);
  EXPECT_TRUE(p.circuit.joints.empty());
  EXPECT_EQ(p.circuit.power_switch.on_resistance, 0);
}

TEST(ReadCase, every_cell_size_and_end_is_sound) {
  for (const char* size : {"18650", "21700", "26650", "32700"})
    for (const char* end : {"negative bottom", "positive cap"}) {
      const std::string text =
          with(with(bank_case, "size = \"18650", std::string("size = \"") + size),
               "negative bottom", end);
      Case c;
      ASSERT_NO_THROW(c = read(text)) << size << ' ' << end;
      EXPECT_EQ(c.problem.inner.size(), 3u);
      EXPECT_GT(c.problem.base().radius, c.problem.base().rim_radius);
      EXPECT_GT(c.problem.base().thickness, 0.25e-3);
      EXPECT_LT(c.problem.base().thickness, 0.45e-3);
    }
}

// The closed forms against the sums over image electrodes they come from (Smythe, Static and
// Dynamic Electricity): ln(R/a) adds ln(distance) to every image of the other electrode and
// subtracts that to every other image of one's own.
TEST(EffectiveRim, along_a_strip_is_the_sum_of_images) {
  const double d = 4e-3, w = 8e-3;
  double log_rim = std::log(d);
  for (int n = 1; n <= 200000; ++n) log_rim += std::log1p(d * d / (n * w * n * w));
  EXPECT_NEAR(strip_rim_radius_along(d, w), std::exp(log_rim), 1e-5 * d);
  // A wide strip is a wide sheet.
  EXPECT_NEAR(strip_rim_radius_along(d, 10), d, 1e-6 * d);
}

TEST(EffectiveRim, across_a_strip_is_the_sum_of_images) {
  const double d = 4e-3, w = 8e-3, s = d / 2;
  double log_rim = 0;
  for (int k = -200000; k <= 200000; ++k) {
    for (const double other : {-s + 2 * k * w, w + s + 2 * k * w})
      log_rim += std::log(std::abs(s - other));
    const double own = s + 2 * k * w, mirrored = w - s + 2 * k * w;
    if (k != 0) log_rim -= std::log(std::abs(s - own));
    log_rim -= std::log(std::abs(s - mirrored));
  }
  EXPECT_NEAR(strip_rim_radius_across(d, w), std::exp(log_rim), 1e-4 * d);
}

TEST(EffectiveRim, on_a_disc_is_the_sum_of_images) {
  const double d = 4e-3, b = 9e-3, s = d / 2;
  // One image of each electrode at b^2/s; the images at the centre cancel.
  const double rim = d * (s + b * b / s) / (b * b / s - s);
  EXPECT_NEAR(disc_rim_radius(d, b), rim, 1e-12);
  // A wide disc is a wide sheet: R = d (1 + d^2/(2 b^2) + ...).
  EXPECT_NEAR(disc_rim_radius(d, 1.0), d, d * d * d);
}

// Sheet beside the line of the slit, 0 <= p <= high, 0 <= q <= wide (half, by symmetry), in cells
// of d/(2 n): at p = 0 insulated up to the slit's end, then at 0 V; other edges insulated; current
// 1/2 fed in at p = d/2, q = 0. Potential there, by successive over-relaxation.
double fed_potential(int n, int high, int wide, double slit_end) {
  const int np = high + 1, nq = wide + 1;
  std::vector<double> phi(static_cast<std::size_t>(np * nq), 0.0);
  const auto at = [&](int p, int q) -> double& {
    return phi[static_cast<std::size_t>(p * nq + q)];
  };
  const double relax = 2 / (1 + 3.14 / (high + wide));
  for (int round = 0; round < 1500; ++round)
    for (int p = 0; p < np; ++p)
      for (int q = 0; q < nq; ++q) {
        if (p == 0 && q > slit_end) continue;
        // Half weight along an edge.
        const double along_q = p == 0 || p == np - 1 ? 0.5 : 1;
        const double along_p = q == 0 || q == nq - 1 ? 0.5 : 1;
        double weight = 0, sum = p == n && q == 0 ? 0.5 : 0;
        const auto link = [&](bool inside, int to_p, int to_q, double w) {
          if (!inside) return;
          weight += w;
          sum += w * at(to_p, to_q);
        };
        link(p > 0, p - 1, q, along_p);
        link(p < np - 1, p + 1, q, along_p);
        link(q > 0, p, q - 1, along_q);
        link(q < nq - 1, p, q + 1, along_q);
        at(p, q) += relax * (sum / weight - at(p, q));
      }
  return at(n, 0);
}

// phi = ln(R/r)/(2 pi) near the electrode: a slit adds ln(R_slit/R)/(2 pi). The end of the slit,
// half way between two nodes, and the electrode are as coarse as the cells: 2 % of ln.
TEST(EffectiveRim, slits_agree_with_a_finite_difference_sheet) {
  const double d = 4e-3, w = 8e-3;
  const int n = 12, half_width = 24;    // cells of d/2 and of w/2
  for (const int slit : {6, 12, 18}) {  // cells of half a slit
    const double end = slit + 0.5, length = 2 * end * d / (2 * n);
    const double along =
        fed_potential(n, 96, half_width, end) - fed_potential(n, 96, half_width, -1);
    const double log_along =
        std::log(strip_rim_radius_along(d, w, length) / strip_rim_radius_along(d, w));
    EXPECT_NEAR(2 * pi * along, log_along, 0.02 * log_along + 0.01) << slit;
    const double across =
        fed_potential(n, half_width, 96, end) - fed_potential(n, half_width, 96, -1);
    const double log_across =
        std::log(strip_rim_radius_across(d, w, length) / strip_rim_radius_across(d, w));
    EXPECT_NEAR(2 * pi * across, log_across, 0.02 * log_across + 0.01) << slit;
  }
}

TEST(EffectiveRim, a_wide_sheet_with_a_slit_takes_the_slits_square_over_the_spacing) {
  const double d = 4e-3, s = 7e-3;
  EXPECT_NEAR(strip_rim_radius_along(d, 10, s), d + s * s / d, 1e-5 * d);
  EXPECT_NEAR(strip_rim_radius_across(d, 10, s), d + s * s / d, 1e-5 * d);
  EXPECT_THROW(strip_rim_radius_along(d, 8e-3, 8e-3), std::domain_error);
  EXPECT_THROW(strip_rim_radius_across(d, 8e-3, -1), std::domain_error);
}

TEST(ReadCase, a_slit_of_some_length_lets_current_around) {
  EXPECT_TRUE(read(bank_case).problem.top().slit);
  const std::string text = with(bank_case, "slit = true", "slit_length = \"6 mm\"\nslit = true");
  const Problem p = read(text).problem;
  EXPECT_FALSE(p.top().slit);
  EXPECT_NEAR(p.top().rim_radius, strip_rim_radius_along(4e-3, 8e-3, 6e-3), 1e-11);
  EXPECT_TRUE(read(with(text, "6 mm", "8 mm")).problem.top().slit) << "as wide as the strip";
  EXPECT_THROW(read(with(text, "slit = true", "slit = false")), InputError);
}

TEST(ReadCase, over_the_tab_there_is_one_more_layer) {
  const std::string text = with(bank_case, "[cell]\n", "[cell]\nover_tab = true\n");
  const Problem p = read(text).problem;
  ASSERT_EQ(p.inner.size(), 4u);
  EXPECT_EQ(p.inner[0].name, "internal tab");
  EXPECT_EQ(p.inner[0].material->name, "nickel-200");
  EXPECT_THROW(read(with(text, "negative bottom", "positive cap")), InputError);
}

TEST(EffectiveRim, refuses_electrodes_beside_the_sheet) {
  EXPECT_THROW(disc_rim_radius(4e-3, 2e-3), std::domain_error);
  EXPECT_THROW(strip_rim_radius_across(4e-3, 4e-3), std::domain_error);
  EXPECT_THROW(strip_rim_radius_along(4e-3, 0), std::domain_error);
}

TEST(ReadCase, rim_radii_follow_the_forms) {
  const Problem along = read(bank_case).problem;
  EXPECT_NEAR(along.top().rim_radius, 8e-3 / pi * std::sinh(pi / 2), 1e-11);
  EXPECT_NEAR(along.base().rim_radius, disc_rim_radius(4e-3, 9e-3), 1e-11);
  const Problem across = read(with(bank_case, "slit = true", "direction = \"across\"")).problem;
  EXPECT_NEAR(across.top().rim_radius, 16e-3 / pi, 1e-11);
}

const char* const two_strips =
    "[[strip]]\nmaterial = \"nickel-plated-steel\"\nthickness = \"0.10 mm\"\nslit = true\n"
    "[[strip]]\nname = \"bar\"\nmaterial = \"copper\"\nthickness = \"0.15 mm\"\n"
    "[pressing]\nforce = \"40 N\"\n[source]\nkind = \"exponential current\"\npeak = \"600 A\"\n"
    "time_constant = \"1.5 ms\"\n";

TEST(ReadCase, strips_are_listed_from_the_tip) {
  const Problem p =
      read(std::string("[cell]\nsize = \"18650\"\nend = \"negative bottom\"\n") + two_strips)
          .problem;
  ASSERT_EQ(p.sheets.size(), 3u);
  EXPECT_EQ(p.sheets[0].name, "strip 1");
  EXPECT_EQ(p.sheets[1].name, "bar");
  EXPECT_EQ(p.sheets[2].name, "can");
  EXPECT_TRUE(p.on_can);
  EXPECT_TRUE(p.sheets[0].slit);
  EXPECT_FALSE(p.sheets[1].slit);
  ASSERT_EQ(p.contacts.size(), 3u);
  const double tip = p.electrode.tip_radius;
  EXPECT_DOUBLE_EQ(p.joint(0).radius, tip + 0.1e-3);
  EXPECT_DOUBLE_EQ(p.joint(1).radius, tip + 0.25e-3);
  EXPECT_DOUBLE_EQ(p.stack_height(), 0.25e-3);
}

TEST(ReadCase, strips_without_cell_or_can_lie_on_each_other) {
  const Problem p = read(two_strips).problem;
  ASSERT_EQ(p.sheets.size(), 2u);
  EXPECT_FALSE(p.on_can);
  EXPECT_EQ(p.base().name, "bar");
  EXPECT_EQ(p.joints(), 1u);
}

TEST(ReadCase, names_the_strip_that_is_wrong) {
  const auto list = complaints_about(with(two_strips, "0.15 mm", "15 mm"));
  ASSERT_EQ(list.size(), 1u);
  EXPECT_EQ(list[0].line, 8);
}

}  // namespace
}  // namespace tabmelt::testing
