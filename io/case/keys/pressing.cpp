// Keys of [pressing]: holding force, and how the tips land where no switch starts the current.
#include "io/case/keys/usual.h"
#include "io/case/units.h"
#include "solver/pressing/landing.h"

namespace tabmelt::schema {
namespace {

bool both_fixed(const Draft& d) { return d.tip.fixed && d.faying.fixed; }

bool is_unswitched(const Draft& d) { return d.problem.pressing.closing == Closing::unswitched; }

const Condition unswitched{is_unswitched, "pressing.closing = \"unswitched\""};

// 1/E* = (1 - nu^2)/E of both: copper 120 GPa and 0.34 on nickel 200 GPa and 0.31. [Pa]
constexpr double copper_on_nickel = 84e9;

std::vector<Key> impact_keys() {
  const Condition heavy{
      [](const Draft& d) { return is_unswitched(d) && d.problem.pressing.moving_mass > 0; },
      "pressing.moving_mass is above zero, which takes " + unswitched.words};
  return {
      {.path = "pressing.moving_mass",
       .form = quantity("g", 0, 1),
       .meaning = "Mass of one tip with what moves with it below its spring; above zero it strikes "
                  "the strip, and may bounce.",
       .standard = {"0 g",
                    "lands without impact; a sprung rod has 5 to 30 g, common practice, no "
                    "source"},
       .applies = unswitched,
       .set = [](Draft& d, const Value& v) { d.problem.pressing.moving_mass = v.number; }},
      {.path = "pressing.restitution",
       .form = number(0, 0.95),
       .meaning = "Speed after an impact of the tip over the speed before; 0 does not bounce.",
       .standard = {"0.5", "metal on metal at some centimetres a second; engineering judgement"},
       .applies = heavy,
       .set = [](Draft& d, const Value& v) { d.problem.pressing.restitution = v.number; }},
      {.path = "pressing.impact_time",
       .form = quantity("ms", 1e-6, 0.1),
       .meaning = "How long an impact at the approach speed lasts.",
       .rule = [](const Draft& d) -> std::optional<Standard> {
         const Pressing& p = d.problem.pressing;
         const double time = hertz_impact_time(p.moving_mass, d.problem.electrode.tip_radius,
                                               copper_on_nickel, p.approach_speed);
         return Standard{units::in_unit(time, "ms", 4),
                         "elastic impact of copper on nickel, Johnson, Contact Mechanics (1985), "
                         "eq. 11.24, the tip as round as it is wide; elastic constants from "
                         "memory"};
       },
       .rule_in_words = "Hertz's time of an elastic impact from moving_mass, approach_speed and "
                        "half of electrode.tip_diameter, copper on nickel",
       .applies = heavy,
       .set = [](Draft& d, const Value& v) { d.problem.pressing.impact_time = v.number; }},
  };
}

std::vector<Key> landing_keys() {
  return {
      {.path = "pressing.height_difference",
       .form = quantity("mm", 0, 0.02),
       .meaning = "How far the second tip still is from the strip when the first one touches. The "
                  "current starts as the second lands; the first presses by then.",
       .rule = [](const Draft& d) -> std::optional<Standard> {
         if (!d.side_by_side()) return std::nullopt;
         return Standard{"0 mm",
                         "both land together; by hand 0.05 to 0.2 mm, engineering judgement"};
       },
       .rule_in_words = "0 mm, both land together",
       .applies = unswitched,
       .set = [](Draft& d, const Value& v) { d.problem.pressing.height_difference = v.number; }},
      {.path = "pressing.judged_tip",
       .form = choice({"second", "first"}),
       .meaning = "Which tip's spot is stored and judged, where one lands after the other.",
       .standard = {"second", "it presses least while the current flows"},
       .applies = {[](const Draft& d) { return d.problem.pressing.unlike_tips(); },
                   "pressing.height_difference is above zero, which takes " + unswitched.words},
       .set =
           [](Draft& d, const Value& v) {
             d.problem.pressing.judged =
                 v.text == "first" ? JudgedTip::lands_first : JudgedTip::lands_second;
           }},
  };
}

}  // namespace

std::vector<Key> pressing_keys() {
  const std::vector<Key> keys{
      {.path = "pressing.force",
       .form = quantity("N", 0.01, 5000),
       .meaning = "Electrode force: of each one while it is held down; usual are 10 to 50 N.",
       .required = true,
       .spread = {"20 %",
                  "a spring set by hand, and a hand that presses it; engineering judgement"},
       .rule = where(both_fixed,
                     {"20 N", "both contacts follow the fixed law: the force does not count"}),
       .rule_in_words = "20 N if both contacts follow the fixed law, as it does not count then; "
                        "otherwise required",
       .set = [](Draft& d, const Value& v) { d.problem.pressing.force = v.number; }},
      {.path = "pressing.closing",
       .form = choice({"switched", "unswitched"}),
       .meaning =
           "Switched: the electrodes are down before the current starts. Unswitched: the bank "
           "is connected and fires at first touch, while the force is still rising.",
       .standard = {"switched", "common practice, no source"},
       .set =
           [](Draft& d, const Value& v) {
             d.problem.pressing.closing =
                 v.text == "unswitched" ? Closing::unswitched : Closing::switched;
           }},
      {.path = "pressing.approach_speed",
       .form = quantity("mm/s", 1e-5, 10),
       .meaning = "Speed at which the electrode comes down.",
       .standard = {"50 mm/s", "by hand 10 to 100 mm/s; engineering judgement"},
       .applies = unswitched,
       .set = [](Draft& d, const Value& v) { d.problem.pressing.approach_speed = v.number; }},
      {.path = "pressing.tip_stiffness",
       .form = quantity("N/mm", 1, 1e8),
       .meaning = "Stiffness of the sprung electrode: force rises as stiffness times travel.",
       .standard = {"2 N/mm", "sprung tips 1 to 10 N/mm; engineering judgement"},
       .applies = unswitched,
       .set = [](Draft& d, const Value& v) { d.problem.pressing.tip_stiffness = v.number; }},
  };
  return joined({keys, landing_keys(), impact_keys()});
}

}  // namespace tabmelt::schema
