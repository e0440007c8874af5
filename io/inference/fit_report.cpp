#include "io/inference/fit_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/case/units.h"
#include "io/report/utc_date.h"
#include "io/study/study_words.h"
#include "solver/words/in_words.h"

namespace tabmelt {

using namespace report;
namespace {

using inference::FittedChannel;
using inference::FittedRecord;
using inference::RecordedChannel;

// As many digits as the error leaves.
std::string number_words(double value, double error) {
  if (!(error > 0) || !std::isfinite(error)) return fmt::format("{:.4g}", value);
  const double digits = std::log10(std::max(std::abs(value), error) / error);
  return fmt::format("{:.{}g}", value, std::clamp(static_cast<int>(std::floor(digits)) + 3, 2, 9));
}

std::string joined(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t n = 0; n < names.size(); ++n)
    text += (n == 0 ? "" : n + 1 == names.size() ? " and " : ", ") + names[n];
  return text;
}

std::string channel_name(const FitAnswer& a, std::size_t record, std::size_t channel) {
  const FitRecord& r = a.study->records()[record];
  return fmt::format("{}, {}", r.record.name, words(r.record.channels[channel].channel));
}

Section values_section(const FitAnswer& a) {
  Table table({{"key"},
               {"found", Align::right},
               {"standard error", Align::right},
               {"case had", Align::right},
               {"note"}});
  for (std::size_t i = 0; i < a.fit.values.size(); ++i) {
    const FitUnknown& u = a.study->unknowns()[i];
    const std::string note = a.fit.at_bound[i]   ? "at the end of its range"
                             : is_doubtful(a, i) ? "not told by these records"
                             : u.given           ? ""
                                                 : "start worked out";
    table.add_row(
        {u.knob.key, fitted_value(a, i), fitted_error(a, i), u.knob.words(u.start), note});
  }
  return {"values", "What was found", {std::move(table)}};
}

std::optional<Section> correlation_section(const FitAnswer& a) {
  const std::size_t n = a.fit.values.size();
  if (n < 2) return std::nullopt;
  std::vector<Column> columns{{""}};
  for (std::size_t i = 0; i + 1 < n; ++i)
    columns.push_back({a.study->unknowns()[i].knob.key, Align::right});
  Table table(columns);
  for (std::size_t i = 1; i < n; ++i) {
    std::vector<Prose> row{a.study->unknowns()[i].knob.key};
    for (std::size_t j = 0; j + 1 < n; ++j)
      row.emplace_back(j < i ? fmt::format("{:+.2f}", a.fit.correlation(i, j)) : std::string());
    table.add_row(std::move(row));
  }
  return Section{"correlations",
                 "How they hang together",
                 {Prose("Correlations: near -1 only the sum of two is known well, near +1 their "
                        "difference."),
                  std::move(table)}};
}

Section match_section(const FitAnswer& a) {
  Table table({{"record"},
               {"noise", Align::right},
               {"chi^2 per value", Align::right},
               {"chance of size", Align::right},
               {"chance of order", Align::right},
               {"departs by", Align::right},
               {"left out", Align::right}});
  const auto chance = [](double p) {
    return p < 1e-3 ? std::string("< 0.001") : fmt::format("{:.3f}", p);
  };
  for (std::size_t r = 0; r < a.fit.records.size(); ++r)
    for (std::size_t c = 0; c < a.fit.records[r].channels.size(); ++c) {
      const FittedChannel& f = a.fit.records[r].channels[c];
      const RecordedChannel& in = a.study->records()[r].record.channels[c];
      const std::string unit = unit_of(in.channel);
      table.add_row({channel_name(a, r, c), fmt::format("{:.3g} {}", in.noise, unit),
                     fmt::format("{:.2f}", f.goodness.chi_square), chance(f.goodness.by_size),
                     chance(f.goodness.by_order),
                     fmt::format("{:.3g} {} ({:.2g} %)", f.departure, unit,
                                 100 * f.departure / std::abs(in.trigger.height)),
                     fmt::format("{} of {}", f.left_out, in.samples.size())});
    }
  return {"match",
          "Does the model match?",
          {Prose("Size: chance that noise alone leaves as much (chi-square over its estimate). "
                 "Order: chance of so few changes of sign (runs test), where the jumps of the "
                 "computation itself are below a fifth of the noise. Below 0.001 the model does "
                 "not match. Left out: values beside a jump, in the 0.1 ms after the switch opens "
                 "and after the end of the run."),
           std::move(table)}};
}

Section record_section(const FitAnswer& a) {
  Table table({{"record"},
               {"of"},
               {"trigger", Align::right},
               {"pulse begins", Align::right},
               {"zero", Align::right}});
  std::vector<std::string> notes;
  for (std::size_t r = 0; r < a.fit.records.size(); ++r) {
    const FitRecord& in = a.study->records()[r];
    const FittedRecord& f = a.fit.records[r];
    const RecordedChannel& first = in.record.channels.front();
    const std::string& of = in.study->asked().name;
    const std::string zero =
        f.channels.front().zero_known
            ? fmt::format("{:.3g} {}", f.channels.front().zero, unit_of(first.channel))
            : "not seen";
    table.add_row(
        {in.record.name,
         in.bare ? fmt::format("{}, tips on a bar of {:.3g} mohm", of, in.bar_resistance * 1e3)
                 : of,
         fmt::format("{:.3g} {} at {:.5g} ms", first.trigger.level, unit_of(first.channel),
                     first.trigger.on * 1e3),
         fmt::format("{:.5g} ms \u00b1 {:.2g} us", f.shift * 1e3, f.shift_error * 1e6), zero});
    for (const std::string& note : in.trace.notes) notes.push_back(in.record.name + ": " + note);
  }
  if (a.fit.scale_error > 0)
    notes.push_back(
        fmt::format("The current reads {:+.2f} % \u00b1 {:.2g} % too large; its calibration alone "
                    "says 0 \u00b1 {:.2g} %.",
                    100 * a.fit.scale, 100 * a.fit.scale_error, 100 * a.scale_error));
  Section section{"records", "The records", {std::move(table)}};
  if (!notes.empty()) section.blocks.emplace_back(Bullets{{notes.begin(), notes.end()}});
  return section;
}

}  // namespace

