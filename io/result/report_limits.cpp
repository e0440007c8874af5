#include "io/result/report_limits.h"

namespace tabmelt {

Section limits_of_the_model(const Problem& problem) {
  Bullets left_out{
      {"Flow of the melt, and its loss other than the sparks in the ledger.",
       "Mechanical deformation: strip, can and tip keep their shape; only the true contact area "
       "follows the force and the softening metal.",
       "Arcs and plasma."}};
  if (problem.arrangement.spots > 1) {
    left_out.items.push_back(
        "The field of two electrodes in three dimensions. One electrode is computed around its "
        "axis. Resistance is right to 1-2 %; the side facing the other electrode is 1-6 % hotter "
        "than shown, more once the contacts have collapsed.");
  }
  const bool constriction = problem.tip_contact.law == ContactLaw::constriction ||
                            problem.faying_contact.law == ContactLaw::constriction;
  const Prose contacts =
      constriction
          ? Prose{{"The contacts are the largest uncertainty.", Tone::strong},
                  {" Published cold contact values at 20 N run from about 0.04 to 0.6 mΩ; the "
                   "default sits in the middle of that band. If you can, measure yours and put it "
                   "in the case."}}
          : Prose(
                "Both contacts have fixed values given by the case: the result is as good as "
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

}  // namespace tabmelt
