// Which numbers of a case are uncertain, and how: a default beside each key in the one list of
// keys, or `spread.<key>` in the case.
//
//   spread.pressing.force = "20 %"            uniform, as much either way
//   spread.strip.thickness = "0.01 mm"        the same, as a length
//   spread.can.thickness = "normal 5 %"       standard deviation
//   spread.contact.faying.film_resistance = "log-normal 1.75"    factor of one standard deviation
//   spread.leads.length = "none"              certain
#pragma once

#include <string>
#include <vector>

#include "io/case/overrides.h"
#include "solver/sampling/distribution.h"

namespace tabmelt {

struct UncertainKey {
  std::string key;  // "pressing.force", "layer.insulating disc.thickness"
  Address address;
  double value = 0;                  // of the case [SI]
  std::string text;                  // "20 %"
  std::string reason;                // why so much
  bool given = false;                // stands in the case
  study::Distribution distribution;  // cut to the range of the key
};

// In the order of the keys, then those of layers and materials. What a spread cannot be is a
// complaint: a key without a value in this case, a whole number, a width of nothing. Throws
// InputError.
std::vector<UncertainKey> uncertain_keys(const Case&);

// How a number spreads around its value; nothing for "none", and for per cent of nothing. Throws
// units::UnitError with what is wrong.
std::optional<study::Distribution> spread_around(double value, const std::string& text,
                                                 const Address&);

}  // namespace tabmelt