std::string fitted_value(const FitAnswer& a, std::size_t i) {
  const Knob& knob = a.study->unknowns()[i].knob;
  const std::string number =
      number_words(knob.in_unit(a.fit.values[i]), knob.difference_in_unit(a.fit.errors[i]));
  return knob.unit() == "1" ? number : number + " " + knob.unit();
}

std::string fitted_error(const FitAnswer& a, std::size_t i) {
  const Knob& knob = a.study->unknowns()[i].knob;
  if (!std::isfinite(a.fit.errors[i])) return "unknown";
  return knob.difference_words(a.fit.errors[i], 2);
}

bool is_doubtful(const FitAnswer& a, std::size_t i) {
  const auto named = [i](const std::vector<std::size_t>& group) {
    return std::find(group.begin(), group.end(), i) != group.end();
  };
  return a.fit.at_bound[i] || !std::isfinite(a.fit.errors[i]) ||
         std::any_of(a.fit.cannot_tell.begin(), a.fit.cannot_tell.end(), named);
}

std::vector<std::string> fit_remarks(const FitAnswer& a) {
  std::vector<std::string> list;
  const std::string these = a.fit.records.size() == 1 ? "This trace" : "These traces";
  if (!a.fit.matches)
    list.push_back(
        fmt::format("The model does not match: something of this welder is not in the case, or "
                    "another key than the named ones is off. The standard errors were multiplied "
                    "by {:.2g}; they still take the model for granted. Look at the picture where "
                    "it departs.",
                    a.fit.stretch));
  const auto& records = a.study->records();
  if (std::any_of(records.begin(), records.end(), [](const FitRecord& r) { return !r.bare; }))
    list.push_back(
        "The standard errors hold the noise of the trace and the jumps of the computation, not "
        "what "
        "a model leaves out of a weld.");
  if (a.fit.scale_error > 0)
    list.push_back(fmt::format(
        "The errors hold a scale of the current that is known within {:.2g} %: resistances, "
        "inductance and capacitance may be off together.",
        100 * a.scale_error));
  if (!a.fit.converged) list.push_back("The search did not settle: " + a.fit.message);
  for (const auto& group : a.fit.cannot_tell) {
    std::vector<std::string> names;
    for (const std::size_t i : group) names.push_back(a.study->unknowns()[i].knob.key);
    if (names.size() == 1)
      list.push_back(
          fmt::format("{} cannot tell {}: it leaves no trace of its own.", these, names.front()));
    else
      list.push_back(
          fmt::format("{} cannot tell {} apart: what one takes the others give. Hold all "
                      "but one at a measured value, or add a record into a dead short "
                      "(--short) or another channel.",
                      these, joined(names)));
  }
  const auto n = a.fit.values.size();
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < i; ++j)
      if (std::abs(a.fit.correlation(i, j)) > 0.95 && !is_doubtful(a, i) && !is_doubtful(a, j))
        list.push_back(fmt::format(
            "{} and {} are hard to tell apart (correlation {:+.3f}); their {} is known better than "
            "either.",
            a.study->unknowns()[j].knob.key, a.study->unknowns()[i].knob.key,
            a.fit.correlation(i, j), a.fit.correlation(i, j) < 0 ? "sum" : "difference"));
  for (std::size_t i = 0; i < a.fit.values.size(); ++i)
    if (a.fit.at_bound[i])
      list.push_back(
          fmt::format("{} ended at the end of its range.", a.study->unknowns()[i].knob.key));
  return list;
}

