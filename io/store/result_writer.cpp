#include "io/store/result_writer.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <chrono>
#include <optional>
#include <system_error>
#include <utility>
#include <vector>

#include "io/files/whole_file.h"
#include "io/report/html_report.h"
#include "io/report/report.h"
#include "io/report/summary.h"
#include "io/report/utc_date.h"
#include "io/store/field_file.h"
#include "io/store/findings_text.h"
#include "io/store/history_table.h"
#include "io/store/xdmf.h"

namespace tabmelt {

using namespace report;
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

double megabytes(std::uint64_t bytes) { return static_cast<double>(bytes) * 1e-6; }

[[noreturn]] void fail(const fs::path& path, const std::string& reason) {
  throw OutputError("cannot write " + path.string() + ": " + reason);
}

void refuse_finished_results(const fs::path& folder) {
  for (const OutputName& name : all_names) {
    std::error_code error;
    const fs::path path = folder / name.final_name;
    // A dangling link counts too.
    const fs::file_status status = fs::symlink_status(path, error);
    if (fs::exists(status)) {
      throw OutputError(folder.string() + " already holds results (" + name.final_name +
                        "); choose another folder or remove them");
    }
  }
}

// Held while a run writes into the folder; ends with the process, however that ends.
class FolderLock {
 public:
  explicit FolderLock(const fs::path& folder)
      : descriptor_(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
    if (descriptor_ < 0) fail(folder, std::generic_category().message(errno));
    if (::flock(descriptor_, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK) {
      ::close(descriptor_);
      throw OutputError(folder.string() + " is in use: another run is writing into this folder");
    }
  }
  ~FolderLock() { ::close(descriptor_); }
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;
  // So that the names in the folder, too, outlive a power cut.
  void flush_names() const { ::fsync(descriptor_); }

 private:
  int descriptor_;
};

fs::path made(const fs::path& folder) {
  std::error_code error;
  fs::create_directories(folder, error);
  if (error) fail(folder, error.message());
  if (!fs::is_directory(folder, error)) fail(folder, "not a folder");
  return folder;
}

std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (const auto& line : lines) text += line + "\n";
  return text;
}

}  // namespace

struct ResultWriter::Impl {
  fs::path folder;
  FolderLock lock;
  Case asked;
  Keeping keeping;
  std::string date;  // empty: none is written
  std::unique_ptr<FieldFile> fields;
  std::vector<double> frame_times;
  std::chrono::steady_clock::time_point last_written = std::chrono::steady_clock::now();
  std::optional<std::string> failure;  // whole message
  bool finished = false;

  Impl(const fs::path& into, const Case& of, const Keeping& how)
      : folder(into), lock(made(into)), asked(of), keeping(how), date(how.dated ? utc_date() : "") {
    refuse_finished_results(folder);
    for (const OutputName& name : all_names) {
      std::error_code ignored;
      fs::remove(part(name), ignored);
    }
  }

  fs::path part(const OutputName& name) const { return folder / name.part_name; }
  fs::path final(const OutputName& name) const { return folder / name.final_name; }
  bool full() const { return fields->size() > keeping.most_bytes; }

  // Runs one piece of writing; the first failure is kept for finish().
  template <typename Write>
  void remembering(Write write) noexcept {
    if (failure) return;
    try {
      write();
    } catch (const OutputError& error) {
      failure = error.what();
    } catch (const std::exception& error) {
      failure = "cannot write " + part(field_name).string() + ": " + error.what();
    }
  }

  void write_fields();
  void write_texts(const Result& run, const Verdict& verdict, const std::string& report);
  void rename_all();
};

ResultWriter::ResultWriter(const fs::path& folder, const Case& asked, const Keeping& keeping)
    : impl_(std::make_unique<Impl>(folder.empty() ? fs::path(".") : folder, asked, keeping)) {
  // A folder that takes no files is told before anything is computed.
  if (const auto reason = failure_to_create(part_file(), "")) fail(part_file(), *reason);
  fs::remove(part_file());
  try {
    impl_->fields = std::make_unique<FieldFile>(
        part_file().string(), asked.title,
        std::vector<Text>{{"title", "title of the case", asked.title},
                          {"case_file", "where the case was read from", asked.file.string()},
                          {"case", "case text as read", asked.text},
                          {"full_case", "case text with every default filled in", asked.full_text}},
        impl_->date);
  } catch (const FieldFileError& error) {
    fail(part_file(), error.what());
  }
}

