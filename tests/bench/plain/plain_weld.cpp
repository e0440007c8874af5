#include "tests/bench/plain/plain_weld.h"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tabmelt::bench {

using Index = Eigen::Index;
using Eigen::VectorXd;
using Matrix = Eigen::SparseMatrix<double>;

namespace {

VectorXd direct_solution(const Matrix& A, const VectorXd& b) {
  const Eigen::SimplicialLDLT<Matrix> solver(A);
  if (solver.info() != Eigen::Success) throw std::runtime_error("plain weld: no factors");
  VectorXd x = solver.solve(b);
  x += solver.solve(b - A * x);
  return x;
}

}  // namespace

PlainWeld::PlainWeld(const Problem& problem)
    : problem_(problem), model_(build_model(problem)), loop_(problem.circuit) {
  const Boundary& b = problem.boundary;
  if (!problem.under_tip().fixed || !problem.joint(0).fixed || !loop_.current_is_prescribed() ||
      b.electrode_end != ThermalEnd::fixed_temperature || b.rim != ThermalEnd::insulated ||
      b.bottom != ThermalEnd::insulated)
    throw std::invalid_argument("plain weld: not a case of fixed contacts and prescribed current");
  const auto n = static_cast<Index>(grid().cells());
  loop_state_ = loop_.close_switch(loop_.initial_state());
  H_ = rate_ = heat_ = heat_per_square_ = VectorXd::Zero(n);
  for (Index c = 0; c < n; ++c)
    if (!empty(c)) H_[c] = model_.law(static_cast<std::size_t>(c)).enthalpy->at(b.ambient);
}

bool PlainWeld::empty(Index cell) const {
  return grid().region(static_cast<std::size_t>(cell)) == mesh::empty;
}

VectorXd PlainWeld::temperatures(const VectorXd& H) const {
  VectorXd T = VectorXd::Constant(H.size(), problem_.boundary.ambient);
  for (Index c = 0; c < H.size(); ++c)
    if (!empty(c)) T[c] = model_.law(static_cast<std::size_t>(c)).enthalpy->temperature(H[c]);
  return T;
}

std::vector<PlainWeld::Face> PlainWeld::faces(const VectorXd& k_radial, const VectorXd& k_axial,
                                              std::size_t first_row,
                                              const std::vector<double>& g) const {
  const mesh::AxisymmetricGrid& m = grid();
  std::vector<Face> list;
  for (std::size_t j = first_row; j < m.nz(); ++j) {
    for (std::size_t i = 0; i < m.nr(); ++i) {
      const std::size_t cell = m.index(i, j);
      const auto c = static_cast<Index>(cell), up = c + static_cast<Index>(m.nr());
      if (i + 1 < m.nr() && m.radial_area(cell) > 0 && k_radial[c] > 0 && k_radial[c + 1] > 0)
        list.push_back({c, c + 1, m.radial_inner(cell) / k_radial[c],
                        m.radial_outer(cell) / k_radial[c + 1], 0, -1});
      if (j + 1 == m.nz() || m.axial_area(cell) <= 0 || k_axial[c] <= 0 || k_axial[up] <= 0)
        continue;
      Face face{c, up, m.axial_inner(cell) / k_axial[c], m.axial_outer(cell) / k_axial[up], 0, -1};
      for (std::size_t p = 0; p < model_.planes.size(); ++p) {
        const ContactPlane& plane = model_.planes[p];
        if (plane.below != j) continue;
        face.plane = static_cast<int>(p);
        const EdgeShare edge = this->edge(p, k_axial, g[p]);
        const double share = i < plane.columns ? edge.share_in(i) : 0;
        if (share <= 0 || plane.area[i] <= 0) continue;
        face.to_a /= share;
        face.to_b /= share;
        face.contact = 1 / (g[p] * plane.area[i] * share);
      }
      if (face.plane < 0 || face.contact > 0) list.push_back(face);
    }
  }
  return list;
}

