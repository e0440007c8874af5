// One lambda per alternative of a variant, for std::visit.
#pragma once

namespace tabmelt::circuit {

template <typename... Visitors>
struct Overload : Visitors... {
  using Visitors::operator()...;
};
// GCC finds this guide by itself; clang before 17 does not.
template <typename... Visitors>
Overload(Visitors...) -> Overload<Visitors...>;

}  // namespace tabmelt::circuit
