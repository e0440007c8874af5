// Prints what becomes of bad starts: practice_advice [count, else 100]
#include <fmt/format.h>

#include <cstdlib>

#include "tests/practice/advice_starts.h"

int main(int count, char** words) {
  using namespace tabmelt::practice;
  const int wanted = count > 1 ? std::atoi(words[1]) : 100;
  int good = 0, proof = 0, bad_starts = 0;
  std::size_t runs = 0;
  int singles = 0, pairs = 0, several = 0;
  // More cases than are wanted: those that are good as they stand are passed over.
  for (const std::string& text : starts(4 * wanted)) {
    if (bad_starts == wanted) break;
    const Led one = led(text);
    if (one.start_good) continue;
    ++bad_starts;
    good += one.to_good ? 1 : 0;
    proof += one.to_proof ? 1 : 0;
    runs += one.study.advice.tried;
    const auto& a = one.study.advice;
    if (!a.singles.empty())
      ++singles;
    else if (!a.pairs.empty())
      ++pairs;
    else if (!a.several.empty())
      ++several;
    fmt::print("{:3d} {:<9} {:4d} runs  {}\n", bad_starts,
               one.to_good    ? "good"
               : one.to_proof ? "proof"
                              : "NOTHING",
               a.tried, tabmelt::advice_sentence(one.study));
    std::fflush(stdout);
  }
  fmt::print(
      "{} bad starts: {} led to a good weld (one change {}, two {}, several {}), {} to a "
      "proof, {} runs\n",
      bad_starts, good, singles, pairs, several, proof, runs);
}
