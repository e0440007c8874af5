#include "io/command/studies/session.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>

#include "io/command/asked_cases.h"
#include "io/command/drawing.h"
#include "io/command/failure.h"
#include "io/command/stop_signal.h"
#include "io/files/whole_file.h"
#include "io/report/markdown.h"
#include "io/store/result_writer.h"
#include "solver/cost.h"

namespace tabmelt::command {

using namespace report;
namespace {

StudiedCase asked_case(const StudyOptions& options, const std::string& argument) {
  const AskedCase plain = read_cases({argument}).front();
  StudiedCase asked{plain.name, plain.asked.file, plain.asked.text, {}};
  for (const std::string& setting : options.settings)
    asked.settings.push_back(parsed_override(setting));
  const Case whole = read_case_text(asked.text, asked.file, asked.settings);
  std::vector<Complaint> too_large;
  for (const std::string& one : cost_complaints(whole.problem))
    too_large.push_back({asked.file.string(), 0, "", one});
  if (!too_large.empty()) throw InputError(std::move(too_large));
  return asked;
}

// The processes after the first say nothing: each would say the same.
void fall_silent() {
  const int nowhere = ::open("/dev/null", O_WRONLY | O_CLOEXEC);
  if (nowhere < 0) return;
  ::dup2(nowhere, STDOUT_FILENO);
  ::dup2(nowhere, STDERR_FILENO);
}

}  // namespace

Session::Session(const StudyOptions& options)
    : options_(options),
      processes_(joined_processes()),
      progress_(options.quiet || !processes_.first()) {
  if (!processes_.first()) fall_silent();
  listen_for_stop();
  join(options.asked);
}

Session::~Session() = default;

StudyCounts Session::counts() const {
  StudyCounts sum;
  for (const auto& [argument, study] : studies_) {
    sum.computed += study->counts().computed;
    sum.reused += study->counts().reused;
    sum.failed += study->counts().failed;
  }
  return sum;
}

// A folder that one process cannot open ends all of them.
Study& Session::join(const std::string& argument) {
  const StudiedCase asked = asked_case(options_, argument);
  std::filesystem::path folder = std::filesystem::path("studies") / asked.name;
  if (options_.folder) {
    folder = *options_.folder;
    if (!studies_.empty()) folder /= asked.name;
  }
  std::string trouble;
  std::unique_ptr<Study> study;
  try {
    study = std::make_unique<Study>(asked, folder, TABMELT_VERSION, processes_);
  } catch (const OutputError& error) {
    if (processes_.count() == 1) throw;
    trouble = error.what();
  }
  for (const std::string& said : processes_.gathered(trouble))
    if (!said.empty()) throw OutputError(said);
  study->stop_when(stop_requested);
  // Studies take turns: those that do not run now do not count either.
  const StudyCounts before = counts();
  study->tell([this, before](const StudyCounts& own) {
    const auto all = static_cast<std::size_t>(processes_.count());
    const std::size_t computed = before.computed + own.computed;
    progress_.done(all * (computed + before.reused + own.reused), all * computed);
  });
  studies_.push_back({argument, std::move(study)});
  return *studies_.back().study;
}

Study& Session::study_of(const std::string& argument) {
  for (const Joined& one : studies_)
    if (one.argument == argument) return *one.study;
  return join(argument);
}

void Session::write(const std::string& file, const std::string& text) {
  if (!speaks()) return;
  const std::filesystem::path path = study().folder() / file;
  if (const auto reason = failure_to_replace(path, text))
    throw OutputError(path.string() + ": " + *reason);
}

void Session::write(const Document& document, const std::string& stem) {
  const std::string text = markdown_text(document);
  write(stem + ".md", text);
  say(text + "\n");
}

void Session::draw(const drawing::Page& page, const std::string& file) {
  if (!speaks() || !options_.pictures) return;
  try {
    page.save(study().folder() / file, static_cast<int>(page.width()));
  } catch (const drawing::PictureError& error) {
    throw DrawingError(error.what());
  }
}

void Session::say(const std::string& text) {
  if (speaks()) progress_.print(stdout, text);
}

ExitStatus Session::finish() {
  const StudyCounts all = counts();
  std::string text =
      fmt::format("  {} runs computed, {} were there already", all.computed, all.reused);
  if (all.failed > 0) text += fmt::format(", {} could not be computed", all.failed);
  say(text + fmt::format("; files in {}\n", study().folder().string()));
  const bool stopped = std::any_of(studies_.begin(), studies_.end(),
                                   [](const Joined& one) { return one.study->stopped(); });
  if (!stopped) return ExitStatus::fine;
  if (speaks())
    progress_.print(stderr,
                    "tabmelt: interrupted; every finished run is kept, the same command "
                    "goes on from there\n");
  return ExitStatus::unfinished;
}

}  // namespace tabmelt::command
