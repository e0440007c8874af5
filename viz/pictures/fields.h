// The fields of a frame as people read them, and their colour scales.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/result/stored_run.h"
#include "viz/drawing/legends.h"

namespace tabmelt::pictures {

using namespace drawing;

enum class Field { temperature, liquid_fraction, potential, current_density };

std::string unit_of(Field);
// "Potential [mV]"
std::string field_title(Field);
// What of a frame a field is made from, and the stored values in the unit shown: degrees Celsius,
// 1, mV, A/mm^2 (the length of the vector).
FrameField stored_field(Field);
std::vector<float> shown_values(Field, const std::vector<float>& stored);
// One value per cell. Empty if the frame lacks it.
std::vector<float> cell_values(const Frame&, Field);

// Temperatures [degrees Celsius] that somebody wants to see apart.
struct TemperatureRange {
  double low = 0, high = 0;
};

// The same bands for every run, from a cold workshop to above melting, so that a colour always
// means the same temperature: most of the difference in colour lies between 800 and 1600 degrees,
// where metal melts, and the least below 200. Or even bands over a range of one's own.
Scale temperature_scale(const std::optional<TemperatureRange>& = {});
// The same with the temperatures marked at which the run's metals melt and boil, and with its
// limits.
Scale temperature_scale(const StoredRun&, const std::optional<TemperatureRange>& = {});
// Scale of another field up to its largest value.
Scale scale_for(Field, double largest);

}  // namespace tabmelt::pictures
