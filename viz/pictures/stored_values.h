// Numbers and words looked up in a stored run. Whatever a run does not hold comes back empty, so
// that a picture shows what is there.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "solver/result/stored_run.h"

namespace tabmelt::pictures {

double celsius(double kelvin);
// "0.85 mm"
std::string millimetre_words(double metres);

std::string title_of(const StoredRun&);
std::string verdict_of(const StoredRun&);

// Values over time; empty if missing or not as long as "time".
const std::vector<double>& series_of(const StoredRun&, std::string_view name);
std::optional<double> scalar_of(const StoredRun&, const std::string& name);
// Linear between the steps; empty outside the run.
std::optional<double> value_at(const StoredRun&, const std::string& name, double time);

struct Peak {
  double value = 0;
  double time = 0;  // [s]
};
// Largest finite value of a series.
std::optional<Peak> peak_of(const StoredRun&, const std::string& name);

// Hottest allowed [K]: layer 0 is the can's inner wall, n the n-th layer inside the cell.
std::optional<double> cell_side_limit(const StoredRun&, std::size_t layer);
std::optional<double> inner_wall_limit(const StoredRun&);

// Number of the time nearest to one, of at least one.
std::size_t nearest(const std::vector<double>& times, double time);
// Number of the frame nearest to a time. Throws PictureError if there are no frames.
std::size_t nearest_frame(const StoredRun&, double time);
// Throws PictureError if the frame cannot be read or does not fit the mesh.
Frame frame_of(const StoredRun&, std::size_t number);

// Hottest value each cell reached [K]: the stored one or, in a run cut short, that of its frames.
std::vector<float> peak_temperature_of(const StoredRun&);
// Largest liquid fraction of each cell, likewise.
std::vector<float> peak_liquid_of(const StoredRun&);
// Coldest temperature of the first frame [K].
double ambient_of(const StoredRun&);

// Largest size of the current [A].
double largest_current(const StoredRun&);
// First time a series passes a threshold.
std::optional<double> first_above(const StoredRun&, const std::string& name, double threshold);
// Last time more than a share of the peak current flows [s]; the whole run without a current.
double pulse_end_of(const StoredRun&, double share = 0.01);

struct Moment {
  std::string name;  // "peak current"; several joined by ", " where they fall on one frame
  std::size_t frame = 0;
};
// First heat, peak current, first melt, largest nugget (hottest joint if nothing melts), hottest
// inner wall: each at its nearest frame, in order of time.
std::vector<Moment> telling_moments(const StoredRun&);

}  // namespace tabmelt::pictures