std::string fit_sentence(const FitAnswer& a) {
  if (!a.fit.computed)
    return "Nothing was fitted: the case cannot be computed at its own values, or the study was "
           "stopped.";
  std::string found;
  for (std::size_t i = 0; i < a.fit.values.size() && i < 3; ++i)
    found += fmt::format("{}{} {} \u00b1 {}", i == 0 ? "" : ", ", a.study->unknowns()[i].knob.key,
                         fitted_value(a, i), fitted_error(a, i));
  return (a.fit.matches ? "The model matches: " : "The model does NOT match. Nearest to it: ") +
         found + (a.fit.values.size() > 3 ? ", and more below." : ".");
}

Document fit_report(const FitAnswer& a) {
  Document document;
  document.title = a.title + ": what the traces say";
  document.good = a.fit.computed && a.fit.matches;
  document.outcome = !a.fit.computed ? "not fitted" : a.fit.matches ? "matches" : "does not match";
  document.sentence = fit_sentence(a);
  if (!a.fit.computed) return document;
  const std::vector<std::string> remarks = fit_remarks(a);
  document.notes.assign(remarks.begin(), remarks.end());
  document.sections = {values_section(a)};
  if (auto correlations = correlation_section(a))
    document.sections.push_back(std::move(*correlations));
  document.sections.push_back(match_section(a));
  document.sections.push_back(record_section(a));
  return document;
}

std::string fit_csv(const FitAnswer& a) {
  std::string text =
      csv_line({"record", "channel", "time [s]", "recorded", "fitted", "residual over noise [1]"});
  for (std::size_t r = 0; r < a.fit.records.size(); ++r)
    for (std::size_t c = 0; c < a.fit.records[r].channels.size(); ++c) {
      const RecordedChannel& in = a.study->records()[r].record.channels[c];
      const FittedChannel& f = a.fit.records[r].channels[c];
      const std::string name = fmt::format("{} [{}]", words(in.channel), unit_of(in.channel));
      for (std::size_t k = 0; k < in.samples.size(); ++k)
        text += csv_line(
            {a.study->records()[r].record.name, name, fmt::format("{:.9g}", in.samples[k].middle()),
             fmt::format("{:.7g}", in.samples[k].value - f.zero), fmt::format("{:.7g}", f.model[k]),
             f.residuals[k] == 0 ? "" : fmt::format("{:.4g}", f.residuals[k])});
    }
  return text;
}

Learnt fit_as_learnt(const FitAnswer& a) {
  Learnt learnt;
  std::vector<std::string> names;
  for (const FitRecord& record : a.study->records()) names.push_back(record.record.name);
  learnt.about = fmt::format("fitted to {} on {}", joined(names), utc_date());
  if (!a.fit.matches) learnt.about += ", but the model does not match";
  for (std::size_t i = 0; i < a.fit.values.size(); ++i) {
    if (is_doubtful(a, i)) continue;
    const Knob& knob = a.study->unknowns()[i].knob;
    learnt.values.push_back({knob.key, knob.at(a.fit.values[i]).value,
                             "normal " + knob.difference_words(a.fit.errors[i], 3), 0});
  }
  return learnt;
}

}  // namespace tabmelt
