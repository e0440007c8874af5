#include "viz/pictures/fields.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/drawing/words.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

std::string field_name(Field field) {
  switch (field) {
    case Field::temperature:
      return "Temperature";
    case Field::liquid_fraction:
      return "Liquid share";
    case Field::potential:
      return "Potential";
    case Field::current_density:
      return "Current density";
  }
  return {};
}

std::string unit_of(Field field) {
  switch (field) {
    case Field::temperature:
      return "\u00b0C";
    case Field::potential:
      return "mV";
    case Field::current_density:
      return "A/mm\u00b2";
    case Field::liquid_fraction:
      break;
  }
  return "1";
}

FrameField stored_field(Field field) {
  switch (field) {
    case Field::temperature:
      return &Frame::temperature;
    case Field::liquid_fraction:
      return &Frame::liquid_fraction;
    case Field::potential:
      return &Frame::potential;
    case Field::current_density:
      return &Frame::current_density;
  }
  return nullptr;
}

std::vector<float> shown_values(Field field, const std::vector<float>& stored) {
  std::vector<float> values;
  values.reserve(stored.size());
  switch (field) {
    case Field::temperature:
      for (const float kelvin : stored) {
        values.push_back(static_cast<float>(celsius(kelvin)));
      }
      break;
    case Field::liquid_fraction:
      values = stored;
      break;
    case Field::potential:
      for (const float volts : stored) {
        values.push_back(1e3F * volts);
      }
      break;
    case Field::current_density:
      for (std::size_t n = 0; n + 2 < stored.size(); n += 3) {
        values.push_back(1e-6F * std::hypot(stored[n], stored[n + 1]));
      }
      break;
  }
  return values;
}

std::vector<float> cell_values(const Frame& frame, Field field) {
  return shown_values(field, frame.*stored_field(field));
}

Scale temperature_scale(double coldest, double hottest) {
  static const std::vector<double> warm{30,  40,  50,  60,  80,  100, 120, 150,
                                        200, 250, 300, 350, 400, 500, 600, 700};
  static const std::vector<double> molten{40,   60,   80,   100,  150,  200,  300,  400,
                                          500,  600,  800,  1000, 1200, 1400, 1600, 1800,
                                          2000, 2500, 3000, 4000, 5000, 6000};
  constexpr double even_below = 130;
  Scale scale{"temperature [\u00b0C]", {}, {}};
  hottest = std::max(hottest, coldest + 1);
  if (hottest < even_below) {
    const double step = round_length((hottest - coldest) / 6);
    const double start = step * std::floor((coldest + 0.5) / step);
    for (int k = 0; k == 0 || scale.edges.back() < hottest; ++k) {
      scale.edges.push_back(start + step * k);
    }
  } else {
    scale.edges.push_back(5 * std::floor((coldest + 0.5) / 5));
    for (const double edge : hottest <= warm.back() ? warm : molten) {
      if (edge > scale.edges.front() + 5 && scale.edges.back() < hottest) {
        scale.edges.push_back(edge);
      }
    }
  }
  scale.colours = heat_ramp(scale.edges.size() - 1);
  return scale;
}

Scale scale_for(Field field, double coldest, double largest) {
  if (field == Field::temperature) {
    return temperature_scale(coldest, largest);
  }
  Scale scale;
  scale.title = fmt::format("{} [{}]", field_name(field), unit_of(field));
  if (field == Field::current_density) {
    scale.edges = {0};
    for (double power = 1; scale.edges.back() < largest || scale.edges.size() < 3; power *= 10) {
      for (const double step : {1.0, 2.0, 5.0}) {
        if (scale.edges.back() < largest && step * power > 0.002 * largest) {
          scale.edges.push_back(step * power);
        }
      }
      if (power > 1e9) {
        break;
      }
    }
    if (scale.edges.size() < 2) {
      scale.edges.push_back(1);
    }
    scale.colours = heat_ramp(scale.edges.size() - 1);
    return scale;
  }
  const double top = field == Field::liquid_fraction ? 1 : std::max(largest, 1e-6);
  const double step = field == Field::liquid_fraction ? 0.1 : round_length(top / 5);
  const auto bands = static_cast<std::size_t>(std::ceil(top / step - 1e-9));
  for (std::size_t k = 0; k <= bands; ++k) {
    scale.edges.push_back(step * static_cast<double>(k));
  }
  scale.colours = field == Field::potential ? potential_ramp(bands) : heat_ramp(bands);
  return scale;
}

float place_on(const Scale& scale, float value) {
  const std::vector<double>& edges = scale.edges;
  if (!(value > edges.front())) {
    return 0;
  }
  const auto above = std::upper_bound(edges.begin(), edges.end(), static_cast<double>(value));
  if (above == edges.end()) {
    return static_cast<float>(edges.size() - 1);
  }
  const double low = *(above - 1);
  return static_cast<float>(static_cast<double>(above - edges.begin() - 1) +
                            (value - low) / (*above - low));
}

}  // namespace tabmelt::pictures