EdgeShare PlainWeld::edge(std::size_t p, const VectorXd& k, double g) const {
  const ContactPlane& plane = model_.planes[p];
  const double b = problem_.contacts[p].radius;
  std::size_t inside = 0;
  while (grid().r_edges()[inside + 2] <= b && inside + 1 < plane.columns) ++inside;
  const auto lower = static_cast<Index>(grid().index(inside, plane.below));
  return edge_share(grid().r_edges(), plane.columns,
                    {k[lower], grid().dz(plane.below), k[lower + static_cast<Index>(grid().nr())],
                     grid().dz(plane.below + 1), g},
                    b);
}

// Joule heat of one ampere, cell by cell; half of a contact's heat starts on each of its surfaces
// and leaves through the thermal resistances on both sides.
void PlainWeld::solve_current(const VectorXd& T, const std::vector<Face>& thermal) {
  const mesh::AxisymmetricGrid& m = grid();
  const auto n = static_cast<Index>(m.cells());
  const std::size_t first = model_.current_rows.first;
  VectorXd sigma = VectorXd::Zero(n);
  for (std::size_t cell = m.index(0, first); cell < m.cells(); ++cell)
    if (m.region(cell) != mesh::empty)
      sigma[static_cast<Index>(cell)] =
          1 / model_.law(cell).table->resistivity(T[static_cast<Index>(cell)]);
  for (const GroundedRim& rim : model_.rims)
    for (std::size_t j = rim.first_row; j < rim.first_row + rim.rows; ++j)
      for (std::size_t i = rim.column_edge; i < m.nr(); ++i)
        sigma[static_cast<Index>(m.index(i, j))] = 0;

  const std::vector<Face> list = faces(sigma, sigma, first,
                                       {1 / problem_.under_tip().fixed->area_resistance,
                                        1 / problem_.joint(0).fixed->area_resistance});
  VectorXd diagonal = VectorXd::Zero(n), b = VectorXd::Zero(n), ground = VectorXd::Zero(n);
  std::vector<Eigen::Triplet<double>> entries;
  for (const Face& f : list) {
    diagonal[f.a] += f.conductance();
    diagonal[f.b] += f.conductance();
    entries.emplace_back(f.a, f.b, -f.conductance());
    entries.emplace_back(f.b, f.a, -f.conductance());
  }
  for (const GroundedRim& rim : model_.rims)
    for (std::size_t j = rim.first_row; j < rim.first_row + rim.rows; ++j) {
      const std::size_t cell = m.index(rim.column_edge - 1, j);
      ground[static_cast<Index>(cell)] = sigma[static_cast<Index>(cell)] / m.radial_inner(cell);
    }
  const std::size_t top = m.nz() - 1;
  double area = 0;
  for (std::size_t i = 0; i < m.nr(); ++i)
    if (m.region(m.index(i, top)) != mesh::empty) area += m.axial_area(m.index(i, top));
  for (std::size_t i = 0; i < m.nr(); ++i)
    if (m.region(m.index(i, top)) != mesh::empty)
      b[static_cast<Index>(m.index(i, top))] = m.axial_area(m.index(i, top)) / area;
  diagonal += ground;
  for (Index c = 0; c < n; ++c) entries.emplace_back(c, c, diagonal[c] > 0 ? diagonal[c] : 1.0);
  Matrix A(n, n);
  A.setFromTriplets(entries.begin(), entries.end());
  const VectorXd phi = direct_solution(A, b);

  heat_per_square_.setZero();
  resistance_ = 0;
  std::vector<double> square, metal, contact;
  for (const Face& f : list) {
    const double current = f.conductance() * (phi[f.b] - phi[f.a]);
    square.push_back(current * current);
    metal.push_back(square.back() * (f.to_a + f.to_b));
    contact.push_back(square.back() * f.contact);
  }
  const double g[] = {1 / problem_.under_tip().fixed->area_resistance,
                      1 / problem_.joint(0).fixed->area_resistance};
  for (std::size_t p = 0; p < model_.planes.size(); ++p) {
    const EdgeShare at = edge(p, sigma, g[p]);
    const auto face_of = [&](std::size_t column) {
      const auto cell = static_cast<Index>(m.index(column, model_.planes[p].below));
      std::size_t n_face = 0;
      while (n_face < list.size() && (list[n_face].plane < 0 || list[n_face].a != cell)) ++n_face;
      return n_face;
    };
    const std::size_t last = face_of(at.column);
    if (last == list.size()) continue;
    const double excess = square[last] * at.slope * at.share / list[last].conductance();
    const auto move = [&](std::size_t face, double heat) {
      heat = std::clamp(heat, -contact[face], metal[face]);
      contact[face] += heat;
      metal[face] -= heat;
    };
    move(last, (at.column > 0 ? at.touching : 1) * excess);
    if (at.column > 0) move(face_of(at.column - 1), (1 - at.touching) * excess);
  }
  for (std::size_t k = 0; k < list.size(); ++k) {
    const Face& f = list[k];
    heat_per_square_[f.a] += metal[k] * f.to_a / (f.to_a + f.to_b);
    heat_per_square_[f.b] += metal[k] * f.to_b / (f.to_a + f.to_b);
    resistance_ += metal[k] + contact[k];
    if (f.plane < 0) continue;
    // The part of the contact's heat that leaves below; half where no heat passes through.
    double below = 0.5;
    for (const Face& t : thermal)
      if (t.a == f.a && t.plane >= 0)
        below = 0.5 * (t.contact + 2 * t.to_b) / (t.to_a + t.contact + t.to_b);
    heat_per_square_[f.a] += below * contact[k];
    heat_per_square_[f.b] += (1 - below) * contact[k];
  }
  for (Index c = 0; c < n; ++c) {
    const double rim = ground[c] * phi[c] * phi[c];
    const double end =
        b[c] > 0 ? b[c] * b[c] * m.axial_inner(static_cast<std::size_t>(c)) / sigma[c] : 0.0;
    heat_per_square_[c] += rim + end;
    resistance_ += rim + end;
  }
}

