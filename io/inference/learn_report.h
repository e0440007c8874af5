// What test welds told, in words, as a table of draws, and as a file that a case takes.
#pragma once

#include <string>
#include <vector>

#include "io/inference/learn_study.h"
#include "io/report/document.h"

namespace tabmelt {

struct LearnAnswer {
  std::string title;
  const LearnStudy* study = nullptr;
  Learning found;
};

// Of one unknown: 1 in 20 below, median, 1 in 20 above [SI]; and how much was learnt.
struct Belief {
  double low = 0, middle = 0, high = 0;
};
Belief before(const LearnAnswer&, std::size_t input);
Belief after(const LearnAnswer&, std::size_t input);
// [1] 0: as before; 1: known exactly. Of the width, or of how far the middle moved.
double learnt_share(const LearnAnswer&, std::size_t input);
// Those with most learnt first.
std::vector<std::size_t> by_learning(const LearnAnswer&);
bool stands_out(const LearnAnswer&, std::size_t input);
// Too few draws share the weight for the answers to be trusted.
bool is_thin(const LearnAnswer&);

std::string learn_sentence(const LearnAnswer&);
// What a reader must know, the worst first: contradictions, thin weights, failed runs.
std::vector<std::string> learn_remarks(const LearnAnswer&);
report::Document learn_report(const LearnAnswer&);
// A line for each draw: its unknowns in their units, log-likelihood and weight.
std::string learn_csv(const LearnAnswer&);

// Values and spreads of the unknowns about which something was learnt.
Learnt learning_as_learnt(const LearnAnswer&);

}  // namespace tabmelt
