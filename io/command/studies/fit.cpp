#include <fmt/format.h>

#include <cmath>
#include <limits>

#include "io/case/learnt.h"
#include "io/case/units.h"
#include "io/command/studies/session.h"
#include "io/command/studies/written_case.h"
#include "io/inference/fit_report.h"
#include "viz/pictures/studies/inference_pages.h"

namespace tabmelt::command {
namespace {

// CASE TRACE CASE TRACE ...
std::vector<std::pair<std::string, std::string>> pairs_of(const std::vector<std::string>& asked) {
  if (asked.size() < 2 || asked.size() % 2 != 0)
    refuse_input(
        "fit needs a trace for each case: tabmelt fit CASE TRACE.csv [CASE TRACE.csv ...] "
        "--unknown KEY");
  std::vector<std::pair<std::string, std::string>> pairs;
  for (std::size_t n = 0; n + 1 < asked.size(); n += 2) pairs.emplace_back(asked[n], asked[n + 1]);
  return pairs;
}

// Traces are read before any folder is made, all complaints together.
std::vector<FitRecord> records_of(const FitOptions& options) {
  std::vector<FitRecord> records;
  std::vector<Complaint> complaints;
  const auto read = [&](const std::string& file) {
    try {
      records.emplace_back();
      records.back().trace = read_trace(file);
    } catch (const InputError& error) {
      complaints.insert(complaints.end(), error.complaints().begin(), error.complaints().end());
    }
  };
  for (const auto& [asked, trace] : pairs_of(options.pairs)) read(trace);
  for (const std::string& file : options.shorts) {
    read(file);
    records.back().bare = true;
    try {
      records.back().bar_resistance = units::in_si(options.bar, "mohm");
    } catch (const units::UnitError& error) {
      complaints.push_back({"", 0, "", fmt::format("--bar \"{}\" {}", options.bar, error.what())});
    }
    if (records.back().bar_resistance < 0)
      complaints.push_back({"", 0, "", "--bar must not be negative"});
  }
  if (!complaints.empty()) throw InputError(std::move(complaints));
  return records;
}

double scale_error(const std::string& text) {
  double error = 0;
  try {
    error = units::in_si(text, "1");
  } catch (const units::UnitError& wrong) {
    refuse_input(fmt::format("--scale-error \"{}\" {}", text, wrong.what()));
  }
  if (!(error >= 0 && error <= 0.3))
    refuse_input(fmt::format("--scale-error \"{}\": allowed is 0 to 30 %", text));
  return error;
}

pictures::FitPicture picture(const FitAnswer& a) {
  pictures::FitPicture p;
  p.head = {a.title,
            fit_sentence(a),
            "What the traces say",
            fmt::format("{} unknowns, {} traces", a.fit.values.size(), a.fit.records.size()),
            "tabmelt " TABMELT_VERSION "  \u00b7  fit",
            ""};
  p.matches = a.fit.matches;
  p.remarks = fit_remarks(a);
  for (std::size_t i = 0; i < a.fit.values.size(); ++i)
    p.rows.push_back({a.study->unknowns()[i].knob.key, fitted_value(a, i), fitted_error(a, i),
                      is_doubtful(a, i)});
  for (std::size_t r = 0; r < a.fit.records.size(); ++r)
    for (std::size_t c = 0; c < a.fit.records[r].channels.size(); ++c) {
      const inference::RecordedChannel& in = a.study->records()[r].record.channels[c];
      const inference::FittedChannel& f = a.fit.records[r].channels[c];
      pictures::FitPanel panel{fmt::format("{}: {} [{}]", a.study->records()[r].record.name,
                                           words(in.channel), unit_of(in.channel)),
                               {},
                               {},
                               f.model,
                               {}};
      for (std::size_t k = 0; k < in.samples.size(); ++k) {
        panel.time.push_back(in.samples[k].middle() - in.samples.front().middle());
        panel.recorded.push_back(in.samples[k].value - f.zero);
        panel.residual.push_back(f.residuals[k] == 0 ? std::numeric_limits<double>::quiet_NaN()
                                                     : f.residuals[k]);
      }
      p.panels.push_back(std::move(panel));
    }
  return p;
}

}  // namespace

ExitStatus fit(const FitOptions& options) {
  const double of_scale = scale_error(options.scale_error);
  std::vector<FitRecord> records = records_of(options);
  StudyOptions first = options.study;
  first.asked = options.pairs.front();
  if (options.write) refuse_to_replace(*options.write, first.asked);
  Session session(first);
  const auto pairs = pairs_of(options.pairs);
  for (std::size_t n = 0; n < records.size(); ++n)
    records[n].study = &session.study_of(pairs[n < pairs.size() ? n : 0].first);
  FitStudy study(std::move(records), options.unknowns);
  FitAnswer a{session.study().base().title, &study, {}, of_scale};
  session.progress().stage("fit", 0);
  a.fit = study.fit(of_scale);
  if (study.stopped()) return session.finish();
  if (!a.fit.computed)
    refuse_input("the case cannot be computed as it stands; `tabmelt run` tells why");
  session.write("fit.csv", fit_csv(a));
  session.write(fit_report(a), "fit");
  session.draw(pictures::fit_page(picture(a)), "fit.png");
  if (options.write) write_learnt_case(session, *options.write, fit_as_learnt(a));
  return session.finish();
}

}  // namespace tabmelt::command
