// Temperatures on surfaces, from cell centres.
//
// At a touching plane each side has its own surface temperature. With the thermal resistances of
// contact_face (lower, contact, upper) and the contact's heat q released half on each surface, the
// heat that flows into the lower cell is, by elimination of the two surfaces,
//
//   flow = ( T_upper - T_lower + (q/2) (contact + 2 upper) ) / (lower + contact + upper)
//
// and the surface lies flow * lower above the cell's temperature; the upper side is the mirror
// image. Elsewhere: series resistances between bonded layers, and a parabola of zero slope at an
// insulated surface.
#pragma once

#include <vector>

#include "solver/coupling/weld_model.h"

namespace tabmelt {

// Thermal state of one touching plane.
struct PlaneHeat {
  std::vector<ContactFace> faces;  // thermal resistances
  std::vector<double> heat;        // [W] reaching the metal, both surfaces together
};

// Heat [W] that the source q puts into the lower and the upper cell of a face.
struct HeatShare {
  double lower = 0, upper = 0;
};
HeatShare contact_heat_share(const ContactFace&, double q);

// Conductivity along z of each cell, needed for bonded layers.
class Surfaces {
 public:
  Surfaces(const WeldModel&, const Field& T, const Field& k_axial,
           const std::vector<PlaneHeat>& planes);
  const Field& k_axial() const { return *k_; }
  // Upper surface of row j and lower surface of row j, in column i [K].
  double above(std::size_t i, std::size_t j) const { return surface(i, j, true); }
  double below(std::size_t i, std::size_t j) const { return surface(i, j, false); }
  // At a point of a region, clamped to it [K].
  double at(double r, double z, std::uint8_t region) const;

 private:
  double surface(std::size_t i, std::size_t j, bool upper) const;
  double capped(std::size_t cell, double T) const;
  double column_value(std::size_t i, double z, std::uint8_t region) const;
  const WeldModel* model_;
  const Field* T_;
  const Field* k_;
  const std::vector<PlaneHeat>* planes_;
};

}  // namespace tabmelt
