// The fields of a frame as people read them, and their colour scales.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "solver/result/stored_run.h"
#include "viz/drawing/legends.h"

namespace tabmelt::pictures {

using namespace drawing;

enum class Field { temperature, liquid_fraction, potential, current_density };
inline constexpr std::array all_fields{Field::temperature, Field::liquid_fraction, Field::potential,
                                       Field::current_density};

std::string field_name(Field);
std::string unit_of(Field);
// What of a frame a field is made from, and the stored values in the unit shown: degrees Celsius,
// 1, mV, A/mm^2 (the length of the vector).
FrameField stored_field(Field);
std::vector<float> shown_values(Field, const std::vector<float>& stored);
// One value per cell. Empty if the frame lacks it.
std::vector<float> cell_values(const Frame&, Field);

// Bands of temperature [degrees Celsius]: finer where the cell is judged, coarser where metal
// melts.
Scale temperature_scale(double coldest, double hottest);
// Scale of a field over runs whose coldest temperature and largest value are given.
Scale scale_for(Field, double coldest, double largest);

// k + share within band k; at the ends beyond the scale.
float place_on(const Scale&, float value);

}  // namespace tabmelt::pictures
