// The hottest places inside the cell: the inner wall of the can and the top of each layer below.
//
//   damage   1 - exp(-int k(T) dt) of the SEI reaction, per column     material/sei_damage.h
//   molten share   of a layer's thickness in one column, by the liquid fraction of its cells
#pragma once

#include <vector>

#include "solver/coupling/surfaces.h"
#include "solver/result/result.h"

namespace tabmelt {

class InsideWatch {
 public:
  InsideWatch(const Problem&, const WeldModel&);

  // At the end of a step of dt [s]. Returns the hottest [K] of the inner wall, then of each layer.
  std::vector<double> look(const Surfaces&, const Field& T, double time, double dt);
  // All of them have cooled a little from their peaks.
  bool past_its_peak() const;
  // [0] is the inner wall.
  std::vector<LayerRecord> records() const;

 private:
  struct Surface {
    std::size_t row = 0;
    bool upper = false;
    Extreme peak;
    double now = 0;
    std::vector<double> exposure;  // int k dt of the SEI reaction per column
    std::vector<double> above;     // [s] above the limit per column
    double limit = 0;
    Extreme molten_share;  // of a layer's thickness in one column
    std::size_t rows = 0;  // of the layer below `row`; 0: the inner wall
  };
  void add(std::size_t row, bool upper, std::size_t rows, double limit);
  void look_at(Surface&, const Surfaces&, const Field& T, double time, double dt) const;
  LayerRecord record(std::size_t surface) const;

  const Problem* problem_;
  const WeldModel* model_;
  std::vector<Surface> surfaces_;
};

}  // namespace tabmelt
