// One command with many runs, from the case on the command line to its files: the study, progress,
// the wish to stop, and the processes that share the work.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "io/command/exit_status.h"
#include "io/command/studies/study_options.h"
#include "io/command/studies/study_progress.h"
#include "io/report/document.h"
#include "io/study/study.h"
#include "viz/drawing/page.h"

namespace tabmelt::command {

class Session {
 public:
  // Throws InputError and OutputError as Study does.
  explicit Session(const StudyOptions&);
  ~Session();

  Study& study() { return *studies_.front().study; }
  // The study of another case: in its own folder beside, or inside the folder that was asked for.
  // The same argument gives the same study.
  Study& study_of(const std::string& asked);
  StudyProgress& progress() { return progress_; }
  bool speaks() const { return processes_.first(); }

  // Only in the process that speaks: a file in the study's folder, in place of an earlier one.
  // Throws OutputError.
  void write(const std::string& file, const std::string& text);
  void write(const report::Document&, const std::string& stem);  // stem.md, and to standard output
  void draw(const drawing::Page&, const std::string& file);
  void say(const std::string& text);

  // Runs computed and reused, whether it was stopped, where the files are. The status to end with.
  ExitStatus finish();

 private:
  Study& join(const std::string& argument);
  StudyCounts counts() const;  // of all studies

  StudyOptions options_;
  Processes& processes_;
  StudyProgress progress_;
  struct Joined {
    std::string argument;
    std::unique_ptr<Study> study;
  };
  std::vector<Joined> studies_;
};

}  // namespace tabmelt::command
