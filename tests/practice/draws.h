// Random numbers that are the same on every machine: the engine is fixed by the standard, the
// mapping is ours.
#pragma once

#include <cmath>
#include <random>

namespace tabmelt::practice {

class Draws {
 public:
  explicit Draws(unsigned seed) : engine_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * (static_cast<double>(engine_()) / 4294967296.0);
  }
  double log_between(double low, double high) {
    return std::exp(between(std::log(low), std::log(high)));
  }
  bool chance(double share) { return between(0, 1) < share; }
  int whole(int low, int high) { return low + static_cast<int>(between(0, high - low + 1)); }

 private:
  std::mt19937 engine_;
};

}  // namespace tabmelt::practice
