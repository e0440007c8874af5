// Every finished run of a study, kept at once: a line of JSON for each in `runs/`, under a hash of
// its complete case (which holds the numerics) and the program's version.
//
//   runs/0001.jsonl   {"run": hash, "verdict": "fused", "good": true, "margin": 0.21,
//                      "limits": {key: margin}, "holds": [key], "numbers": [SI]}
//                     {"run": hash, "failed": reason}
//
// Each process that adds to a study writes a file of its own, so any number of them may work on one
// folder; a line that was cut off when a process was killed is passed over. Numbers are written so
// that they read back to the same bits. The hash is a name-based UUID (RFC 4122, SHA-1).
#pragma once

#include <filesystem>
#include <mutex>
#include <optional>
#include <string>
#include <unordered_map>

#include "solver/search/judged.h"

namespace tabmelt {

// Comments, defaults that are stated and defaults that are not make no difference, nor does the
// title.
std::string hash_of_run(const std::string& full_text, const std::string& version);

std::string line_of_run(const std::string& hash, const study::Judged&);
// Hash and run; nothing for a line that is none.
std::optional<std::pair<std::string, study::Judged>> run_of_line(const std::string& line);

class RunStore {
 public:
  // Reads all runs in the folder, which is made if it is missing. Throws OutputError.
  explicit RunStore(const std::filesystem::path& folder);
  ~RunStore();
  RunStore(const RunStore&) = delete;
  RunStore& operator=(const RunStore&) = delete;

  std::optional<study::Judged> find(const std::string& hash) const;
  // Keeps a run on the disk before it returns; safe from several threads. Throws OutputError if it
  // cannot be written: those before it stay.
  void keep(const std::string& hash, const study::Judged&);
  // A run that another process keeps.
  void learn(const std::string& hash, const study::Judged&);
  std::size_t size() const;

 private:
  void open_own_file();

  std::filesystem::path folder_, own_;
  int descriptor_ = -1;
  bool broken_line_ = false;  // the last write stopped in the middle
  mutable std::mutex mutex_;
  std::unordered_map<std::string, study::Judged> runs_;
};

}  // namespace tabmelt
