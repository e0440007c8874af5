// The table of quantities that the sections about the bench share.
#pragma once

#include <optional>
#include <string>

#include "io/report/document.h"

namespace tabmelt::report {

// Quantity, value, remark.
Table figures_table();

// "within the rated 16 V", "exceeds the rated 16 V", "no rating given".
Prose rated(double value, const std::optional<double>& limit, std::string (*text_of)(double));

}  // namespace tabmelt::report
