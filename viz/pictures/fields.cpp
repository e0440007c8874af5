#include "viz/pictures/fields.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/drawing/words.h"
#include "viz/pictures/parts.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

namespace {

struct Words {
  const char *name, *unit;
  FrameField stored;
};

Words words_of(Field field) {
  switch (field) {
    case Field::temperature:
      return {"Temperature", "\u00b0C", &Frame::temperature};
    case Field::liquid_fraction:
      return {"Liquid share", "1", &Frame::liquid_fraction};
    case Field::potential:
      return {"Potential", "mV", &Frame::potential};
    case Field::current_density:
      return {"Current density", "A/mm\u00b2", &Frame::current_density};
  }
  return {};
}

}  // namespace

std::string unit_of(Field field) { return words_of(field).unit; }

std::string field_title(Field field) {
  return fmt::format("{} [{}]", words_of(field).name, unit_of(field));
}

FrameField stored_field(Field field) { return words_of(field).stored; }

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

namespace {

constexpr const char* temperature_title = "temperature [\u00b0C]";

// Each name once, even if a part stands in the stack twice.
void add_mark(Scale& scale, const std::optional<double>& kelvin, const std::string& words,
              const Colour& colour, bool minor = false) {
  const auto same = std::find_if(scale.marks.begin(), scale.marks.end(),
                                 [&](const ScaleMark& other) { return other.words == words; });
  if (kelvin && same == scale.marks.end()) {
    scale.marks.push_back({words, celsius(*kelvin), colour, minor});
  }
}

}  // namespace

Scale temperature_scale(const std::optional<TemperatureRange>& range) {
  if (range) {
    return even_scale(temperature_title, range->low, range->high,
                      round_length((range->high - range->low) / 10), heat_ramp);
  }
  struct Band {
    double from = 0;  // [degrees Celsius]
    double step = 0;  // [1] difference in colour
  };
  static constexpr Band bands[] = {{20, 5},    {50, 5},    {100, 5},   {150, 5},   {200, 8},
                                   {300, 8},   {400, 8},   {500, 8},   {600, 8},   {700, 8},
                                   {800, 12},  {900, 12},  {1000, 12}, {1100, 12}, {1200, 12},
                                   {1300, 12}, {1400, 12}, {1500, 12}, {1600, 10}, {1800, 10},
                                   {2000, 10}, {2200, 10}, {2500, 10}};
  Scale scale{temperature_title, {}, {}};
  std::vector<double> steps;
  for (const Band& band : bands) {
    scale.edges.push_back(band.from);
    steps.push_back(band.step);
  }
  scale.edges.push_back(3000);
  scale.colours = heat_ramp(steps);
  return scale;
}

Scale temperature_scale(const StoredRun& run, const std::optional<TemperatureRange>& range) {
  Scale scale = temperature_scale(range);
  std::vector<std::uint8_t> metals = sheets_of(run);
  metals.push_back(electrode_of(run));
  for (const std::uint8_t metal : metals) {
    const std::string name = name_of(run, metal);
    add_mark(scale, sheet_number(run, metal, "solidus"), name + " melts", palette::ink);
    add_mark(scale, sheet_number(run, metal, "boiling"), name + " boils", palette::quiet_ink, true);
  }
  const auto layers = layers_of(run);
  for (std::size_t n = 0; n <= layers.size(); ++n) {
    const std::string name = n == 0 ? wall_name(run) : name_of(run, layers[n - 1]);
    add_mark(scale, cell_side_limit(run, n), name + " limit", palette::bad);
    if (n > 0) {
      add_mark(scale, scalar_of(run, fmt::format("cell_side_{}_melting", n)), name + " melts",
               palette::quiet_ink, true);
    }
  }
  return scale;
}

namespace {

// Over as many decades as differ visibly, in steps of 1, 2 and 5.
Scale current_density_scale(double largest) {
  Scale scale{field_title(Field::current_density), {0}, {}};
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
  scale.colours = current_density_ramp(scale.edges.size() - 1);
  return scale;
}

}  // namespace

Scale scale_for(Field field, double largest) {
  if (field == Field::current_density) return current_density_scale(largest);
  if (field == Field::liquid_fraction) {
    return even_scale(field_title(field), 0, 1, 0.1, liquid_ramp);
  }
  const double top = std::max(largest, 1e-6);
  return even_scale(field_title(field), 0, top, round_length(top / 5), potential_ramp);
}

}  // namespace tabmelt::pictures
