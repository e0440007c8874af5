// How the columns of a grid lie in memory for LineMultigrid.
//
// Columns are worked on in pairs (even, odd), even and odd ones kept apart, so that one colour of
// the zebra is contiguous and several of its columns are solved per instruction. They are grouped
// into panels of a few vector registers, and a panel lies row after row in one piece:
//
//   panel 0, row 0 | panel 0, row 1 | ... | panel 1, row 0 | ...      (one block per colour)
//
// so that whatever is done to a panel reads memory straight ahead, and what is done next to the
// same columns finds them in the cache. Columns that fill up the last register are zero in every
// conductance and every field.
#pragma once

#include <cstddef>
#include <vector>

#include "solver/finite_volume/aligned.h"
#include "solver/finite_volume/diffusion.h"
#include "solver/finite_volume/line_kernels/kernels.h"

namespace tabmelt {

struct Panel {
  std::size_t registers = 0;  // columns of one colour / lanes
  std::size_t at = 0;         // of its first number in the block
  std::size_t pair = 0;       // its first pair of columns
  std::size_t width() const { return registers * line_kernels::lanes; }
};

class Panels {
 public:
  Panels() = default;
  Panels(std::size_t columns, std::size_t rows);

  std::size_t columns() const { return columns_; }
  std::size_t rows() const { return rows_; }
  std::size_t size() const { return panels_.size(); }
  const Panel& operator[](std::size_t p) const { return panels_[p]; }
  // Panel that holds this register of a colour.
  std::size_t holding(std::size_t reg) const;
  // Numbers of one colour, padding included.
  std::size_t block() const { return block_; }

  // A field is the even block, then the odd one, with spare zeros before, between and behind.
  std::size_t field_size() const { return 2 * block_ + 3 * line_kernels::spare; }
  std::size_t even_at() const { return line_kernels::spare; }
  std::size_t odd_at() const { return block_ + 2 * line_kernels::spare; }

  // The column of a block next to a panel: last of the panel before, first of the one behind.
  template <typename R>
  line_kernels::Column<R> left_of(std::size_t p, const R* block) const {
    if (p == 0) return {};
    const Panel& left = panels_[p - 1];
    return {block + left.at + left.width() - 1, left.width()};
  }
  template <typename R>
  line_kernels::Column<R> right_of(std::size_t p, const R* block) const {
    if (p + 1 == panels_.size()) return {};
    return {block + panels_[p + 1].at, panels_[p + 1].width()};
  }

  // From the order of a Field (r fastest) to that of the panels.
  template <typename R>
  void split(const Field& natural, AlignedVector<R>& field) const;
  // And back: x + share p; null stands for zero, but not for both.
  void join(const double* x, const double* p, double share, Field& natural) const;

 private:
  template <typename Value>
  void gather(Field& natural, Value value) const;

  std::size_t columns_ = 0, rows_ = 0, block_ = 0;
  std::vector<Panel> panels_;
};

}  // namespace tabmelt
