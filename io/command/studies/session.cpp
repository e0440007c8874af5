#include "io/command/studies/session.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include "io/command/asked_cases.h"
#include "io/command/drawing.h"
#include "io/command/failure.h"
#include "io/command/stop_signal.h"
#include "io/report/markdown.h"
#include "io/store/result_writer.h"
#include "io/store/whole_file.h"
#include "solver/cost.h"

namespace tabmelt {
namespace {

StudiedCase asked_case(const StudyOptions& options) {
  const AskedCase plain = read_cases({options.asked}).front();
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
      progress_(options.quiet || !processes_->first()) {
  if (!processes_->first()) fall_silent();
  asked_ = asked_case(options);
  listen_for_stop();
  join();
  study_->stop_when(stop_requested);
  study_->tell([this](const StudyCounts& counts) {
    const auto all = static_cast<std::size_t>(processes_->count());
    progress_.done(all * (counts.computed + counts.reused), all * counts.computed);
  });
}

Session::~Session() = default;

// A folder that one process cannot open ends all of them.
void Session::join() {
  const std::filesystem::path folder = options_.folder
                                           ? std::filesystem::path(*options_.folder)
                                           : std::filesystem::path("studies") / asked_.name;
  std::string trouble;
  try {
    study_ = std::make_unique<Study>(asked_, folder, TABMELT_VERSION, *processes_);
  } catch (const OutputError& error) {
    if (processes_->count() == 1) throw;
    trouble = error.what();
  }
  for (const std::string& said : processes_->gathered(trouble))
    if (!said.empty()) throw OutputError(said);
}

void Session::write(const std::string& file, const std::string& text) {
  if (!study_->speaks()) return;
  const std::filesystem::path path = study_->folder() / file;
  if (const auto reason = failure_to_replace(path, text))
    throw OutputError(path.string() + ": " + *reason);
}

void Session::write(const Document& document, const std::string& stem) {
  const std::string text = markdown_text(document);
  write(stem + ".md", text);
  say(text + "\n");
}

void Session::draw(const drawing::Page& page, const std::string& file) {
  if (!study_->speaks() || !options_.pictures) return;
  try {
    page.save(study_->folder() / file, static_cast<int>(page.width()));
  } catch (const drawing::PictureError& error) {
    throw DrawingError(error.what());
  }
}

void Session::say(const std::string& text) {
  if (study_->speaks()) progress_.print(stdout, text);
}

ExitStatus Session::finish() {
  const StudyCounts& counts = study_->counts();
  std::string text =
      fmt::format("  {} runs computed, {} were there already", counts.computed, counts.reused);
  if (counts.failed > 0) text += fmt::format(", {} could not be computed", counts.failed);
  say(text + fmt::format("; files in {}\n", study_->folder().string()));
  if (!study_->stopped()) return ExitStatus::fine;
  if (study_->speaks())
    progress_.print(stderr,
                    "tabmelt: interrupted; every finished run is kept, the same command "
                    "goes on from there\n");
  return ExitStatus::unfinished;
}

}  // namespace tabmelt
