// The front door: a problem in, a result out.
//
//   circuit -> contacts -> current field -> Joule heat -> enthalpy field      (every step)
//
//   div(sigma(T) grad phi) = 0                          electric_potential/potential.h
//   dH/dt = div(k(T) grad T) + q,  H = H(T)             heat_conduction/heat_step.h
//   L di/dt + R i + U_load = v,  C dv/dt = -i           circuit/loop.h
//   g, h of each touching face from force, temperature and voltage      contact/contact.h
//
// One electrode is computed around its axis; two side by side count twice in the circuit. Where
// they land one after the other on a connected source, both are computed.
// Not modelled: flow of the melt, mechanical deformation, arcs, the tilt of the field towards
// the second electrode. Result::notes lists what a particular run left behind.
#pragma once

#include "solver/problem/problem.h"
#include "solver/result/observer.h"
#include "solver/result/result.h"

namespace tabmelt {

// Never throws for a problem without complaints() and cost_complaints(): a run that cannot finish
// says so in Result::ending and keeps everything up to then. Throws std::invalid_argument listing
// the complaints otherwise.
Result solve(const Problem& problem, Observer* observer = nullptr);

}  // namespace tabmelt
