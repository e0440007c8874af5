// Numbers as they are read on a picture, and the placing of labels so that they do not overlap.
#pragma once

#include <string>
#include <vector>

namespace tabmelt::drawing {

// Positions at least `gap` apart inside low..high, as near to the wanted ones as possible; in the
// order given. With too little room the gap shrinks.
std::vector<double> spread(const std::vector<double>& wanted, double gap, double low, double high);

// 1, 2 or 5 times a power of ten, at most `limit`.
double round_length(double limit);

// "0.35 ms", "12 ms", "1.5 s": three figures, no trailing zeros.
std::string time_words(double seconds);
// A number with at most three significant figures and without trailing zeros.
std::string short_number(double);

}  // namespace tabmelt::drawing
