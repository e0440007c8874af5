#include "solver/words/glossary.h"

#include <algorithm>
#include <cctype>

namespace tabmelt {
namespace {

std::string plain(const std::string& word) {
  std::string text;
  for (const char c : word)
    text +=
        c == '-' || c == '_' ? ' ' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

}  // namespace

const std::vector<Term>& glossary() {
  static const std::vector<Term> list{
      // Verdicts; their keys are those of summary.json.
      {"fused",
       "Strip and can melted together over a nugget of at least the smallest good diameter. A good "
       "weld is fused and no other finding holds.",
       {"good weld"}},
      {"undersized weld",
       "Both sides of the joint melted, but the nugget is smaller than the smallest good one: it "
       "peels at low force. Needs more heat at the joint, in small steps.",
       {"small_nugget"}},
      {"stick weld",  // ISO
       "One side melted against the other without a common nugget; it holds a little and peels "
       "clean off. Needs more heat at the joint.",
       {"stuck", "sticking"}},
      {"no weld",  // ISO
       "Neither side of the joint melted: nothing holds the strip.",
       {"no_bond", "no bond"}},
      {"surface flash",  // ISO
       "Metal thrown off at a surface because a contact boils before it has settled: energy leaves "
       "as "
       "sparks, or half of a contact bursts at once. Helped by more force before the current, "
       "clean "
       "surfaces and a slower rise.",
       {"surface_sparking", "sparking", "sparks"}},
      {"expulsion (splash)",  // ISO
       "Molten metal driven out from the joint: the melt reached the edge of the area that presses "
       "it "
       "together, or so much metal boiled that vapour drives melt out.",
       {"expulsion", "splash"}},
      {"electrode sticking",  // ISO
       "The strip melted under so much of the electrode's face that the electrode comes off hard.",
       {"electrode_sticking"}},
      {"burn-through",  // ISO
       "The strip melted from its lower to its upper surface under much of the tip, or in a ring "
       "beside it that opens: a hole.",
       {"strip_burn_through", "burn through"}},
      {"can puncture",
       "The wall of the cell melted nearly through, or the tip pushed the hot, weak wall in. The "
       "cell "
       "is lost.",
       {"can_puncture", "puncture"}},
      {"cell overheated",
       "A layer inside the cell passed its limit: half of the insulating disc molten, more than "
       "the "
       "allowed part of the electrode's protective layer (SEI) lost, or a limit of the case.",
       {"cell_overheated"}},
      // What numbers are about.
      {"weld nugget",  // ISO
       "The metal of the joint that melted on both sides and set again. Its diameter is that of a "
       "disc of equal area (equivalent diameter): a ring-shaped nugget has an unmelted middle.",
       {"nugget", "nugget diameter", "equivalent diameter"}},
      {"penetration",  // ISO
       "How deep a sheet melted, measured from its joints.",
       {}},
      {"indentation",  // ISO
       "The hollow that the electrode presses into the strip; the area over which it touches.",
       {}},
      {"electrode force",  // ISO
       "The force with which each electrode presses; key pressing.force.",
       {"force"}},
      {"shunting",  // ISO
       "Current that returns through the strip beside the joint and does not heat it. A slit "
       "between "
       "the electrodes prevents it.",
       {"shunt", "shunt current"}},
      {"series welding",  // ISO
       "Both electrodes side by side on the strip, the current passing through two spots one after "
       "the other; arrangement.kind = \"side by side\".",
       {"series", "series spot welding", "side by side"}},
      {"direct welding",  // ISO
       "One electrode on the strip, the return on the other side of the joint; arrangement.kind = "
       "\"opposed\".",
       {"direct", "opposed"}},
      {"preheat pulse",  // ISO
       "A weak or short pulse before the main one, which settles the contacts; key switch.first.",
       {"preheat", "first pulse", "double pulse"}},
      {"spot", "One electrode with what lies under it. Welding in series has two in one loop.", {}},
      {"faying surface",  // ISO
       "The surfaces of two parts that touch and are to be joined.",
       {"joint", "faying"}},
      {"margin",
       "Distance of the deciding number from its limit, relative to the limit (of a temperature: "
       "to "
       "its rise above ambient). Positive is the good side, negative the bad one.",
       {"weakest margin"}},
      {"energy balance error",
       "Energy given by the source less all that the table of energies accounts for; round-off if "
       "the "
       "computation is right.",
       {"residual"}},
      {"SEI",
       "The protective layer on the negative electrode (solid electrolyte interphase); it "
       "decomposes "
       "from about 80 to 100 °C on.",
       {"film", "damage"}},
      {"weld lobe",  // ISO: weldability lobe
       "The region of two settings, such as voltage and force, in which welds are good; `tabmelt "
       "map` "
       "draws it.",
       {"lobe", "weldability lobe"}},
      {"weld time",  // ISO
       "How long current flows in one pulse; key switch.pulses.",
       {"pulse"}},
  };
  return list;
}

const Term* find_term(const std::string& word) {
  const std::string wanted = plain(word);
  for (const Term& term : glossary()) {
    const auto same = [&](const std::string& name) { return plain(name) == wanted; };
    if (same(term.word) || std::any_of(term.also.begin(), term.also.end(), same)) return &term;
  }
  return nullptr;
}

}  // namespace tabmelt