bool PlainWeld::stage(const std::vector<Face>& list, const VectorXd& boundary, const VectorXd& heat,
                      double gamma_dt, const VectorXd& base, VectorXd& H, VectorXd& rate,
                      double& out) const {
  const mesh::AxisymmetricGrid& m = grid();
  const Index n = H.size();
  const double ambient = problem_.boundary.ambient;
  VectorXd T = temperatures(H);
  for (int iteration = 0; iteration < 60; ++iteration) {
    std::vector<Eigen::Triplet<double>> entries;
    VectorXd diagonal = boundary, flow = boundary.cwiseProduct((T.array() - ambient).matrix());
    for (const Face& f : list) {
      const double G = f.conductance();
      diagonal[f.a] += G;
      diagonal[f.b] += G;
      entries.emplace_back(f.a, f.b, -G);
      entries.emplace_back(f.b, f.a, -G);
      flow[f.a] += G * (T[f.a] - T[f.b]);
      flow[f.b] += G * (T[f.b] - T[f.a]);
    }
    VectorXd residual = VectorXd::Zero(n), capacity = VectorXd::Zero(n);
    for (Index c = 0; c < n; ++c) {
      if (!empty(c)) {
        const double volume = m.volume(static_cast<std::size_t>(c));
        capacity[c] = model_.law(static_cast<std::size_t>(c)).enthalpy->heat_capacity(H[c]);
        diagonal[c] += volume * capacity[c] / gamma_dt;
        residual[c] = volume * (base[c] - H[c]) / gamma_dt + heat[c] - flow[c];
      }
      entries.emplace_back(c, c, empty(c) ? 1.0 : diagonal[c]);
    }
    Matrix A(n, n);
    A.setFromTriplets(entries.begin(), entries.end());
    const VectorXd change = direct_solution(A, residual);
    H += capacity.cwiseProduct(change);
    const VectorXd linear = T + change;
    T = temperatures(H);
    if ((T - linear).cwiseAbs().maxCoeff() > 1e-9) continue;

    flow = boundary.cwiseProduct((T.array() - ambient).matrix());
    out = flow.sum();
    for (const Face& f : list) {
      const double heat_flow = f.conductance() * (T[f.a] - T[f.b]);
      flow[f.a] += heat_flow;
      flow[f.b] -= heat_flow;
    }
    for (Index c = 0; c < n; ++c)
      rate[c] = empty(c) ? 0.0 : (heat[c] - flow[c]) / m.volume(static_cast<std::size_t>(c));
    H = base + gamma_dt * rate;
    return true;
  }
  return false;
}

