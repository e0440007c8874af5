// What is wrong with the pulse circuit beyond the range of each single value.
#pragma once

#include "solver/circuit/circuit.h"
#include "solver/problem/complaint_list.h"

namespace tabmelt {

void check_circuit(const circuit::Circuit& circuit, ComplaintList& list);

}  // namespace tabmelt
