#include "solver/finite_volume/panels.h"

#include <algorithm>

namespace tabmelt {

using line_kernels::lanes;

namespace {

// Registers per panel. Even, so that the pairs of two panels fill one of the coarser grid. Two are
// enough to hide the delay of a column's recurrence, and keep a panel of a fine grid in the cache.
constexpr std::size_t usual_registers = 4;

}  // namespace

Panels::Panels(std::size_t columns, std::size_t rows) : columns_(columns), rows_(rows) {
  const std::size_t registers = ((columns + 1) / 2 + lanes - 1) / lanes;
  block_ = registers * lanes * rows;
  // A single register left over joins the last panel.
  const std::size_t count =
      std::max<std::size_t>(1, (registers + usual_registers - 2) / usual_registers);
  for (std::size_t p = 0; p < count; ++p) {
    const std::size_t first = p * usual_registers;
    const std::size_t end = p + 1 < count ? first + usual_registers : registers;
    panels_.push_back({end - first, first * lanes * rows, first * lanes});
  }
}

std::size_t Panels::holding(std::size_t reg) const {
  return std::min(reg / usual_registers, panels_.size() - 1);
}

template <typename R>
void Panels::split(const Field& natural, AlignedVector<R>& field) const {
  if (field.size() != field_size()) field.assign(field_size(), 0);
  const std::size_t pairs = columns_ / 2;
  for (std::size_t j = 0; j < rows_; ++j) {
    const double* in = natural.data() + j * columns_;
    for (const Panel& panel : panels_) {
      const std::size_t at = panel.at + j * panel.width();
      R* __restrict even = field.data() + even_at() + at;
      R* __restrict odd = field.data() + odd_at() + at;
      const double* from = in + 2 * panel.pair;
      const std::size_t whole = std::min(panel.width(), pairs - panel.pair);
      for (std::size_t k = 0; k < whole; ++k) {
        even[k] = static_cast<R>(from[2 * k]);
        odd[k] = static_cast<R>(from[2 * k + 1]);
      }
      if (panel.pair + whole == pairs && columns_ % 2 == 1 && whole < panel.width())
        even[whole] = static_cast<R>(from[2 * whole]);
    }
  }
}

template void Panels::split(const Field&, AlignedVector<float>&) const;
template void Panels::split(const Field&, AlignedVector<double>&) const;

void Panels::join(const double* x, const double* p, double share, Field& natural) const {
  if (!p)
    gather(natural, [x](std::size_t at) { return x[at]; });
  else if (!x)
    gather(natural, [p, share](std::size_t at) { return share * p[at]; });
  else
    gather(natural, [x, p, share](std::size_t at) { return x[at] + share * p[at]; });
}

template <typename Value>
void Panels::gather(Field& natural, Value value) const {
  const std::size_t pairs = columns_ / 2;
  for (std::size_t j = 0; j < rows_; ++j) {
    for (const Panel& panel : panels_) {
      const std::size_t even = even_at() + panel.at + j * panel.width();
      const std::size_t odd = even - even_at() + odd_at();
      double* __restrict to = natural.data() + j * columns_ + 2 * panel.pair;
      const std::size_t whole = std::min(panel.width(), pairs - panel.pair);
      for (std::size_t k = 0; k < whole; ++k) {
        to[2 * k] = value(even + k);
        to[2 * k + 1] = value(odd + k);
      }
      if (panel.pair + whole == pairs && columns_ % 2 == 1 && whole < panel.width())
        to[2 * whole] = value(even + whole);
    }
  }
}

}  // namespace tabmelt
