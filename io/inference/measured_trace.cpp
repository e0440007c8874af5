#include "io/inference/measured_trace.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "io/case/complaint_log.h"
#include "io/case/units.h"
#include "io/inference/csv_rows.h"

namespace tabmelt {
namespace {

using inference::Channel;
using inference::Signal;

constexpr std::uintmax_t largest_trace = 200'000'000;  // [bytes]
constexpr std::size_t most_complaints = 5;
constexpr std::size_t least_points = 10;

constexpr Channel all_channels[] = {Channel::current, Channel::tip_voltage,
                                    Channel::source_voltage};

constexpr const char* wanted_headings =
    "the first line must name the columns with their units: time [ms] and any of current [A], tip "
    "voltage [V], source voltage [V]";

// Units are linear, so that a million cells need no text.
struct Column {
  std::size_t index = 0;
  double factor = 1;
};

class Reader {
 public:
  explicit Reader(const std::filesystem::path& file) : text_(text_of(file, largest_trace)) {
    trace_.file = file;
  }

  MeasuredTrace read() {
    std::size_t rows = 0;
    try {
      divider_ = read_csv(text_, [&](CsvRow& row) {
        if (rows++ == 0) return take_headings(row);
        take(row);
        return complaints_.size() < most_complaints;
      });
    } catch (const std::runtime_error& error) {
      complain(0, error.what());
    }
    if (rows == 0) complain(0, std::string("the file is empty; ") + wanted_headings);
    if (complaints_.empty()) check();
    if (!complaints_.empty()) throw InputError(std::move(complaints_));
    return std::move(trace_);
  }

 private:
  void complain(int line, const std::string& message, const std::string& excerpt = "") {
    complaints_.push_back({trace_.file.string(), line, excerpt, message});
  }

  std::optional<Column> column(const std::vector<std::string>& cells, const std::string& name,
                               const char* unit, int line) {
    for (std::size_t n = 0; n < cells.size(); ++n) {
      const Heading heading = heading_of(cells[n]);
      if (heading.name != name) continue;
      if (heading.unit.empty()) {
        complain(line, fmt::format("column \"{}\" has no unit; write {} [{}]", cells[n], name,
                                   name == "time" ? "ms" : unit));
        return std::nullopt;
      }
      try {
        return Column{n, units::in_si(1.0, heading.unit, unit)};
      } catch (const units::UnitError& error) {
        complain(line, fmt::format("column \"{}\": the unit \"{}\" {}", cells[n], heading.unit,
                                   error.what()));
        return std::nullopt;
      }
    }
    return std::nullopt;
  }

  bool take_headings(const CsvRow& row) {
    // The divider is known only when all is read; the headings show it.
    for (const char c : {'\t', ';', ','})
      if (text_.substr(0, text_.find('\n', text_.find(row.cells.front()))).find(c) !=
          std::string::npos) {
        divider_ = c;
        break;
      }
    headings_ = row.cells.size();
    if (const auto time = column(row.cells, "time", "s", row.line))
      time_ = *time;
    else if (complaints_.empty())
      complain(row.line, wanted_headings);
    for (const Channel channel : all_channels)
      if (const auto found =
              column(row.cells, words(channel), unit_of(channel).c_str(), row.line)) {
        columns_.push_back(*found);
        trace_.channels.emplace_back(channel, Signal{});
      }
    if (columns_.empty() && complaints_.empty()) complain(row.line, wanted_headings);
    missing_.assign(columns_.size(), 0);
    return complaints_.empty();
  }

  // Nothing after a complaint, or for a value that is missing.
  std::optional<double> value(const CsvRow& row, const Column& at, const char* what) {
    if (at.index >= row.cells.size() || is_blank(row.cells[at.index])) return std::nullopt;
    const std::string& cell = row.cells[at.index];
    const auto number = number_in(cell, divider_);
    if (!number) {
      complain(row.line, fmt::format("\"{}\" is no number ({})", cell, what));
      return std::nullopt;
    }
    return std::isfinite(*number) ? std::optional(*number * at.factor) : std::nullopt;
  }

