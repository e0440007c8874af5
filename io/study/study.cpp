#include "io/study/study.h"

#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <fstream>
#include <map>
#include <sstream>

#include "io/files/whole_file.h"
#include "io/store/result_writer.h"
#include "solver/cost.h"
#include "solver/study/judged_run.h"

namespace tabmelt {
namespace {

using study::Judged;
using study::Point;
using study::State;

class StopWatch : public Observer {
 public:
  explicit StopWatch(const Study::Stop& stop) : stop_(stop) {}
  bool prepared() override { return !(stop_ && stop_()); }
  bool step_done(const StepRecord&, double) override { return !(stop_ && stop_()); }

 private:
  const Study::Stop& stop_;
};

Judged failure(const std::string& reason) {
  Judged run;
  run.state = State::failed;
  run.reason = reason;
  return run;
}

std::string text_of_file(const std::filesystem::path& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

}  // namespace

Study::Study(const StudiedCase& asked, const std::filesystem::path& folder,
             const std::string& version, Processes& processes)
    : asked_(asked),
      folder_(folder),
      version_(version),
      processes_(processes),
      base_(read_case_text(asked.text, asked.file, asked.settings)),
      store_((refuse_another_case(), folder)),
      compute_(computed_run) {
  text_ = with_layers_written_out(asked.text, asked.file);
}

// The runs of two cases would not disturb each other, but the answers of one would replace those of
// the other.
void Study::refuse_another_case() {
  const std::filesystem::path file = folder_ / "study.toml";
  std::error_code error;
  if (std::filesystem::exists(file, error)) {
    if (hash_of_run(text_of_file(file), "") == hash_of_run(base_.full_text, "")) return;
    throw OutputError(fmt::format(
        "{} holds the study of another case or of other settings (see study.toml); choose another "
        "folder with -o",
        folder_.string()));
  }
  std::filesystem::create_directories(folder_, error);
  if (error) throw OutputError(folder_.string() + ": " + error.message());
  if (!processes_.first()) return;
  if (const auto reason = failure_to_replace(file, base_.full_text))
    throw OutputError(file.string() + ": " + *reason);
}

Case Study::at(const std::vector<Knob>& knobs, const Point& point) const {
  std::vector<Override> overrides = asked_.settings;
  for (std::size_t k = 0; k < knobs.size(); ++k)
    // A number left as it is stays the text of the case: the same run as without the knob.
    if (point[k] != knobs[k].value) overrides.push_back(knobs[k].at(point[k]));
  return read_case_text(text_, asked_.file, overrides);
}

Judged Study::one(const std::vector<Knob>& knobs, const Point& point, std::string& hash) {
  Case read;
  try {
    read = at(knobs, point);
  } catch (const InputError& error) {
    const std::lock_guard lock(counting_);
    ++counts_.failed;
    return failure(error.complaints().empty() ? "" : error.complaints().front().message);
  }
  if (const auto too_large = cost_complaints(read.problem); !too_large.empty()) {
    const std::lock_guard lock(counting_);
    ++counts_.failed;
    return failure(too_large.front());
  }
  hash = hash_of_run(read.full_text, kind_.empty() ? version_ : version_ + " " + kind_);
  std::optional<Judged> known = store_.find(hash);
  const bool reused = known.has_value();
  if (!reused) {
    if (stop_ && stop_()) return {};
    StopWatch watch(stop_);
    known = compute_(read.problem, &watch);
    if (known->state == State::not_run) return {};
    store_.keep(hash, *known);
  }
  const std::lock_guard lock(counting_);
  ++(reused ? counts_.reused : counts_.computed);
  if (known->state == State::failed) ++counts_.failed;
  if (heard_) heard_(counts_);
  return *known;
}

// First line: what went wrong; second: counts of this batch; then the runs of this process. What
// the others computed is known from then on, though they keep it.
std::vector<Judged> Study::shared(std::vector<Judged> runs, const std::vector<std::string>& hashes,
                                  const StudyCounts& before, const std::string& trouble) {
  const auto count = static_cast<std::size_t>(processes_.count());
  std::string mine = fmt::format("{}\n{} {} {}\n", trouble, counts_.computed - before.computed,
                                 counts_.reused - before.reused, counts_.failed - before.failed);
  for (auto i = static_cast<std::size_t>(processes_.rank()); i < runs.size(); i += count)
    mine += runs[i].state == State::not_run ? "\n" : line_of_run(hashes[i], runs[i]);
  const std::vector<std::string> all = processes_.gathered(mine);
  counts_ = before;
  for (std::size_t rank = 0; rank < count; ++rank) {
    std::istringstream lines(all[rank]);
    std::string line;
    std::getline(lines, line);
    if (!line.empty()) throw OutputError(line);
    StudyCounts theirs;
    lines >> theirs.computed >> theirs.reused >> theirs.failed;
    counts_.computed += theirs.computed;
    counts_.reused += theirs.reused;
    counts_.failed += theirs.failed;
    std::getline(lines, line);
    for (std::size_t i = rank; i < runs.size() && std::getline(lines, line); i += count) {
      auto run = run_of_line(line);
      runs[i] = run ? std::move(run->second) : Judged{};
      if (run && !run->first.empty()) store_.learn(run->first, runs[i]);
    }
  }
  return runs;
}

std::vector<Judged> Study::run_different(const std::vector<Knob>& knobs,
                                         const std::vector<Point>& points) {
  std::vector<Judged> runs(points.size());
  std::vector<std::string> hashes(points.size());  // empty: a case that is not possible
  const auto count = static_cast<std::size_t>(processes_.count());
  const auto rank = static_cast<std::size_t>(processes_.rank());
  const std::size_t own = points.size() > rank ? (points.size() - rank + count - 1) / count : 0;
  const StudyCounts before = counts_;
  // Several processes must all hear of what ends one of them.
  std::string trouble;
  try {
    tbb::parallel_for(std::size_t{0}, own, [&](std::size_t n) {
      const std::size_t i = rank + n * count;
      runs[i] = one(knobs, points[i], hashes[i]);
    });
  } catch (const std::exception& error) {
    if (count == 1) throw;
    trouble = fmt::format("process {}: {}", rank, error.what());
  }
  if (count > 1) runs = shared(std::move(runs), hashes, before, trouble);
  stopped_ = stopped_ || study::cut_short(runs);
  return runs;
}

// A point that comes again in the batch might be begun before its first run is there to be found.
std::vector<Judged> Study::run(const std::vector<Knob>& knobs, const std::vector<Point>& points) {
  std::map<Point, std::size_t> places;
  std::vector<Point> different;
  for (const Point& point : points)
    if (places.emplace(point, different.size()).second) different.push_back(point);
  const std::vector<Judged> runs = run_different(knobs, different);
  if (different.size() == points.size()) return runs;
  std::vector<Judged> all;
  for (const Point& point : points) all.push_back(runs[places.at(point)]);
  counts_.reused += points.size() - different.size();
  if (heard_) heard_(counts_);
  return all;
}

study::Evaluate Study::over(const std::vector<Knob>& knobs) {
  return [this, knobs](const std::vector<Point>& points) {
    // Once stopped nothing more is computed, but what is there already may still be asked for.
    return run(knobs, points);
  };
}

}  // namespace tabmelt
