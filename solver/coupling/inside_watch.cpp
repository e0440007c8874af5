#include "solver/coupling/inside_watch.h"

#include <algorithm>

#include "solver/material/sei_damage.h"

namespace tabmelt {

namespace {

// A surface that has lost this share of its largest rise will not get hotter again. [1]
constexpr double cooled = 0.02;

void note(Extreme& extreme, const Extreme& now) {
  if (now.value > extreme.value) extreme = now;
}

}  // namespace

InsideWatch::InsideWatch(const Problem& problem, const WeldModel& model)
    : problem_(&problem), model_(&model) {
  add(model.wall_row(), false, 0,
      problem.cell_limits ? problem.cell_limits->inner_wall.value_or(0) : 0);
  for (std::size_t n = 0; n < problem.inner.size(); ++n) {
    const std::size_t below =
        n + 1 < problem.inner.size() ? model.layer_top_rows[n + 1] + 1 : std::size_t{0};
    add(model.layer_top_rows[n], true, model.layer_top_rows[n] + 1 - below,
        problem.inner[n].limit.value_or(0));
  }
}

void InsideWatch::add(std::size_t row, bool upper, std::size_t rows, double limit) {
  Surface w;
  w.row = row;
  w.rows = rows;
  w.upper = upper;
  w.limit = limit;
  w.exposure.assign(model_->grid.nr(), 0);
  w.above.assign(model_->grid.nr(), 0);
  w.peak.value = problem_->boundary.ambient;
  surfaces_.push_back(std::move(w));
}

void InsideWatch::look_at(Surface& w, const Surfaces& surfaces, const Field& T_cells, double time,
                          double dt) const {
  const mesh::AxisymmetricGrid& grid = model_->grid;
  w.now = 0;
  for (std::size_t i = 0; i < grid.nr(); ++i) {
    if (grid.region(grid.index(i, w.row)) == mesh::empty) break;
    const double T = w.upper ? surfaces.above(i, w.row) : surfaces.below(i, w.row);
    const double z = w.upper ? grid.z_edges()[w.row + 1] : grid.z_edges()[w.row];
    w.now = std::max(w.now, T);
    note(w.peak, {T, time, grid.r_centre(i), z});
    w.exposure[i] += sei_damage_rate(T) * dt;
    if (w.limit > 0 && T > w.limit) w.above[i] += dt;
    if (w.rows == 0) continue;
    const Enthalpy& law = *model_->law(grid.index(i, w.row)).enthalpy;
    if (!law.melts() || T <= law.solidus()) continue;
    double molten = 0, thickness = 0;
    for (std::size_t row = w.row + 1 - w.rows; row <= w.row; ++row) {
      thickness += grid.dz(row);
      molten += grid.dz(row) * law.liquid_fraction(T_cells[grid.index(i, row)]);
    }
    note(w.molten_share, {molten / thickness, time, grid.r_centre(i), z});
  }
}

std::vector<double> InsideWatch::look(const Surfaces& surfaces, const Field& T, double time,
                                      double dt) {
  std::vector<double> hottest;
  for (Surface& surface : surfaces_) {
    look_at(surface, surfaces, T, time, dt);
    hottest.push_back(surface.now);
  }
  return hottest;
}

bool InsideWatch::past_its_peak() const {
  const double ambient = problem_->boundary.ambient;
  return std::all_of(surfaces_.begin(), surfaces_.end(), [&](const Surface& w) {
    return w.now <= ambient + (1 - cooled) * (w.peak.value - ambient);
  });
}

LayerRecord InsideWatch::record(std::size_t n) const {
  const Surface& w = surfaces_[n];
  LayerRecord layer;
  layer.peak = w.peak;
  layer.limit = w.limit;
  layer.molten_share = w.molten_share;
  layer.time_above_limit = *std::max_element(w.above.begin(), w.above.end());
  layer.damage = sei_damage(*std::max_element(w.exposure.begin(), w.exposure.end()));
  if (n == 0) {
    layer.name = problem_->on_can ? "inner can wall" : "underside of the " + problem_->base().name;
    layer.limit_reason = problem_->cell_limits ? problem_->cell_limits->reason : "";
    return layer;
  }
  const InnerLayer& inner = problem_->inner[n - 1];
  layer.name = inner.name;
  layer.limit_reason = inner.limit_reason;
  layer.molten_limit = inner.molten_limit.value_or(0);
  layer.damage_limit = inner.damage_limit.value_or(0);
  layer.melting_temperature = inner.material->melting ? inner.material->melting->solidus : 0;
  return layer;
}

std::vector<LayerRecord> InsideWatch::records() const {
  std::vector<LayerRecord> all;
  for (std::size_t n = 0; n < surfaces_.size(); ++n) all.push_back(record(n));
  return all;
}

}  // namespace tabmelt
