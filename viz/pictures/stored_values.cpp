#include "viz/pictures/stored_values.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <exception>
#include <limits>

#include "solver/words/in_words.h"
#include "viz/drawing/page.h"

namespace tabmelt::pictures {

namespace {

std::string first_line(const std::string& words) { return words.substr(0, words.find('\n')); }

std::string text_of(const StoredRun& run, const std::string& name) {
  const auto found = run.texts.find(name);
  return found == run.texts.end() ? std::string() : first_line(found->second);
}

// Largest value each cell reached in any frame of one field.
std::vector<float> largest_over_frames(const StoredRun& run, std::vector<float> Frame::*field) {
  std::vector<float> largest;
  for (std::size_t n = 0; n < run.frame_times.size(); ++n) {
    const Frame frame = frame_of(run, n);
    const std::vector<float>& now = frame.*field;
    if (largest.empty()) {
      largest = now;
    } else if (now.size() == largest.size()) {
      std::transform(now.begin(), now.end(), largest.begin(), largest.begin(),
                     [](float a, float b) { return std::max(a, b); });
    }
  }
  return largest;
}

}  // namespace

double celsius(double kelvin) { return kelvin - 273.15; }

std::string millimetre_words(double metres) {
  return metres > 0 ? in_words::length(metres) : std::string("none");
}

std::string title_of(const StoredRun& run) {
  if (!run.title.empty()) {
    return run.title;
  }
  const std::string title = text_of(run, "title");
  return title.empty() ? "Weld without a name" : title;
}

std::string verdict_of(const StoredRun& run) {
  const std::string verdict = text_of(run, "verdict");
  return verdict.empty() ? "No verdict stored." : verdict;
}

const std::vector<double>& series_of(const StoredRun& run, std::string_view name) {
  static const std::vector<double> nothing;
  const auto time = run.series.find("time");
  const auto found = run.series.find(std::string(name));
  if (time == run.series.end() || found == run.series.end() ||
      found->second.size() != time->second.size()) {
    return nothing;
  }
  return found->second;
}

std::optional<double> scalar_of(const StoredRun& run, const std::string& name) {
  const auto found = run.scalars.find(name);
  if (found == run.scalars.end() || !std::isfinite(found->second)) {
    return std::nullopt;
  }
  return found->second;
}

std::optional<double> value_at(const StoredRun& run, const std::string& name, double time) {
  const std::vector<double>& times = series_of(run, "time");
  const std::vector<double>& values = series_of(run, name);
  if (values.empty() || time < times.front() || time > times.back()) {
    return std::nullopt;
  }
  const auto next = std::lower_bound(times.begin(), times.end(), time) - times.begin();
  const auto k = static_cast<std::size_t>(next);
  if (k == 0) {
    return values[0];
  }
  const double share = (time - times[k - 1]) / (times[k] - times[k - 1]);
  const double value = std::lerp(values[k - 1], values[k], share);
  return std::isfinite(value) ? std::optional<double>(value) : std::nullopt;
}

std::optional<Peak> peak_of(const StoredRun& run, const std::string& name) {
  const std::vector<double>& values = series_of(run, name);
  const std::vector<double>& time = series_of(run, "time");
  std::optional<Peak> peak;
  for (std::size_t k = 0; k < values.size(); ++k) {
    if (std::isfinite(values[k]) && (!peak || values[k] > peak->value)) {
      peak = Peak{values[k], time[k]};
    }
  }
  return peak;
}

std::optional<double> cell_side_limit(const StoredRun& run, std::size_t layer) {
  std::optional<double> limit = scalar_of(run, fmt::format("cell_side_{}_limit", layer));
  if (!limit && layer == 0) {
    limit = scalar_of(run, "inner_wall_limit");
  }
  return limit && *limit > 0 ? limit : std::nullopt;
}

std::optional<double> inner_wall_limit(const StoredRun& run) { return cell_side_limit(run, 0); }

std::size_t nearest(const std::vector<double>& times, double time) {
  const auto found = std::min_element(times.begin(), times.end(), [time](double a, double b) {
    return std::abs(a - time) < std::abs(b - time);
  });
  return static_cast<std::size_t>(found - times.begin());
}

std::size_t nearest_frame(const StoredRun& run, double time) {
  if (run.frame_times.empty()) {
    throw drawing::PictureError("the result holds no frames to draw");
  }
  return nearest(run.frame_times, time);
}

Frame frame_of(const StoredRun& run, std::size_t number) {
  if (!run.frame || number >= run.frame_times.size()) {
    throw drawing::PictureError("the result holds no frames to draw");
  }
  Frame frame;
  try {
    frame = run.frame(number);
  } catch (const std::exception& trouble) {
    throw drawing::PictureError(fmt::format("frame {} cannot be read: {}", number, trouble.what()));
  }
  if (frame.temperature.size() != run.region.size()) {
    throw drawing::PictureError(
        fmt::format("frame {} does not fit the mesh of the result", number));
  }
  return frame;
}

std::vector<float> peak_temperature_of(const StoredRun& run) {
  return run.peak_temperature.size() == run.region.size()
             ? run.peak_temperature
             : largest_over_frames(run, &Frame::temperature);
}

std::vector<float> peak_liquid_of(const StoredRun& run) {
  return run.peak_liquid_fraction.size() == run.region.size()
             ? run.peak_liquid_fraction
             : largest_over_frames(run, &Frame::liquid_fraction);
}

double ambient_of(const StoredRun& run) {
  const Frame first = frame_of(run, 0);
  return *std::min_element(first.temperature.begin(), first.temperature.end());
}

double largest_current(const StoredRun& run) {
  double largest = 0;
  for (const double value : series_of(run, "current")) {
    largest = std::max(largest, std::abs(value));
  }
  return largest;
}

std::optional<double> first_above(const StoredRun& run, const std::string& name, double threshold) {
  const std::vector<double>& values = series_of(run, name);
  const std::vector<double>& time = series_of(run, "time");
  for (std::size_t k = 0; k < values.size(); ++k) {
    if (values[k] > threshold) {
      return time[k];
    }
  }
  return std::nullopt;
}

double pulse_end_of(const StoredRun& run, double share) {
  const std::vector<double>& time = series_of(run, "time");
  if (time.empty()) {
    return run.frame_times.empty() ? 0 : run.frame_times.back();
  }
  const std::vector<double>& current = series_of(run, "current");
  const double largest = largest_current(run);
  for (std::size_t k = current.size(); k-- > 0;) {
    if (largest > 0 && std::abs(current[k]) > share * largest) {
      return time[std::min(k + 1, time.size() - 1)];
    }
  }
  return time.back();
}

std::vector<Moment> telling_moments(const StoredRun& run) {
  std::vector<Moment> moments;
  const auto add = [&](std::size_t frame, const std::string& name) {
    const auto same = std::find_if(moments.begin(), moments.end(),
                                   [&](const Moment& other) { return other.frame == frame; });
    if (same != moments.end()) {
      same->name += ", " + name;
    } else {
      moments.push_back({name, frame});
    }
  };
  // What begins shows in the first frame after it, what peaks in the nearest one.
  const auto add_begin = [&](std::optional<double> time, const std::string& name) {
    const auto frame = std::lower_bound(run.frame_times.begin(), run.frame_times.end(),
                                        time.value_or(std::numeric_limits<double>::infinity()));
    if (frame != run.frame_times.end()) {
      add(static_cast<std::size_t>(frame - run.frame_times.begin()), name);
    }
  };
  const auto add_peak = [&](const std::string& series, const std::string& name) {
    if (const auto peak = peak_of(run, series); peak && !run.frame_times.empty()) {
      add(nearest_frame(run, peak->time), name);
    }
  };
  if (const auto hottest = peak_of(run, "peak_temperature")) {
    const double ambient = series_of(run, "peak_temperature").front();
    add_begin(first_above(run, "peak_temperature", std::lerp(ambient, hottest->value, 0.1)),
              "first heat");
  }
  add_peak("current", "peak current");
  const auto nugget = peak_of(run, "nugget_diameter");
  if (nugget && nugget->value > 0) {
    add_begin(first_above(run, "nugget_diameter", 0), "first melt");
    add_peak("nugget_diameter", "largest nugget");
  } else {
    add_peak("faying_temperature", "hottest joint");
  }
  add_peak("inner_wall_temperature", "hottest inner wall");
  if (moments.empty() && !run.frame_times.empty()) {
    add(run.frame_times.size() - 1, "last moment");
  }
  std::sort(moments.begin(), moments.end(),
            [](const Moment& a, const Moment& b) { return a.frame < b.frame; });
  return moments;
}

}  // namespace tabmelt::pictures
