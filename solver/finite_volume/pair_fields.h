// Numbers that the columns of a grid have in the order of the panels, and the levels of the cycle.
#pragma once

#include <vector>

#include "solver/finite_volume/panels.h"

namespace tabmelt {

// Conductances: one number per cell and colour, or one per pair of columns.
template <typename R>
struct PairFields {
  AlignedVector<R> axial_even, axial_odd;  // to the row above
  AlignedVector<R> extra_even, extra_odd;  // boundary part plus D
  AlignedVector<R> inside, outside;        // with spare zeros at both ends
  void resize(const Panels&);
  // Where the numbers of a panel begin.
  line_kernels::Pairs<R> from(std::size_t at);
  line_kernels::Pairs<const R> from(std::size_t at) const;
};

// One grid of the cycle.
struct LineLevel {
  struct Colour {
    AlignedVector<float> pivot, factor;
  };
  Panels panels;
  PairFields<float> pairs;
  AlignedVector<float> other;  // even column's weight of the pair before; spare zeros at both ends
  Colour even, odd;
  AlignedVector<float> b, x;  // fields (not on the finest level)

  void resize(std::size_t columns, std::size_t rows);
  const float* inside() const { return pairs.inside.data() + line_kernels::spare; }
  const float* outside() const { return pairs.outside.data() + line_kernels::spare; }
};

}  // namespace tabmelt
