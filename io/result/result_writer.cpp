#include "io/result/result_writer.h"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <array>
#include <optional>
#include <system_error>
#include <utility>
#include <vector>

#include "io/result/field_file.h"
#include "io/result/history_table.h"
#include "io/result/html_report.h"
#include "io/result/journaled_file.h"
#include "io/result/report.h"
#include "io/result/result_scalars.h"
#include "io/result/summary.h"
#include "io/result/text_file.h"
#include "io/result/xdmf.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

struct OutputName {
  const char* final_name;
  const char* part_name;
};

constexpr OutputName field_name{"result.vtkhdf", "result.part.vtkhdf"};
constexpr OutputName xdmf_name{"result.xdmf", "result.part.xdmf"};
constexpr OutputName history_name{"history.csv", "history.part.csv"};
constexpr OutputName summary_name{"summary.json", "summary.part.json"};
constexpr OutputName report_name{"report.md", "report.part.md"};
constexpr OutputName page_name{"report.html", "report.part.html"};
// The field file comes last: once it has its final name, so has everything else.
constexpr std::array all_names{xdmf_name,   history_name, summary_name,
                               report_name, page_name,    field_name};

[[noreturn]] void fail(const fs::path& path, const std::string& reason) {
  throw OutputError("cannot write " + path.string() + ": " + reason);
}

void refuse_finished_results(const fs::path& folder) {
  for (const OutputName& name : all_names) {
    std::error_code error;
    const fs::path path = folder / name.final_name;
    // A dangling link counts too: the rename would replace it.
    const fs::file_status status = fs::symlink_status(path, error);
    if (fs::exists(status)) {
      throw OutputError(folder.string() + " already holds results (" + name.final_name +
                        "); choose another folder or remove them");
    }
  }
}

// FieldFile locks the file it writes; a part file that can be locked here has lost its writer.
void remove_stale_parts(const fs::path& folder) {
  const fs::path part = folder / field_name.part_name;
  const int descriptor = ::open(part.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (descriptor >= 0) {
    const bool in_use = ::flock(descriptor, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK;
    if (in_use) {
      ::close(descriptor);
      throw OutputError(part.string() + " is in use: another run is writing into this folder");
    }
  }
  for (const OutputName& name : all_names) {
    std::error_code error;
    fs::remove(folder / name.part_name, error);
  }
  if (descriptor >= 0) ::close(descriptor);
}

void prepare(const fs::path& folder) {
  std::error_code error;
  fs::create_directories(folder, error);
  if (error) fail(folder, error.message());
  if (!fs::is_directory(folder, error)) fail(folder, "not a folder");
  refuse_finished_results(folder);
  remove_stale_parts(folder);
}

std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (const auto& line : lines) text += line + "\n";
  return text;
}

}  // namespace

struct ResultWriter::Impl {
  fs::path folder;
  Case asked;
  std::unique_ptr<FieldFile> fields;
  std::vector<double> frame_times;
  std::optional<std::string> failure;  // whole message
  bool finished = false;

  fs::path part(const OutputName& name) const { return folder / name.part_name; }
  fs::path final(const OutputName& name) const { return folder / name.final_name; }

  // Runs one piece of writing; the first failure is kept for finish().
  template <typename Write>
  void remembering(Write write) noexcept {
    if (failure) return;
    try {
      write();
    } catch (const std::exception& error) {
      failure = "cannot write " + part(field_name).string() + ": " + error.what();
    }
  }

  void write_texts(const Result& run, const Verdict& verdict, const std::string& report,
                   bool complete);
  void rename_all();
  void remove_text_parts();
};

ResultWriter::ResultWriter(const fs::path& folder, const Case& asked)
    : impl_(std::make_unique<Impl>()) {
  impl_->folder = folder.empty() ? fs::path(".") : folder;
  impl_->asked = asked;
  prepare(impl_->folder);
  try {
    impl_->fields = std::make_unique<FieldFile>(
        part_file(), asked.title,
        std::vector<Text>{
            {"title", "title of the case", asked.title},
            {"case_file", "where the case was read from", asked.file.string()},
            {"case", "case text as read", asked.text},
            {"full_case", "case text with every default filled in", asked.full_text}});
  } catch (const FieldFileError& error) {
    fail(part_file(), error.what());
  }
}

