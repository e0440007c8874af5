// Keys of the top of the file, [cell] and [arrangement].
#include "io/case/schema.h"

namespace tabmelt::schema {

std::vector<Key> arrangement_keys() {
  return {
      {.path = "title",
       .kind = Kind::text,
       .meaning = "What this case is about, in your words.",
       .rule =
           [](const Draft& d) {
             return Standard{d.title, "the name of the file"};
           },
       .rule_in_words = "the name of the file",
       .set = [](Draft& d, const Value& v) { d.title = v.text; }},

      {.path = "cell.size",
       .kind = Kind::choice,
       .words = cell_sizes(),
       .meaning = "Size of the cell: diameter in millimetres, then length in tenths.",
       .rule = [](const Draft& d) -> std::optional<Standard> {
         // Only an end is named: the most common size.
         if (d.is_given("cell.end") && d.cell_end != "none")
           return Standard{"18650", "the most common size; common practice, no source"};
         return std::nullopt;
       },
       .rule_in_words = "18650 if only cell.end is given; without [cell] there is no cell",
       .applies = [](const Draft& d) { return !d.is_given("cell.end") || d.cell_end != "none"; },
       .applies_when = "cell.end is not \"none\"",
       .set = [](Draft& d, const Value& v) { d.cell_size = v.text; }},
      {.path = "cell.end",
       .kind = Kind::choice,
       .words = cell_ends(),
       .meaning = "Which end is welded; sets the can, the layers inside and their limits.",
       .rule = [](const Draft& d) -> std::optional<Standard> {
         if (d.is_given("cell.size"))
           return Standard{"negative bottom",
                           "the end held to be more sensitive to heat; common practice, no source"};
         return Standard{"none", "no [cell] in the case: a pure check, no cell to protect"};
       },
       .rule_in_words = "negative bottom if cell.size is given; without [cell]: none",
       .set = [](Draft& d, const Value& v) { d.cell_end = v.text; }},

      {.path = "arrangement.kind",
       .kind = Kind::choice,
       .words = {"side by side", "opposed"},
       .meaning = "Both electrodes side by side on the strip, or one electrode with the return "
                  "clamped to the can.",
       .standard = {"side by side",
                    "the usual way to weld a closed cell; common practice, no source"},
       .set = [](Draft& d,
                 const Value& v) { d.problem.arrangement.spots = v.text == "opposed" ? 1 : 2; }},
      {.path = "arrangement.spacing",
       .kind = Kind::quantity,
       .unit = "mm",
       .lowest = 2e-4,
       .highest = 0.1,
       .meaning = "Distance between the axes of the two electrodes.",
       .standard = {"4 mm", "usual gap 3 to 6 mm; common practice, no source"},
       .applies = [](const Draft& d) { return d.side_by_side(); },
       .applies_when = "arrangement.kind = \"side by side\"",
       .set = [](Draft& d, const Value& v) { d.problem.arrangement.spacing = v.number; }},
  };
}

}  // namespace tabmelt::schema
