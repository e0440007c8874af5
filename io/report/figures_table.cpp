#include "io/report/figures_table.h"

namespace tabmelt::report {

Table figures_table() {
  return Table({Column{"Quantity"}, Column{"Value", Align::right}, Column{"Remark"}});
}

Prose rated(double value, const std::optional<double>& limit, std::string (*text_of)(double)) {
  if (!limit) return "no rating given";
  if (value <= *limit) return "within the rated " + text_of(*limit);
  return Prose{{"exceeds", Tone::bad}, {" the rated " + text_of(*limit)}};
}

}  // namespace tabmelt::report
