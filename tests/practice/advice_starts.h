// Bad starts from which advice must lead to a good weld or to a proof that there is none in reach.
#pragma once

#include <string>
#include <vector>

#include "io/study/advice_report.h"

namespace tabmelt::practice {

// Cases of a workshop, always the same ones, most of them not good: a bank of twelve parts or a
// battery behind transistors, 4-12 V or 9-15 V, 0.7-12 ms, 10-80 N, tips of 1-2.5 mm, nickel of
// 0.10 to 0.20 mm, slit or not, leads of 6-35 mm2 (common practice, no source).
std::vector<std::string> starts(int count);

struct Led {
  AdviceStudy study;
  bool start_good = false;
  bool to_good = false;   // a change was found, and run
  bool to_proof = false;  // none of the dense draws is good
};

// Looks for advice in a folder of its own that is removed afterwards.
Led led(const std::string& case_text);

}  // namespace tabmelt::practice
