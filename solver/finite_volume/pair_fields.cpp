#include "solver/finite_volume/pair_fields.h"

namespace tabmelt {

using line_kernels::spare;

template <typename R>
void PairFields<R>::resize(const Panels& panels) {
  for (AlignedVector<R>* v : {&inside, &outside}) v->assign(panels.block() + 2 * spare, 0);
  for (AlignedVector<R>* v : {&axial_even, &axial_odd, &extra_even, &extra_odd})
    v->assign(panels.block(), 0);
}

template <typename R>
line_kernels::Pairs<R> PairFields<R>::from(std::size_t at) {
  return {axial_even.data() + at, axial_odd.data() + at,      extra_even.data() + at,
          extra_odd.data() + at,  inside.data() + spare + at, outside.data() + spare + at};
}

template <typename R>
line_kernels::Pairs<const R> PairFields<R>::from(std::size_t at) const {
  return {axial_even.data() + at, axial_odd.data() + at,      extra_even.data() + at,
          extra_odd.data() + at,  inside.data() + spare + at, outside.data() + spare + at};
}

template struct PairFields<float>;
template struct PairFields<double>;

void LineLevel::resize(std::size_t columns, std::size_t rows) {
  if (panels.columns() == columns && panels.rows() == rows) return;
  panels = Panels(columns, rows);
  pairs.resize(panels);
  other.assign(panels.block() + 2 * spare, 0);
  for (Colour* c : {&even, &odd})
    for (AlignedVector<float>* v : {&c->pivot, &c->factor}) v->assign(panels.block(), 0);
  for (AlignedVector<float>* v : {&b, &x}) v->assign(panels.field_size(), 0);
}

}  // namespace tabmelt
