// The ledger as a list: one place for its names, words and order.
#pragma once

#include <string>
#include <vector>

#include "solver/result/result.h"

namespace tabmelt {

struct LedgerLine {
  const char* key;    // "leads"
  const char* words;  // "Leads"
  double energy;      // [J] whole loop
};

// Where the energy that the source gave up went; the lines and the residual sum to from_source.
std::vector<LedgerLine> ledger_sinks(const Ledger&);
// What the source had and kept: stored_before, from_source, left_in_source.
std::vector<LedgerLine> ledger_source(const Ledger&);

}  // namespace tabmelt
