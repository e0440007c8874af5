#include "solver/material/property_table.h"

namespace tabmelt {

PropertyTable::PropertyTable(const Material& m) : radial_ratio_(m.radial_conductivity_ratio) {
  conductivity_.resize(points);
  if (m.conducts_current()) resistivity_.resize(points);
  if (m.hardness) hardness_.resize(points);
  for (std::size_t n = 0; n < points; ++n) {
    const double T = first + static_cast<double>(n);
    conductivity_[n] = m.conductivity_z(T);
    if (!resistivity_.empty()) resistivity_[n] = m.resistivity_at(T);
    if (!hardness_.empty()) hardness_[n] = m.hardness_at(T);
  }
}

}  // namespace tabmelt
