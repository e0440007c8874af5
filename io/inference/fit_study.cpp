#include "io/inference/fit_study.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "io/case/units.h"
#include "solver/solve.h"
#include "solver/study/pulse_trace.h"

namespace tabmelt {
namespace {

using inference::Unknown;
using study::Judged;
using study::Point;

constexpr const char* kind_of_run = "trace";
const std::string end_key = "numerics.end_time", step_key = "numerics.step_tolerance";

// The load of each step instead of a verdict.
Judged traced_run(const Problem& problem, Observer* observer) {
  const Result result = solve(problem, observer);
  Judged run;
  if (result.ending != Ending::finished) {
    run.state = result.ending == Ending::failed ? study::State::failed : study::State::not_run;
    run.reason = result.ending_reason;
    return run;
  }
  run.state = study::State::computed;
  run.numbers = load_history(result).flat();
  return run;
}

// A value that no point has, so that the knob is laid over every run.
Knob always_set(const std::string& key) {
  return {key, *address_of(key), std::numeric_limits<double>::quiet_NaN()};
}

std::optional<double> worked_out(const Case& read, const std::string& key) {
  const circuit::Circuit& c = read.problem.circuit;
  if (circuit::current_is_prescribed(c.source)) return std::nullopt;
  circuit::Circuit leads_alone;
  leads_alone.source = c.source;
  leads_alone.leads = c.leads;
  const circuit::LoopElements e = circuit::elements(leads_alone);
  if (key == "leads.resistance") return e.lead_resistance;
  if (key == "leads.inductance") return e.inductance;
  return std::nullopt;
}

// Of a number that is zero a tenth of its natural unit counts as a change.
double scale_of(const FitUnknown& unknown) {
  if (unknown.start != 0) return std::abs(unknown.start);
  return 0.1 * units::in_si(1.0, unknown.knob.unit(), unknown.knob.unit());
}

Unknown bounded(const FitUnknown& unknown) {
  Unknown u;
  u.name = unknown.knob.key;
  u.start = unknown.start;
  u.scale = scale_of(unknown);
  u.low = unknown.knob.address.lowest();
  u.high = std::min(unknown.knob.address.highest(), std::abs(u.start) + 1e6 * u.scale);
  return u;
}

}  // namespace

FitUnknown fit_unknown(const std::vector<const Case*>& cases, const std::string& key) {
  const auto address = address_of(key);
  if (!address) refuse_input(no_such_key(key));
  if (!address->is_number()) refuse_input(fmt::format("{} is no number and cannot be fitted", key));
  if (address->is_count())
    refuse_input(fmt::format("{} is a whole number and cannot be fitted", key));
  if (key.starts_with("numerics."))
    refuse_input(fmt::format("{} is a setting of the computation, not of the welder", key));
  for (const Case* read : cases)
    if (const auto value = CaseValues(read->full_text).of(*address))
      return {{key, *address, *value}, *value, true};
  for (const Case* read : cases)
    if (const auto value = worked_out(*read, key)) return {always_set(key), *value, false};
  refuse_input(
      fmt::format("{} is not used by {}: it has no value there; give it one to start from with "
                  "--set {}=...",
                  key, cases.size() == 1 ? "this case" : "any of the cases", key));
}

FitStudy::FitStudy(std::vector<FitRecord> records, const std::vector<std::string>& keys)
    : records_(std::move(records)) {
  std::vector<const Case*> cases;
  for (FitRecord& record : records_) {
    cases.push_back(&record.study->base());
    record.record = recorded(record.trace);
    record.study->compute_with(kind_of_run, traced_run);
  }
  std::vector<Complaint> complaints;
  for (const std::string& key : keys) {
    const bool twice = std::any_of(unknowns_.begin(), unknowns_.end(),
                                   [&](const FitUnknown& u) { return u.knob.key == key; });
    if (twice) continue;
    try {
      unknowns_.push_back(fit_unknown(cases, key));
    } catch (const InputError& error) {
      complaints.insert(complaints.end(), error.complaints().begin(), error.complaints().end());
    }
  }
  if (!complaints.empty()) throw InputError(std::move(complaints));
}

bool FitStudy::stopped() const {
  return std::any_of(records_.begin(), records_.end(),
                     [](const FitRecord& r) { return r.study->stopped(); });
}

// Until the record ends or the pulse does, whichever is first, and a little more.
double FitStudy::end_of_run(const FitRecord& record) const {
  const inference::Trigger& trigger = record.record.channels.front().trigger;
  const double recorded = 1.02 * (record.trace.to - trigger.on) + 1e-4;
  const double pulse = circuit::Loop(record.study->base().problem.circuit).end_of_pulse();
  return std::min(recorded, std::isfinite(pulse) ? 1.02 * pulse + 1e-5 : recorded);
}

// Those that the record's case knows, and how its runs are computed.
std::vector<Knob> FitStudy::knobs_in(const FitRecord& record) const {
  std::vector<Knob> knobs;
  const CaseValues values(record.study->base().full_text);
  for (const FitUnknown& u : unknowns_) {
    const auto value = values.of(u.knob.address);
    if (value || !u.given) knobs.push_back({u.knob.key, u.knob.address, value.value_or(NAN)});
  }
  if (!record.bare)
    for (const std::string& key : {end_key, step_key}) knobs.push_back(always_set(key));
  return knobs;
}

Point FitStudy::values_in(const FitRecord& record, const Point& point) const {
  Point own;
  const std::vector<Knob> knobs = knobs_in(record);
  for (std::size_t i = 0; i < unknowns_.size(); ++i)
    if (std::any_of(knobs.begin(), knobs.end(),
                    [&](const Knob& k) { return k.key == unknowns_[i].knob.key; }))
      own.push_back(point[i]);
  if (record.bare) return own;
  own.push_back(end_of_run(record));
  own.push_back(
      std::min(record.study->base().problem.numerics.step_tolerance, fitted_step_tolerance));
  return own;
}

FitStudy::CurvePtr FitStudy::bare_curve(const FitRecord& record, const Point& point) const {
  try {
    const Case read = record.study->at(knobs_in(record), values_in(record, point));
    const circuit::Circuit& circuit = read.problem.circuit;
    return std::make_shared<PulseTrace>(
        circuit, bridged(circuit, record.bar_resistance, end_of_run(record)));
  } catch (const InputError&) {
    return nullptr;
  }
}

std::vector<FitStudy::CurvePtr> FitStudy::weld_curves(const FitRecord& record,
                                                      const std::vector<Point>& points) {
  const std::vector<Knob> knobs = knobs_in(record);
  std::vector<Point> own;
  for (const Point& point : points) own.push_back(values_in(record, point));
  const std::vector<Judged> runs = record.study->over(knobs)(own);
  std::vector<CurvePtr> curves;
  for (std::size_t n = 0; n < runs.size(); ++n) {
    curves.push_back(nullptr);
    if (runs[n].state != study::State::computed) continue;
    const Case read = record.study->at(knobs, own[n]);
    curves.back() =
        std::make_shared<PulseTrace>(read.problem.circuit, LoadHistory::of_flat(runs[n].numbers));
  }
  return curves;
}

std::vector<std::vector<FitStudy::CurvePtr>> FitStudy::curves(const std::vector<Point>& points) {
  std::vector<std::vector<CurvePtr>> all(points.size());
  for (const FitRecord& record : records_) {
    std::vector<CurvePtr> own;
    if (record.bare)
      for (const Point& point : points) own.push_back(bare_curve(record, point));
    else
      own = weld_curves(record, points);
    for (std::size_t n = 0; n < points.size(); ++n) all[n].push_back(std::move(own[n]));
  }
  return all;
}

inference::Curves FitStudy::model() {
  return [this](const std::vector<Point>& points) { return curves(points); };
}

std::vector<Unknown> FitStudy::bounds() const {
  std::vector<Unknown> unknowns;
  for (const FitUnknown& u : unknowns_) unknowns.push_back(bounded(u));
  return unknowns;
}

inference::TraceFit FitStudy::fit(double scale_error) {
  std::vector<inference::Record> records;
  for (const FitRecord& r : records_) records.push_back(r.record);
  return inference::fit_traces(model(), bounds(), records, scale_error);
}

}  // namespace tabmelt