ResultWriter::~ResultWriter() = default;

fs::path ResultWriter::part_file() const { return impl_->part(field_name); }

void ResultWriter::begins(const Result& run) {
  impl_->remembering(
      [&] { impl_->fields->write_grid(run, impl_->asked.problem.boundary.ambient); });
}

bool ResultWriter::step_done(const StepRecord&, double) { return !impl_->failure; }

void ResultWriter::frame_taken(const Frame& frame) {
  impl_->remembering([&] {
    impl_->fields->append(frame);
    impl_->frame_times.push_back(frame.time);
  });
}

fs::path ResultWriter::finish(const Result& run, const Verdict& verdict) {
  if (impl_->finished) throw std::logic_error("ResultWriter::finish called twice");
  impl_->finished = true;
  const bool complete = run.ending == Ending::finished;
  std::string report;
  impl_->remembering(
      [&] { report = report_text(impl_->asked, run, verdict, impl_->folder.string()); });
  // The texts come first: only when all of them are on the disk may the field file say that the
  // results are complete.
  std::optional<std::string> text_failure;
  if (!impl_->failure) {
    try {
      impl_->write_texts(run, verdict, report, complete);
    } catch (const OutputError& error) {
      text_failure = error.what();
    }
  }
  impl_->remembering([&] {
    impl_->fields->finish(run, history_columns(run),
                          result_scalars(impl_->asked.problem, run, verdict),
                          {{"verdict", "verdict in one sentence", verdict.sentence},
                           {"report", "report in Markdown", report},
                           {"notes", "what the run left behind, one per line", joined(run.notes)}},
                          complete && !text_failure);
  });
  impl_->fields.reset();
  if (impl_->failure) {
    impl_->remove_text_parts();
    throw OutputError(*impl_->failure);
  }
  if (text_failure) throw OutputError(*text_failure);
  if (!complete) return part_file();
  impl_->rename_all();
  return impl_->final(field_name);
}

void ResultWriter::Impl::write_texts(const Result& run, const Verdict& verdict,
                                     const std::string& report, bool complete) {
  const std::string points_to = complete ? field_name.final_name : field_name.part_name;
  const std::pair<OutputName, std::string> texts[] = {
      {xdmf_name, xdmf_text(points_to, run.grid, frame_times)},
      {history_name, history_csv(history_columns(run), run.history)},
      {summary_name, summary_json(asked, run, verdict, frame_times.size())},
      {report_name, report},
      {page_name, html_report(report_document(asked, run, verdict, folder.string()))},
  };
  for (const auto& [name, text] : texts) {
    auto reason = refusal_of_size(text.size());
    if (!reason) reason = failure_to_write(part(name), text);
    if (reason) {
      remove_text_parts();
      fail(part(name), *reason);
    }
  }
}

void ResultWriter::Impl::rename_all() {
  // Someone may have put files there in the meantime.
  try {
    refuse_finished_results(folder);
  } catch (const OutputError&) {
    remove_text_parts();
    throw;
  }
  std::vector<OutputName> renamed;
  for (const OutputName& name : all_names) {
    std::error_code error;
    fs::rename(part(name), final(name), error);
    if (error) {
      for (const OutputName& done : renamed) {
        std::error_code ignored;
        fs::rename(final(done), part(done), ignored);
      }
      remove_text_parts();
      fail(final(name), error.message());
    }
    renamed.push_back(name);
  }
}

void ResultWriter::Impl::remove_text_parts() {
  for (const OutputName& name : all_names) {
    std::error_code ignored;
    if (name.part_name != std::string(field_name.part_name)) fs::remove(part(name), ignored);
  }
}

}  // namespace tabmelt
