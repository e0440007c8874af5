#include "io/report/report_limits.h"

#include <algorithm>

namespace tabmelt::report {

Section limits_of_the_model(const Problem& problem) {
  Bullets left_out{
      {"Flow of the melt, and its loss other than the sparks in the ledger.",
       "Mechanical deformation: sheets and tip keep their shape; only the face over which they "
       "touch follows the force and the softening metal. Peltier heat: some 7 % of the tip "
       "contact's "
       "heat more under one tip and less under the other.",
       "Arcs and plasma."}};
  if (problem.arrangement.spots > 1) {
    left_out.items.push_back(
        "The field of two electrodes in three dimensions. One electrode is computed around its "
        "axis. Resistance is right to 1-2 %; the side facing the other electrode is 1-6 % hotter "
        "than shown, more once the contacts have collapsed.");
  }
  const bool constriction = std::any_of(problem.contacts.begin(), problem.contacts.end(),
                                        [](const Contact& contact) { return contact.yields(); });
  const Prose contacts =
      constriction
          ? Prose{{"The contacts are the largest uncertainty.", Tone::strong},
                  {" A film that is three times thicker or thinner is usual; it sparks or lets "
                   "pass, and moves the nugget little. Tip, force and the strength of the hot "
                   "metal "
                   "decide more. If you can, measure yours (contact.tip.resistance) and put it in "
                   "the case."}}
          : Prose(
                "All contacts have fixed values given by the case: the result is as good as "
                "they are.");
  return {"limits",
          "What this does not model",
          {left_out, contacts,
           Prose("Limits whose basis reads \"engineering judgement\" are just that.")}};
}

Section cautions() {
  return {
      "cautions",
      "Before you weld",
      {Bullets{
          {"Lithium cells can vent or burn, also minutes after they were overheated. Have a safe "
           "place to put a hot cell, and nothing flammable near it.",
           "Wear eye protection: sparks are molten metal.",
           "A charged bank gives thousands of amperes into a ring or a tool. Discharge it before "
           "you touch it.",
           "Follow local rules and qualified practice.",
           "Peel-test welds on scrap strip and an empty or dead can before you weld a pack. A "
           "good weld tears the strip and leaves a button on the can. No computation replaces "
           "that."}}}};
}

}  // namespace tabmelt::report
