// A wall flash-heated on one face, and heated there for a while: what a can's inner wall sees.
//
// Exact: Parker et al., J. Appl. Phys. 32 (1961) 1679; Carslaw & Jaeger, 2nd ed. (1959),
// section 3.8 (number from memory), in tests/support/slab.h. Catches: heat that reaches the far
// face too early or too late, a wrong insulated end.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "tests/support/near.h"
#include "tests/support/order_of_accuracy.h"
#include "tests/support/slab.h"
#include "tests/verification/heated_body.h"

namespace tabmelt {
namespace {

const exact::UniformSolid steel{50, 7850, 500};  // round numbers
constexpr double cold = 300, thickness = 2.5e-4;

// The flash fills the first cell evenly: the exact answer to that start differs from the flash by
// O(dz^2), as the centre of the heat does.
HeatedBody flashed(int cells, double time, int steps) {
  const exact::FlashHeatedWall wall{steel, thickness, 2e5};
  HeatedBody body(column(even_edges(0, thickness, cells)), {constant_metal(steel)}, cold);
  const double dz = thickness / cells;
  body.start_from([&](double, double z) {
    return z < dz ? cold + wall.energy / (steel.density * steel.specific_heat * dz) : cold;
  });
  body.march(graded_moments(time, steps, 3));
  return body;
}

// At cell centres; the far face is a parabola of no slope away from the last of them.
double far_face(const HeatedBody& body) {
  const std::size_t n = body.grid().nz();
  return (9 * body.T_at(0, n - 1) - body.T_at(0, n - 2)) / 8 - cold;
}

TEST(FlashHeating, far_face_follows) {
  const exact::FlashHeatedWall wall{steel, thickness, 2e5};
  for (const double time : {5e-4, 1e-3, 3e-3}) {
    const HeatedBody body = flashed(80, time, 400);
    EXPECT_NEAR_RELATIVE(far_face(body), wall.rise(thickness, time), 1e-3);
    EXPECT_NEAR_RELATIVE((9 * body.T_at(0, 0) - body.T_at(0, 1)) / 8 - cold, wall.rise(0, time),
                         1e-3);
  }
}

// Half of the final rise after 0.138785 L^2/alpha. Parker et al. print 1.38/pi^2 = 0.1398, rounded.
TEST(FlashHeating, far_face_reaches_half_its_rise_on_time) {
  const exact::FlashHeatedWall wall{steel, thickness, 2e5};
  const double time = 0.138785297043 * thickness * thickness / steel.diffusivity();
  EXPECT_NEAR_RELATIVE(wall.half_rise_time(), time, 1e-9);
  const double final_rise = 2e5 / (steel.density * steel.specific_heat * thickness);
  EXPECT_NEAR_RELATIVE(far_face(flashed(80, time, 400)), 0.5 * final_rise, 1e-3);
}

TEST(FlashHeating, second_order_in_space) {
  const exact::FlashHeatedWall wall{steel, thickness, 2e5};
  const auto study = order_in_cells({16, 32, 64, 128}, [&](int cells) {
    return flashed(cells, 1e-3, 2000).mean_square_error([&](double, double z) {
      return cold + wall.rise(z, 1e-3);
    });
  });
  EXPECT_TRUE(order_within(study, 2, 0.15));
}

double pulse_error(int cells, double time, int steps) {
  const exact::PulseHeatedSlab slab{steel, thickness, 1e8, 2e-3};
  HeatedBody body(column(even_edges(0, thickness, cells)), {constant_metal(steel)}, cold);
  std::vector<double> moments = graded_moments(std::min(time, slab.duration), steps, 3);
  if (time > slab.duration)
    for (const double t : graded_moments(time - slab.duration, steps, 3))
      moments.push_back(slab.duration + t);
  body.march(moments, [&](double t, Field& heat) {
    if (t < slab.duration) heat[0] += slab.flux;
  });
  return body.mean_square_error([&](double, double z) { return cold + slab.rise(z, time); });
}

TEST(FlashHeating, pulse_warms_the_wall_through) {
  for (const double time : {1e-3, 2e-3, 3e-3, 6e-3})
    EXPECT_LE(pulse_error(50, time, 100), 1e-3 * 200) << time;
}

// After the pulse little is left to get wrong but the even warming; order shows during it.
TEST(FlashHeating, pulse_is_second_order) {
  for (const double time : {1e-3, 2.5e-3}) {
    const auto study =
        order_in_cells({8, 16, 32, 64}, [&](int cells) { return pulse_error(cells, time, 1000); });
    EXPECT_TRUE(order_within(study, 2, 0.15));
  }
}

// A wall far thinner than k/h cools as one lump: exp(-h t/(rho c L)), Biot number 8e-5. (Radiation
// is left out of the model: the film coefficient of a black spot at 1200 K is 400 W/m^2/K, nothing
// in a pulse.)
TEST(FlashHeating, thin_wall_cools_as_one_lump) {
  const double wall = 1.5e-4, h = 25;
  for (const auto& [time, rise] : {std::pair{5.0, 485.226324315}, std::pair{30.0, 167.845565709}}) {
    HeatedBody body(column(even_edges(0, wall, 4)), {constant_metal(steel)}, cold + 600);
    body.hold(HeatedBody::Side::top, cold, h);
    body.march(graded_moments(time, 200, 1));
    EXPECT_NEAR_RELATIVE(body.T_at(0, 0) - cold, rise, 2e-4);
    EXPECT_NEAR(body.T_at(0, 0), body.T_at(0, 3), 0.1);
  }
}

}  // namespace
}  // namespace tabmelt
