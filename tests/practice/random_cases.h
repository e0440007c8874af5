// Cases drawn at random from wide ranges, always the same ones: what nobody would build beside what
// many do. They show where the numerics gives in, not where a weld is good.
#pragma once

#include <string>
#include <vector>

namespace tabmelt::practice {

// Banks, supercapacitors, batteries and prescribed currents of 0.5 to 4 kA; 2-80 N, tips of
// 0.8-3 mm, flat or domed; strips of 0.08-0.3 mm; most banks are connected when the tips land.
std::vector<std::string> random_cases(int count, double resolution);

}  // namespace tabmelt::practice
