// The linear solver against a sparse direct one (Eigen), on grids and coefficients as hard as a
// weld's and harder.
// Catches: a cycle that is not symmetric (conjugate gradients then stall), a coarse operator that
// forgets a contact, an empty cell that spoils its neighbours, columns lost between two panels.
#include "solver/finite_volume/line_multigrid.h"

#include <gtest/gtest.h>

#include <Eigen/SparseCholesky>
#include <cmath>
#include <random>

namespace tabmelt {
namespace {

using Index = Eigen::Index;

struct System {
  FaceConductances faces;
  Field diagonal, b;
};

// The same matrix, put together entry by entry. Cells without any coupling get a one.
Field direct_solution(const System& s) {
  const auto nr = static_cast<Index>(s.faces.nr), nz = static_cast<Index>(s.faces.nz), n = nr * nz;
  std::vector<Eigen::Triplet<double>> entries;
  Field own = s.faces.boundary + s.diagonal;
  const auto couple = [&](Index a, Index b, double g) {
    if (g == 0) return;
    own[a] += g;
    own[b] += g;
    entries.emplace_back(a, b, -g);
    entries.emplace_back(b, a, -g);
  };
  for (Index j = 0; j < nz; ++j) {
    for (Index i = 0; i < nr; ++i) {
      if (i + 1 < nr) couple(j * nr + i, j * nr + i + 1, s.faces.radial[j * nr + i]);
      if (j + 1 < nz) couple(j * nr + i, (j + 1) * nr + i, s.faces.axial[j * nr + i]);
    }
  }
  for (Index c = 0; c < n; ++c) entries.emplace_back(c, c, own[c] > 0 ? own[c] : 1.0);
  Eigen::SparseMatrix<double> A(n, n);
  A.setFromTriplets(entries.begin(), entries.end());
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver(A);
  EXPECT_EQ(solver.info(), Eigen::Success);
  Eigen::VectorXd x = solver.solve(s.b.matrix());
  for (int n_refine = 0; n_refine < 2; ++n_refine)  // iterative refinement against cancellation
    x += solver.solve(s.b.matrix() - A * x);
  return x.array();
}

std::vector<double> stretched(double first, double last, int cells) {
  std::vector<double> edges{0};
  for (int n = 0; n < cells; ++n)
    edges.push_back(edges.back() + first * std::pow(last / first, static_cast<double>(n) / cells));
  return edges;
}

// Any numbers of columns and rows, all conductances between 0.1 and 10, a random D.
System random_block(std::size_t columns, std::size_t rows, unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> exponent(-1, 1);
  const auto nr = static_cast<Index>(columns), n = nr * static_cast<Index>(rows);
  const auto any = [&] {
    return Field::NullaryExpr(n, [&](Index) { return std::pow(10, exponent(random)); }).eval();
  };
  System s;
  s.faces.nr = columns;
  s.faces.nz = rows;
  s.faces.radial = any();
  s.faces.axial = any();
  s.faces.boundary = Field::Zero(n);
  for (Index c = nr - 1; c < n; c += nr) s.faces.radial[c] = 0;
  s.faces.axial.tail(nr) = 0;
  s.diagonal = 1e-3 * any();
  s.b = any();
  return s;
}

enum class Pattern { bodies, chequerboard };

// Two bodies of revolution that touch in a plane, empty space beside the upper one, the rim of the
// lower one held. Conductivities jump by `jump`:
//   bodies        between the two; the plane conducts 1e4 times less than a cell
//   chequerboard  between the fields of 5 x 7, the same on every grid; no contact
// A matrix with entries 1e8 times apart loses the last digits asked for below when it is summed up;
// hence not both at once.
System random_weld(Pattern pattern, int cells, double aspect, double jump, unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> share(0, 1);
  const std::vector<double> r = stretched(1e-5, 1e-5 * std::sqrt(aspect), cells);
  const std::vector<double> z = stretched(1e-6 * std::sqrt(aspect), 1e-6, cells);
  const double step = r[r.size() / 2], middle = z[z.size() / 2];
  const mesh::AxisymmetricGrid grid(
      r, z,
      {{"lower", 1, 0, middle, r.back(), r.back()}, {"upper", 2, middle, z.back(), step, step}});
  const auto n = static_cast<Index>(grid.cells());
  Field k = Field::Zero(n);
  for (Index c = 0; c < n; ++c)
    if (grid.region(static_cast<std::size_t>(c)) != 0) {
      const std::size_t i = static_cast<std::size_t>(c) % grid.nr();
      const std::size_t j = static_cast<std::size_t>(c) / grid.nr();
      const bool other = pattern == Pattern::bodies
                             ? grid.region(static_cast<std::size_t>(c)) == 2
                             : (i * 5 / grid.nr() + j * 7 / grid.nz()) % 2 == 1;
      k[c] = (other ? jump : 1.0) * (0.5 + share(random));
    }
  System s;
  set_faces(grid, {0, grid.nz()}, k, k, s.faces);
  const auto below = static_cast<Index>(z.size() / 2 - 1), nr = static_cast<Index>(grid.nr());
  for (Index i = 0; i < nr; ++i)
    if (pattern == Pattern::bodies) s.faces.axial[below * nr + i] *= 1e-4;
  s.diagonal = Field::Zero(n);
  for (Index j = 0; j <= below; ++j)
    s.faces.boundary[j * nr + nr - 1] =
        k[j * nr + nr - 1] / grid.radial_inner(static_cast<std::size_t>(j * nr + nr - 1));
  s.b.setZero(n);
  for (Index c = 0; c < n; ++c)
    if (k[c] > 0) s.b[c] = share(random) * grid.volume(static_cast<std::size_t>(c));
  return s;
}

LinearOutcome solve(const System& s, double relative, Field& x) {
  LineMultigrid linear;
  linear.set_operator(s.faces, s.diagonal);
  x.setZero(s.b.size());
  return linear.solve(s.b, relative, 400, x);
}

void expect_direct_solution(Pattern pattern, double jump, double tolerance) {
  unsigned seed = 0;
  for (const double aspect : {1.0, 1e2, 1e4}) {
    for (const int cells : {5, 16, 41}) {
      const System s = random_weld(pattern, cells, aspect, jump, ++seed);
      Field x;
      const LinearOutcome outcome = solve(s, 1e-15, x);
      EXPECT_TRUE(outcome.converged);
      const Field exact = direct_solution(s);
      EXPECT_LE((x - exact).abs().maxCoeff(), tolerance * exact.abs().maxCoeff())
          << cells << " cells, jump " << jump << ", aspect " << aspect;
    }
  }
}

TEST(LineMultigrid, agrees_with_a_direct_solver_across_a_contact) {
  for (const double jump : {1.0, 30.0, 0.03}) expect_direct_solution(Pattern::bodies, jump, 1e-8);
}

TEST(LineMultigrid, agrees_with_a_direct_solver_whatever_the_jumps) {
  for (const double jump : {1.0, 1e4, 1e-4}) {
    expect_direct_solution(Pattern::chequerboard, jump, 1e-8);
  }
  // A field of 50 well conducting cells is tied to the rest by couplings 1e6 times weaker. Rounding
  // its diagonals, 4 * 50 * 1.1e-16 * 1e6 = 2e-8, is as good as an unknown tie: no two ways of
  // adding up agree better than that.
  expect_direct_solution(Pattern::chequerboard, 1e6, 1e-7);
}

// Panels of columns, whole and partly filled, one or several, at every level of the cycle.
TEST(LineMultigrid, agrees_with_a_direct_solver_for_any_number_of_columns) {
  for (std::size_t columns = 1; columns < 300; columns += columns < 20 ? 1 : 13) {
    for (const std::size_t rows : {std::size_t{1}, std::size_t{2}, std::size_t{9}}) {
      const System s = random_block(columns, rows, static_cast<unsigned>(columns));
      Field x;
      EXPECT_TRUE(solve(s, 1e-13, x).converged);
      const Field exact = direct_solution(s);
      EXPECT_LE((x - exact).abs().maxCoeff(), 1e-9 * exact.abs().maxCoeff())
          << columns << " x " << rows;
    }
  }
}

// 60 columns fit into one panel; where panels meet, the coarser operators must not know.
TEST(LineMultigrid, several_panels_converge_like_one) {
  for (const double ratio : {1.0, 100.0, 1e4}) {
    const auto iterations = [&](std::size_t columns) {
      System s = random_block(columns, 12, 3);
      s.faces.radial = ratio * (s.faces.radial > 0).cast<double>();
      s.faces.axial = (s.faces.axial > 0).cast<double>();
      s.diagonal.setConstant(1e-5);
      Field x;
      return solve(s, 1e-12, x).iterations;
    };
    EXPECT_LE(iterations(600), iterations(60) + 1) << "radial over axial conductance " << ratio;
  }
}

// Each kind of processor has its own inner loops.
TEST(LineMultigrid, plain_kernels_give_the_same) {
  for (const std::size_t columns : {std::size_t{7}, std::size_t{40}, std::size_t{150}}) {
    const System s = random_block(columns, 30, 5);
    LineMultigrid plain(line_kernels::plain_kernels());
    plain.set_operator(s.faces, s.diagonal);
    Field x = Field::Zero(s.b.size()), y;
    const LinearOutcome outcome = plain.solve(s.b, 1e-13, 400, x);
    EXPECT_TRUE(outcome.converged);
    EXPECT_LE(std::abs(outcome.iterations - solve(s, 1e-13, y).iterations), 1);
    EXPECT_LE((x - y).abs().maxCoeff(), 1e-10 * y.abs().maxCoeff());
  }
}

// Changes that are smaller than, and larger than, what the cycle is set up anew for.
TEST(LineMultigrid, changed_rows_or_diagonal_are_as_good_as_a_new_operator) {
  for (const std::size_t columns : {std::size_t{41}, std::size_t{150}}) {
    for (const double factor : {1.1, 1e3}) {
      System s = random_block(columns, 12, 3);
      const auto nr = static_cast<Index>(columns);
      LineMultigrid linear;
      linear.set_operator(s.faces, s.diagonal);
      const auto expect_direct_solution_now = [&] {
        Field x = Field::Zero(s.b.size());
        EXPECT_TRUE(linear.solve(s.b, 1e-13, 400, x).converged);
        const Field exact = direct_solution(s);
        EXPECT_LE((x - exact).abs().maxCoeff(), 1e-9 * exact.abs().maxCoeff());
      };
      s.faces.axial.segment(4 * nr, nr) *= factor;
      s.faces.axial.segment(9 * nr, nr) /= factor;
      linear.set_rows(s.faces, s.diagonal, std::vector<RowRange>{{4, 2}, {9, 2}});
      expect_direct_solution_now();
      s.diagonal *= factor;
      linear.set_diagonal(s.faces, s.diagonal);
      expect_direct_solution_now();
    }
  }
}

// Bodies with a contact: the count stays near 10 from 20 x 20 to 200 x 200 cells.
TEST(LineMultigrid, iterations_hardly_grow_with_the_grid) {
  for (const double jump : {0.01, 1.0, 20.0, 1e4}) {
    for (const double aspect : {1.0, 1e2, 1e4}) {
      for (const int cells : {20, 50, 100, 200}) {
        const System s = random_weld(Pattern::bodies, cells, aspect, jump, 77);
        Field x;
        const LinearOutcome outcome = solve(s, 1e-9, x);
        EXPECT_TRUE(outcome.converged);
        EXPECT_LE(outcome.iterations, 20)
            << cells << " cells, aspect " << aspect << ", jump " << jump;
      }
    }
  }
}

// A chequerboard with jumps of 1e4 is harder than any weld: jumps along r that pairs of columns
// straddle, and fields tied to the rest by couplings 1e8 times weaker than those inside, more than
// the cycle's single precision can tell from none. About 70 iterations are needed (45 with a cycle
// in double precision); the solvers' limit is 200.
TEST(LineMultigrid, chequerboard_of_steep_jumps_still_converges_in_time) {
  for (const double aspect : {1.0, 1e4}) {
    const System s = random_weld(Pattern::chequerboard, 200, aspect, 1e4, 77);
    Field x;
    const LinearOutcome outcome = solve(s, 1e-9, x);
    EXPECT_TRUE(outcome.converged);
    EXPECT_LE(outcome.iterations, 90);
  }
}

TEST(LineMultigrid, solves_the_heat_step_where_lines_alone_suffice) {
  System s = random_weld(Pattern::chequerboard, 60, 100, 10, 5);
  // Storage far above conduction, as in a very short step.
  s.diagonal = 100 * (s.faces.radial + s.faces.axial + 1e-9);
  Field x;
  const LinearOutcome outcome = solve(s, 1e-13, x);
  EXPECT_TRUE(outcome.converged);
  EXPECT_LE(outcome.iterations, 12);
  const Field exact = direct_solution(s);
  EXPECT_LE((x - exact).abs().maxCoeff(), 1e-10 * exact.abs().maxCoeff());
}

TEST(LineMultigrid, inverse_is_symmetric) {
  const System s = random_weld(Pattern::chequerboard, 24, 1e2, 1e4, 9);
  LineMultigrid linear;
  linear.set_operator(s.faces, s.diagonal);
  std::mt19937 random(10);
  std::uniform_real_distribution<double> share(-1, 1);
  Field u = s.b, v = s.b, x = Field::Zero(s.b.size()), y = x;
  for (Index c = 0; c < u.size(); ++c) {
    if (s.b[c] > 0) u[c] = share(random);
    if (s.b[c] > 0) v[c] = share(random);
  }
  ASSERT_TRUE(linear.solve(u, 1e-13, 400, x).converged);
  ASSERT_TRUE(linear.solve(v, 1e-13, 400, y).converged);
  EXPECT_NEAR((v * x).sum(), (u * y).sum(), 1e-8 * std::abs((v * x).sum()));
}

TEST(LineMultigrid, empty_cells_keep_their_value_and_shapes_may_change) {
  LineMultigrid linear;
  for (const int cells : {30, 8, 50, 30}) {
    const System s = random_weld(Pattern::bodies, cells, 10, 1e3, static_cast<unsigned>(cells));
    linear.set_operator(s.faces, s.diagonal);
    Field x = Field::Zero(s.b.size());
    EXPECT_TRUE(linear.solve(s.b, 1e-12, 400, x).converged);
    for (Index c = 0; c < x.size(); ++c)
      if (s.b[c] == 0) {
        EXPECT_EQ(x[c], 0);
      }
    const Field exact = direct_solution(s);
    EXPECT_LE((x - exact).abs().maxCoeff(), 1e-7 * exact.abs().maxCoeff());
  }
}

TEST(LineMultigrid, a_good_first_guess_costs_nothing) {
  const System s = random_weld(Pattern::chequerboard, 20, 10, 100, 3);
  LineMultigrid linear;
  linear.set_operator(s.faces, s.diagonal);
  Field x = direct_solution(s);
  EXPECT_EQ(linear.solve(s.b, 1e-8, 400, x).iterations, 0);
}

TEST(LineMultigrid, says_so_when_the_limit_is_too_low) {
  const System s = random_weld(Pattern::chequerboard, 50, 1e3, 1e5, 4);
  LineMultigrid linear;
  linear.set_operator(s.faces, s.diagonal);
  Field x = Field::Zero(s.b.size());
  const LinearOutcome outcome = linear.solve(s.b, 1e-13, 2, x);
  EXPECT_FALSE(outcome.converged);
  EXPECT_EQ(outcome.iterations, 2);
}

// The other stop: every cell's residual times its scale below an absolute limit.
TEST(LineMultigrid, scaled_stop_bounds_every_cell) {
  System s = random_weld(Pattern::chequerboard, 40, 1e2, 1e3, 6);
  s.diagonal = s.faces.radial + s.faces.axial + 1e-9;
  LineMultigrid linear;
  linear.set_operator(s.faces, s.diagonal);
  Field x = Field::Zero(s.b.size()), Ax;
  const Field scale = 1.0 / s.diagonal;
  const double limit = 1e-9 * (s.b * scale).maxCoeff();
  ASSERT_TRUE(linear.solve_from_zero(s.b, scale, limit, 400, x).converged);
  apply(s.faces, x, Ax);
  EXPECT_LE(((s.b - Ax - s.diagonal * x) * scale).abs().maxCoeff(), 1.001 * limit);
}

}  // namespace
}  // namespace tabmelt
