// What to change, in one sentence that names the cause and its number.
//
// A joint that stayed too cold has one of several causes; each is rated by how much more heat the
// joint would get without it, and the largest is named:
//
//   current past the joint, through the strip     1 / s               s  share through the can
//   losses before the spots (largest single one)  1 / (1 - x)         x  its share of the energy
//   bank cut off early                            1 / (1 - y)         y  share left in the bank
//   the source's protection opened                asked / reached  duration of the pulse
//   tip face wider than 1 mm                      d / 1 mm
//   force over 50 N                               1 + c (F/20 N - 1)  c  contacts' share of the
//   heat strip over 0.15 mm                                 t / 0.15 mm
//
// If none would give 1.4 times as much, the source is simply too small (or too short). The rating
// and its round figures are engineering judgement; they rank causes and predict nothing.
#pragma once

#include <string>

#include "solver/verdict/verdict.h"

namespace tabmelt::advice {

std::string for_finding(const Finding&, const Problem&, const Result&);

// The two halves most advice is made of; both start lower-case and end without a full stop.
std::string more_heat_at_joint(const Problem&, const Result&);
// `share` [1]: how much of the heat is meant to remain, 0 if unknown.
std::string less_heat(const Problem&, const Result&, double share);

// For a good weld with a hazard near its limit: that more heat alone is no way out, if the nugget
// has little to spare either.
std::string between_two_limits(const Finding& fused, const Finding& hazard,
                               const std::string& hazard_words);

// No strip between tip and lowest sheet carries current back.
bool all_slit(const Problem&);

}  // namespace tabmelt::advice