  void take(const CsvRow& row) {
    if (divider_ == ',' && row.cells.size() > headings_) {
      complain(row.line,
               fmt::format("has {} columns where the first line has {}: if these are decimal "
                           "commas, divide the columns by semicolons or tabs, or write points",
                           row.cells.size(), headings_));
      return;
    }
    const std::size_t before = complaints_.size();
    const auto time = value(row, time_, "time");
    if (complaints_.size() > before) return;
    if (!time) {
      ++timeless_;
      return;
    }
    if (any_ && *time <= trace_.to) {
      complain(row.line, fmt::format("has a time that is not after the one before it ({:.9g} s "
                                     "after {:.9g} s)",
                                     *time, trace_.to));
      return;
    }
    if (!any_) trace_.from = *time;
    any_ = true;
    trace_.to = *time;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
      const auto y = value(row, columns_[c], words(trace_.channels[c].first).c_str());
      if (!y) {
        ++missing_[c];
        continue;
      }
      trace_.channels[c].second.time.push_back(*time);
      trace_.channels[c].second.value.push_back(*y);
    }
  }

  void check() {
    if (timeless_ > 0)
      trace_.notes.push_back(fmt::format("{} lines have no time and were left out", timeless_));
    for (std::size_t c = 0; c < columns_.size(); ++c) {
      const std::size_t there = trace_.channels[c].second.time.size();
      const std::string name = words(trace_.channels[c].first);
      if (there < least_points) {
        complain(0,
                 fmt::format("{}: {} values; a fit needs at least {}", name, there, least_points));
        continue;
      }
      if (missing_[c] > 0)
        trace_.notes.push_back(
            fmt::format("{}: {} of {} values are missing (blank or not a number); the others count",
                        name, missing_[c], missing_[c] + there));
    }
  }

  std::string text_;
  MeasuredTrace trace_;
  char divider_ = ',';
  std::size_t headings_ = 0, timeless_ = 0;
  bool any_ = false;
  Column time_;
  std::vector<Column> columns_;
  std::vector<std::size_t> missing_;
  std::vector<Complaint> complaints_;
};

void turn_round(Signal& signal) {
  for (double& v : signal.value) v = -v;
}

}  // namespace

std::string words(Channel channel) {
  switch (channel) {
    case Channel::current:
      return "current";
    case Channel::tip_voltage:
      return "tip voltage";
    case Channel::source_voltage:
      break;
  }
  return "source voltage";
}

std::string unit_of(Channel channel) { return channel == Channel::current ? "A" : "V"; }

MeasuredTrace read_trace(const std::filesystem::path& file) { return Reader(file).read(); }

inference::Record recorded(MeasuredTrace& trace) {
  inference::Record record{trace.file.filename().string(), {}};
  std::vector<Complaint> complaints;
  for (auto& [channel, signal] : trace.channels) {
    const std::string name = words(channel);
    for (const auto& [from, to] : inference::gaps(signal))
      trace.notes.push_back(
          fmt::format("{}: nothing recorded from {:.4g} ms to {:.4g} ms; the fit does not bridge "
                      "the gap",
                      name, from * 1e3, to * 1e3));
    try {
      if (channel != Channel::source_voltage && inference::trigger_of(signal, true).height < 0) {
        turn_round(signal);
        trace.notes.push_back(name + ": recorded upside down; its sign was turned");
      }
      record.channels.push_back(inference::recorded(channel, signal));
    } catch (const std::invalid_argument& error) {
      complaints.push_back({trace.file.string(), 0, "", fmt::format("{}: {}", name, error.what())});
      continue;
    }
    const inference::RecordedChannel& c = record.channels.back();
    if (!c.trigger.has_base)
      trace.notes.push_back(name +
                            ": the record begins within the pulse; let it begin a millisecond "
                            "earlier, so that zero is seen");
    if (c.samples.size() < c.points)
      trace.notes.push_back(
          fmt::format("{}: {} values drawn together into {} means, which hold the "
                      "same charge",
                      name, c.points, c.samples.size()));
  }
  if (!complaints.empty()) throw InputError(std::move(complaints));
  return record;
}

}  // namespace tabmelt
