// What a person notes about a test weld, and how likely that is if a computed run were the truth.
//
//   P(noted yes) = e + (1 - 2 e) Phi(m / w)
//
//   e  chance of a wrong note      m  margin of the run on the side of yes [1]
//   w  how much welds of one setting scatter, in terms of that margin [1]
//
//   noted            yes if                                    w
//   held             joint hot enough for any bond             0.10   of the rise of temperature
//   button           nugget of at least the smallest good      0.20   of its diameter
//   spark            sparks or expulsion                       0.50   of joules, of diameter
//   stuck tip        share of the tip's face that melted       0.30
//   hole             strip burnt through, or can punctured     0.20   of area, of depth
//   peel force F     log-normal about the computed one, factor 1.4; with the chance e anything
//                    within a factor of 100
//
// The scatters are engineering judgement. What was not judged, or a run that could not be computed,
// says nothing: one half.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "solver/search/judged.h"

namespace tabmelt::inference {

enum class Note { held, button, spark, stuck_tip, hole };
inline constexpr std::size_t notes = 5;
std::string words(Note);

struct Noted {
  std::array<std::optional<bool>, notes> yes = {};
  std::optional<double> peel_force = {};  // [N]
  bool empty() const;
};

struct NoteModel {
  double wrong = 0.03;  // [1] chance of a wrong note
  std::array<double, notes> scatter{0.10, 0.20, 0.50, 0.30, 0.20};
  double force_factor = 1.4;
};

// What a run says of each note: chance of yes. `peel_force` [N] of the run.
struct Foretold {
  std::array<double, notes> yes{0.5, 0.5, 0.5, 0.5, 0.5};
  std::optional<double> peel_force = {};
};
Foretold foretold(const study::Judged&, std::optional<double> peel_force, const NoteModel&);

// ln of the chance of these notes; 0 if there are none.
double log_likelihood(const Noted&, const Foretold&, const NoteModel&);

// Bits that a test weld is expected to tell about which draw is the truth: the mutual information
// of its five notes, independent within a draw, and the draws of these weights (sum 1),
//
//   I = H(sum_i w_i p_i) - sum_i w_i H(p_i)
//
// D. V. Lindley, Ann. Math. Statist. 27 (1956) 986.
double expected_information(const std::vector<Foretold>&, const std::vector<double>& weight);

}  // namespace tabmelt::inference
