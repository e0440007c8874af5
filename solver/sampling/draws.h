// Points that fill the unit cube evenly: a Sobol sequence (Boost.Random, direction numbers of Joe &
// Kuo) with a digital shift, x_i XOR s_i on the bits of each coordinate, s from a fixed seed. The
// shift keeps the evenness, takes the points off the corners and makes the mean of a sample
// unbiased (P. L'Ecuyer & C. Lemieux, in Modeling Uncertainty (2002), section on digital nets; from
// memory).
//
// The first n points of a longer sample are those of a shorter one.
#pragma once

#include <cstdint>
#include <vector>

namespace tabmelt::study {

// Points of `dimensions` numbers, each inside (0, 1). Throws std::invalid_argument for no
// dimensions or more than the sequence has (3667).
std::vector<std::vector<double>> even_points(std::size_t count, std::size_t dimensions,
                                             std::uint64_t seed = 1);

}  // namespace tabmelt::study
