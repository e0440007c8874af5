#include "io/result/history_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <limits>

namespace tabmelt {
namespace {

struct Fixed {
  const char* name;
  const char* units;
  const char* long_name;
  double StepRecord::*value;
};

constexpr Fixed fixed_columns[] = {
    {"time", "s", "time at the end of the step", &StepRecord::time},
    {"step", "s", "length of the step", &StepRecord::step},
    {"current", "A", "current in the loop", &StepRecord::current},
    {"source_voltage", "V", "source voltage behind its internal resistance",
     &StepRecord::source_voltage},
    {"load_voltage", "V", "voltage over all spots of the loop", &StepRecord::load_voltage},
    {"load_resistance", "ohm", "resistance of all spots; 0 without current",
     &StepRecord::load_resistance},
    {"tip_resistance", "ohm", "contact of electrode and strip, one spot",
     &StepRecord::tip_resistance},
    {"faying_resistance", "ohm", "contact of strip and can, one spot",
     &StepRecord::faying_resistance},
    {"tip_voltage", "V", "largest local contact voltage, electrode and strip",
     &StepRecord::tip_voltage},
    {"faying_voltage", "V", "largest local contact voltage, strip and can",
     &StepRecord::faying_voltage},
    {"can_share", "1", "part of the current that crosses the faying surface",
     &StepRecord::can_share},
    {"force", "N", "force per electrode, after blow-off", &StepRecord::force},
    {"tip_true_area", "m2", "metal touching metal, electrode on strip", &StepRecord::tip_true_area},
    {"faying_true_area", "m2", "metal touching metal, strip on can", &StepRecord::faying_true_area},
    {"peak_temperature", "K", "hottest cell", &StepRecord::peak_temperature},
    {"tip_temperature", "K", "hottest point of the electrode face", &StepRecord::tip_temperature},
    {"strip_top_temperature", "K", "hottest point of the strip's upper surface",
     &StepRecord::strip_top_temperature},
    {"faying_temperature", "K", "hottest faying point, cooler side",
     &StepRecord::faying_temperature},
    {"strip_temperature", "K", "hottest of the strip", &StepRecord::strip_temperature},
    {"can_temperature", "K", "hottest of the can", &StepRecord::can_temperature},
    {"inner_wall_temperature", "K", "hottest point of the can's inner surface",
     &StepRecord::inner_wall_temperature},
    {"nugget_diameter", "m", "diameter of the faying area molten on both sides now",
     &StepRecord::nugget_diameter},
    {"strip_penetration", "m", "melt depth above the faying surface",
     &StepRecord::strip_penetration},
    {"can_penetration", "m", "melt depth below the faying surface", &StepRecord::can_penetration},
    {"energy_in", "J", "energy delivered to one spot so far", &StepRecord::energy_in},
    {"energy_stored", "J", "energy in the metal of one spot, latent heat included",
     &StepRecord::energy_stored},
    {"energy_out", "J", "energy conducted out of the ends", &StepRecord::energy_out},
    {"energy_expelled", "J", "energy carried off as sparks", &StepRecord::energy_expelled},
    {"energy_residual", "J", "energy the books miss", &StepRecord::energy_residual},
};

// Of the other tip, where one lands after the other.
constexpr Fixed other_columns[] = {
    {"other_force", "N", "force of the other electrode, after blow-off", &StepRecord::other_force},
    {"other_resistance", "ohm", "resistance of the other spot", &StepRecord::other_resistance},
    {"other_tip_resistance", "ohm", "contact of the other electrode and strip",
     &StepRecord::other_tip_resistance},
    {"other_tip_voltage", "V", "largest local contact voltage of the other electrode and strip",
     &StepRecord::other_tip_voltage},
    {"other_tip_true_area", "m2", "metal touching metal, other electrode on strip",
     &StepRecord::other_tip_true_area},
    {"other_energy_expelled", "J", "energy carried off as sparks at the other spot",
     &StepRecord::other_energy_expelled},
};

struct FixedCount {
  const char* name;
  const char* long_name;
  int StepRecord::*value;
};

constexpr FixedCount fixed_counts[] = {
    {"newton_iterations", "iterations of the enthalpy solve", &StepRecord::newton_iterations},
    {"coupling_iterations", "iterations of contacts and potential",
     &StepRecord::coupling_iterations},
    {"linear_iterations", "iterations of the linear solves", &StepRecord::linear_iterations},
};

double entry(const std::vector<double>& list, std::size_t n) {
  return n < list.size() ? list[n] : std::numeric_limits<double>::quiet_NaN();
}

std::string csv_field(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

}  // namespace

std::string dataset_name(const std::string& wanted, const std::vector<std::string>& taken) {
  std::string name = wanted;
  for (char& c : name) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       c == '_' || c == '-';
    if (!plain) c = '_';
  }
  const auto is_taken = [&](const std::string& candidate) {
    return std::find(taken.begin(), taken.end(), candidate) != taken.end();
  };
  std::string free = name;
  for (int n = 2; is_taken(free); ++n) free = fmt::format("{}_{}", name, n);
  return free;
}

std::vector<HistoryColumn> history_columns(const Result& run) {
  std::vector<HistoryColumn> columns;
  const auto add_fixed = [&columns](const Fixed& column) {
    columns.push_back({column.name, column.name, column.units, column.long_name,
                       [value = column.value](const StepRecord& step) { return step.*value; }});
  };
  for (const Fixed& column : fixed_columns) add_fixed(column);
  for (const FixedCount& column : fixed_counts) {
    columns.push_back({column.name, column.name, "1", column.long_name,
                       [value = column.value](const StepRecord& step) {
                         return static_cast<double>(step.*value);
                       }});
  }
  if (run.landings.size() > 1)
    for (const Fixed& column : other_columns) add_fixed(column);
  std::vector<std::string> taken;
  for (const auto& column : columns) taken.push_back(column.name);
  const auto add = [&](const std::string& kind, const std::string& name,
                       const std::string& long_name, std::vector<double> StepRecord::*list,
                       std::size_t n) {
    taken.push_back(dataset_name(kind + "_" + name, taken));
    columns.push_back({taken.back(), kind + " " + name, "K", long_name,
                       [list, n](const StepRecord& step) { return entry(step.*list, n); }});
  };
  for (std::size_t n = region::inner_first; n < run.region_names.size(); ++n) {
    add("layer", run.region_names[n], "hottest point of the layer " + run.region_names[n],
        &StepRecord::layer_temperature, n - region::inner_first);
  }
  for (std::size_t n = 0; n < run.probe_names.size(); ++n) {
    add("probe", run.probe_names[n], "temperature at the probe " + run.probe_names[n],
        &StepRecord::probes, n);
  }
  return columns;
}

std::string history_csv(const std::vector<HistoryColumn>& columns,
                        const std::vector<StepRecord>& history) {
  fmt::memory_buffer table;
  auto out = std::back_inserter(table);
  const auto write_row = [&](const auto& field_of) {
    for (std::size_t n = 0; n < columns.size(); ++n) {
      fmt::format_to(out, "{}{}", n ? "," : "", field_of(columns[n]));
    }
    fmt::format_to(out, "\n");
  };
  write_row([](const HistoryColumn& column) {
    return csv_field(fmt::format("{} [{}]", column.heading, column.units));
  });
  for (const StepRecord& step : history) {
    write_row(
        [&](const HistoryColumn& column) { return fmt::format("{:.9g}", column.value(step)); });
  }
  return fmt::to_string(table);
}

}  // namespace tabmelt
