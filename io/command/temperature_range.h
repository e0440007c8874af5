// --range of `picture` and `view`: "20..400", "20..400 degC".
#pragma once

#include <string>

#include "viz/pictures/fields.h"

namespace tabmelt::command {

// Temperatures [degrees Celsius] that the colours span; a number without a unit is in degC. Throws
// std::invalid_argument, with the option's name and what is wrong.
pictures::TemperatureRange temperature_range_in(const std::string& text);

}  // namespace tabmelt::command
