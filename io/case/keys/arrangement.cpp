// Keys of the top of the file, [cell] and [arrangement].
#include "io/case/keys/usual.h"

namespace tabmelt::schema {

std::vector<Key> arrangement_keys() {
  const Condition in_a_cell{[](const Draft& d) { return d.has_cell(); },
                            "cell.end is not \"none\""};
  return {
      {.path = "title",
       .form = {Kind::text},
       .meaning = "What this case is about, in your words.",
       .rule =
           [](const Draft& d) {
             return Standard{d.title, "the name of the file"};
           },
       .rule_in_words = "the name of the file",
       .set = [](Draft& d, const Value& v) { d.title = v.text; }},

      {.path = "learnt",
       .form = {Kind::text},
       .meaning = "File beside the case with values and spreads that `tabmelt fit` or `tabmelt "
                  "learn` found; they replace those of the case, --set replaces both. \"none\": no "
                  "file.",
       .rule_in_words = "left out: nothing was learnt"},

      {.path = "cell.size",
       .form = choice(cell_sizes()),
       .meaning = "Size of the cell: diameter in millimetres, then length in tenths.",
       // Only an end is named: the most common size.
       .rule = where([](const Draft& d) { return d.is_given("cell.end") && d.cell_end != "none"; },
                     {"18650", "the most common size; common practice, no source"}),
       .rule_in_words = "18650 if only cell.end is given; without [cell] there is no cell",
       .applies = {[](const Draft& d) { return !d.is_given("cell.end") || d.cell_end != "none"; },
                   "cell.end is not \"none\""},
       .set = [](Draft& d, const Value& v) { d.cell_size = v.text; }},
      {.path = "cell.end",
       .form = choice(cell_ends()),
       .meaning = "Which end is welded; sets the can, the layers inside and their limits.",
       .rule = [](const Draft& d) -> std::optional<Standard> {
         if (d.is_given("cell.size"))
           return Standard{"negative bottom",
                           "the end held to be more sensitive to heat; common practice, no source"};
         return Standard{"none", "no [cell] in the case: a pure check, no cell to protect"};
       },
       .rule_in_words = "negative bottom if cell.size is given; without [cell]: none",
       .set = [](Draft& d, const Value& v) { d.cell_end = v.text; }},
      {.path = "cell.inside",
       .form = choice(cell_insides()),
       .meaning = "Whether electrolyte (wet) or gas (dry) fills the gap behind the metal; wet "
                  "carries more heat inwards.",
       .rule = [](const Draft& d) -> std::optional<Standard> {
         if (!d.has_cell()) return std::nullopt;
         return Standard{usual_inside(d.cell_end),
                         "a cell kept upright: wet at the bottom, dry at the top; engineering "
                         "judgement"};
       },
       .rule_in_words = "wet at the bottom, dry at the positive end",
       .applies = in_a_cell,
       .set = [](Draft& d, const Value& v) { d.cell_inside = v.text; }},
      {.path = "cell.over_tab",
       .form = {Kind::boolean},
       .meaning = "Whether the spot lies over the tab inside, which is welded to the middle of the "
                  "bottom: a further layer that takes up heat.",
       .standard = {"false", "beside the tab, where the wall gets hotter; engineering judgement"},
       .applies = {[](const Draft& d) { return d.cell_end == "negative bottom"; },
                   "cell.end = \"negative bottom\""},
       .set = [](Draft& d, const Value& v) { d.over_tab = v.flag; }},
      {.path = "cell.spots",
       .form = count(1, 100),
       .meaning = "Number of welds made on this end, one after the other; the report then says how "
                  "warm the end gets and how long to wait.",
       .standard = {"1", "one weld, as computed"},
       .applies = in_a_cell,
       .set = [](Draft& d, const Value& v) { d.problem.sequence.welds = v.count(); }},
      {.path = "cell.pause",
       .form = quantity("s", 0.01, 1e5),
       .meaning = "Time from one weld on this end to the next.",
       .standard = {"2 s", "by hand 1 to 5 s; engineering judgement"},
       .applies = {[](const Draft& d) { return d.problem.sequence.welds > 1; },
                   "cell.spots is more than 1"},
       .set = [](Draft& d, const Value& v) { d.problem.sequence.pause = v.number; }},

      {.path = "arrangement.kind",
       .form = choice({"side by side", "opposed"}),
       .meaning =
           "Both electrodes side by side on the strip (series welding), or one electrode with "
           "the return clamped to the can (direct welding).",
       .standard = {"side by side",
                    "the usual way to weld a closed cell; common practice, no source"},
       .set = [](Draft& d,
                 const Value& v) { d.problem.arrangement.spots = v.text == "opposed" ? 1 : 2; }},
      {.path = "arrangement.spacing",
       .form = quantity("mm", 2e-4, 0.1),
       .meaning = "Distance between the axes of the two electrodes.",
       .standard = {"4 mm", "usual gap 3 to 6 mm; common practice, no source"},
       .spread = {"10 %", "tips guided by hand; engineering judgement"},
       .applies = for_a_pair(),
       .set = [](Draft& d, const Value& v) { d.problem.arrangement.spacing = v.number; }},
  };
}

}  // namespace tabmelt::schema
