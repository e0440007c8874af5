#include "io/study/study_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "solver/study/judged_run.h"

namespace tabmelt {
namespace {

constexpr Outcome outcomes[] = {Outcome::no_bond,
                                Outcome::stuck,
                                Outcome::small_nugget,
                                Outcome::fused,
                                Outcome::surface_sparking,
                                Outcome::expulsion,
                                Outcome::electrode_sticking,
                                Outcome::strip_burn_through,
                                Outcome::can_puncture,
                                Outcome::cell_overheated};

std::string csv_cell(const std::string& text) {
  if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + "\"";
}

std::string state_words(const study::Judged& run) {
  return run.state == study::State::computed ? run.verdict : study::region_of(run);
}

}  // namespace

std::string region_words(const std::string& region) {
  for (const Outcome outcome : outcomes)
    if (key(outcome) == region) return words(outcome);
  if (region == "not_computed") return "could not be computed";
  return region == "not_run" ? "not computed yet" : region;
}

std::string share_words(double share) {
  if (share > 0 && share < 0.005) return "< 1 %";
  if (share < 1 && share > 0.995) return "> 99 %";
  return fmt::format("{:.0f} %", 100 * share);
}

std::string chance_words(const study::Chance& chance) {
  return fmt::format("{} ({:.0f} to {:.0f} %)", share_words(chance.value), 100 * chance.low,
                     100 * chance.high);
}

std::string margin_words(double margin) {
  if (margin >= farthest_margin) return "> +999 %";
  if (margin <= -farthest_margin) return "< -999 %";
  return fmt::format("{:+.0f} %", 100 * margin);
}

std::vector<std::size_t> largest_first(const std::vector<double>& values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return values[a] > values[b]; });
  return order;
}

std::string csv_line(const std::vector<std::string>& cells) {
  std::string line;
  for (std::size_t n = 0; n < cells.size(); ++n) line += (n > 0 ? "," : "") + csv_cell(cells[n]);
  return line + "\n";
}

std::string runs_csv(const std::vector<Knob>& knobs, const std::vector<study::Point>& points,
                     const std::vector<study::Judged>& runs) {
  std::vector<std::string> head;
  for (const Knob& knob : knobs) head.push_back(fmt::format("{} [{}]", knob.key, knob.unit()));
  for (const char* name : {"verdict", "good", "margin [1]"}) head.emplace_back(name);
  for (const StudiedQuantity& q : studied_quantities())
    head.push_back(fmt::format("{} [{}]", q.key, q.unit));
  std::string text = csv_line(head);
  for (std::size_t n = 0; n < runs.size(); ++n) {
    std::vector<std::string> cells;
    for (std::size_t k = 0; k < knobs.size(); ++k)
      cells.push_back(fmt::format("{:.9g}", knobs[k].in_unit(points[n][k])));
    const study::Judged& run = runs[n];
    const bool computed = run.state == study::State::computed;
    cells.push_back(state_words(run));
    cells.emplace_back(computed ? (run.good ? "1" : "0") : "");
    cells.push_back(computed ? fmt::format("{:.6g}", run.margin) : "");
    for (std::size_t q = 0; q < studied_quantities().size(); ++q)
      cells.push_back(q < run.numbers.size() ? fmt::format("{:.9g}", run.numbers[q]) : "");
    text += csv_line(cells);
  }
  return text;
}

}  // namespace tabmelt
