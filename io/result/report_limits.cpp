#include "io/result/report_limits.h"

namespace tabmelt {

std::string limits_of_the_model(const Problem& problem) {
  std::string text =
      "\n## What this does not model\n\n"
      "- Flow of the melt, and its loss other than the sparks in the ledger.\n"
      "- Mechanical deformation: strip, can and tip keep their shape; only the true contact area "
      "follows the force and the softening metal.\n"
      "- Arcs and plasma.\n";
  if (problem.arrangement.spots > 1) {
    text +=
        "- The field of two electrodes in three dimensions. One electrode is computed around its "
        "axis. Resistance is right to 1-2 %; the side facing the other electrode is 1-6 % hotter "
        "than shown, more once the contacts have collapsed.\n";
  }
  const bool constriction = problem.tip_contact.law == ContactLaw::constriction ||
                            problem.faying_contact.law == ContactLaw::constriction;
  text += constriction
              ? "\n**The contacts are the largest uncertainty.** Published cold contact values at "
                "20 N run from about 0.04 to 0.6 mΩ; the default sits in the middle of that band. "
                "If you can, measure yours and put it in the case.\n"
              : "\nBoth contacts have fixed values given by the case: the result is as good as "
                "they are.\n";
  text += "\nLimits whose basis reads \"engineering judgement\" are just that.\n";
  return text;
}

std::string cautions() {
  return "\n## Before you weld\n\n"
         "- Lithium cells can vent or burn, also minutes after they were overheated. Have a safe "
         "place to put a hot cell, and nothing flammable near it.\n"
         "- Wear eye protection: sparks are molten metal.\n"
         "- A charged bank gives thousands of amperes into a ring or a tool. Discharge it before "
         "you touch it.\n"
         "- Follow local rules and qualified practice.\n"
         "- Peel-test welds on scrap strip and an empty or dead can before you weld a pack. A good "
         "weld tears the strip and leaves a button on the can. No computation replaces that.\n";
}

}  // namespace tabmelt