void PlainWeld::step(double dt) {
  const mesh::AxisymmetricGrid& m = grid();
  const auto n = static_cast<Index>(m.cells());
  const VectorXd T_middle = temperatures(H_ + 0.5 * dt * rate_);
  VectorXd k_axial = VectorXd::Zero(n), k_radial = VectorXd::Zero(n), boundary = VectorXd::Zero(n);
  for (Index c = 0; c < n; ++c) {
    if (empty(c)) continue;
    const PropertyTable& table = *model_.law(static_cast<std::size_t>(c)).table;
    k_axial[c] = table.conductivity_z(T_middle[c]);
    k_radial[c] = k_axial[c] * table.radial_ratio();
  }
  for (std::size_t i = 0; i < m.nr(); ++i) {
    const std::size_t cell = m.index(i, m.nz() - 1);
    if (m.region(cell) != mesh::empty)
      boundary[static_cast<Index>(cell)] = k_axial[static_cast<Index>(cell)] / m.axial_inner(cell);
  }
  const std::vector<Face> thermal = faces(
      k_radial, k_axial, 0,
      {problem_.under_tip().fixed->area_conductance, problem_.joint(0).fixed->area_conductance});
  solve_current(T_middle, thermal);

  const int spots = problem_.arrangement.spots;
  const double before = loop_state_.current;
  const circuit::StepOutcome circuit = loop_.advance(loop_state_, dt, spots * resistance_);
  loop_state_ = circuit.state;
  energy_in_ += circuit.energy.in_load_resistance / spots;
  const double mean_square = circuit.energy.square_current / dt;
  const VectorXd heat = heat_per_square_ * mean_square;
  // How much of the mean square it rises or falls by, where it goes nearly straight.
  double tilt = 0;
  if (mean_square > 0) {
    const double from = before * before / mean_square,
                 to = loop_state_.current * loop_state_.current / mean_square;
    if (std::abs(from + to - 2) <= 0.2) tilt = std::clamp(to - from, -1.5, 1.5);
  }

  // The heat of the first step comes all at once.
  if (!started_)
    for (Index c = 0; c < n; ++c)
      if (!empty(c)) rate_[c] = heat[c] / m.volume(static_cast<std::size_t>(c));
  started_ = true;

  // Alexander's two stages, SIAM J. Numer. Anal. 14 (1977) 1006.
  const double gamma = 1 - 1 / std::sqrt(2.0);
  double out_first = 0, out_second = 0;
  VectorXd first = rate_, H = H_ + gamma * dt * rate_;
  if (!stage(thermal, boundary, (1 + tilt * (gamma - 0.5)) * heat, gamma * dt, H_, H, first,
             out_first))
    throw std::runtime_error("plain weld: the first stage did not converge");
  const VectorXd base = H_ + (1 - gamma) * dt * first;
  H = base + gamma * dt * first;
  if (!stage(thermal, boundary, (1 + 0.5 * tilt) * heat, gamma * dt, base, H, rate_, out_second))
    throw std::runtime_error("plain weld: the second stage did not converge");
  H_ = H;
  energy_out_ += dt * ((1 - gamma) * out_first + gamma * out_second);
}

double PlainWeld::energy_stored() const {
  double sum = 0;
  for (Index c = 0; c < H_.size(); ++c) {
    if (empty(c)) continue;
    const auto cell = static_cast<std::size_t>(c);
    sum += grid().volume(cell) * (H_[c] - model_.law(cell).enthalpy->at(problem_.boundary.ambient));
  }
  return sum;
}

double PlainWeld::peak_temperature() const { return temperatures(H_).maxCoeff(); }

}  // namespace tabmelt::bench