ResultWriter::~ResultWriter() {
  // The run ended by an exception.
  if (!impl_->finished && !impl_->frame_times.empty()) {
    impl_->remembering([&] { impl_->write_fields(); });
  }
}

fs::path ResultWriter::part_file() const { return impl_->part(field_name); }

void ResultWriter::begins(const Result& run) {
  impl_->remembering(
      [&] { impl_->fields->write_grid(run, impl_->asked.problem.boundary.ambient); });
}

bool ResultWriter::step_done(const StepRecord&, double) {
  return !impl_->failure && !impl_->full();
}

void ResultWriter::frame_taken(const Frame& frame) {
  impl_->remembering([&] {
    impl_->fields->append(frame);
    impl_->frame_times.push_back(frame.time);
    const auto since = std::chrono::steady_clock::now() - impl_->last_written;
    if (since >= impl_->keeping.between_parts) impl_->write_fields();
  });
}

fs::path ResultWriter::finish(const Result& run, const Verdict& verdict) {
  if (impl_->finished) throw std::logic_error("ResultWriter::finish called twice");
  impl_->finished = true;
  const bool complete = run.ending == Ending::finished;
  std::string report;
  impl_->remembering([&] {
    report = report_text(impl_->asked, run, verdict, impl_->folder.string(), impl_->date);
    impl_->fields->finish(
        run, series_of_steps(run),
        quantities(impl_->asked.problem, run, verdict, bench_figures(impl_->asked.problem, run)),
        {{"verdict", "verdict in one sentence", verdict.sentence},
         {"findings", "what the verdict found, one per line", findings_text(verdict)},
         {"report", "report in Markdown", report},
         {"notes", "what the run left behind, one per line", joined(run.notes)}},
        complete);
    impl_->write_fields();
    impl_->write_texts(run, verdict, report);
  });
  if (impl_->failure) throw LostOutputError(*impl_->failure);
  if (!complete && impl_->full()) {
    throw LostOutputError(fmt::format(
        "{}: the fields of the run have reached {:.0f} MB, the most that is kept; a lower "
        "numerics.resolution or fewer numerics.frames need less. What was computed until then is "
        "in it",
        part_file().string(), megabytes(impl_->keeping.most_bytes)));
  }
  if (!complete) return part_file();
  impl_->rename_all();
  return impl_->final(field_name);
}

void ResultWriter::Impl::write_fields() {
  const std::string bytes = fields->bytes();
  if (const auto reason = failure_to_replace(part(field_name), bytes)) {
    fail(part(field_name), fmt::format("{} ({:.2f} MB needed)", *reason, megabytes(bytes.size())));
  }
  last_written = std::chrono::steady_clock::now();
}

void ResultWriter::Impl::write_texts(const Result& run, const Verdict& verdict,
                                     const std::string& report) {
  const bool complete = run.ending == Ending::finished;
  const std::string points_to = complete ? field_name.final_name : field_name.part_name;
  const std::pair<OutputName, std::string> texts[] = {
      {xdmf_name, xdmf_text(points_to, run.grid, frame_times)},
      {history_name, history_csv(series_of_steps(run), run.history)},
      {summary_name, summary_json(asked, run, verdict, frame_times.size(), date)},
      {report_name, report},
      {page_name, html_report(report_document(asked, run, verdict, folder.string(), date))},
  };
  for (const auto& [name, text] : texts) {
    if (const auto reason = failure_to_create(part(name), text)) {
      fail(part(name), *reason + "; the fields are in " + part(field_name).string());
    }
  }
}

void ResultWriter::Impl::rename_all() {
  for (std::size_t n = 0; n < all_names.size(); ++n) {
    const auto reason = failure_to_rename(part(all_names[n]), final(all_names[n]));
    if (!reason) continue;
    const fs::path in_the_way = final(all_names[n]);
    while (n-- > 0) failure_to_rename(final(all_names[n]), part(all_names[n]));
    throw LostOutputError("cannot write " + in_the_way.string() + ": " + *reason +
                          "; the results are in " + part(field_name).string() +
                          " and the part files beside it");
  }
  lock.flush_names();
}

}  // namespace tabmelt
