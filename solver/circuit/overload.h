// One lambda per alternative of a variant, for std::visit.
#pragma once

namespace tabmelt::circuit {

template <typename... Visitors>
struct Overload : Visitors... {
  using Visitors::operator()...;
};

}  // namespace tabmelt::circuit
