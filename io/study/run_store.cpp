#include "io/study/run_store.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <boost/uuid/name_generator_sha1.hpp>
#include <boost/uuid/uuid_io.hpp>
#include <cerrno>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <system_error>

#include "io/store/result_writer.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using study::Judged;
using study::State;

std::string words(int error) { return std::generic_category().message(error); }

std::string without_comment(const std::string& line) {
  constexpr std::string_view mark = "  # default";
  return line.ends_with(mark) ? line.substr(0, line.size() - mark.size()) : line;
}

// Writing past the limit for file sizes would end the process (SIGXFSZ).
bool too_large(int descriptor, std::size_t bytes) {
  rlimit most{};
  if (::getrlimit(RLIMIT_FSIZE, &most) != 0 || most.rlim_cur == RLIM_INFINITY) return false;
  const ::off_t there = ::lseek(descriptor, 0, SEEK_END);
  return there >= 0 && static_cast<rlim_t>(there) + bytes > most.rlim_cur;
}

// 0 or the error number; how much was written before it is lost, the line is begun anew.
int write_all(int descriptor, std::string_view bytes) {
  if (too_large(descriptor, bytes.size())) return EFBIG;
  while (!bytes.empty()) {
    const ::ssize_t done = ::write(descriptor, bytes.data(), bytes.size());
    if (done < 0 && errno == EINTR) continue;
    if (done <= 0) return done < 0 ? errno : EIO;
    bytes.remove_prefix(static_cast<std::size_t>(done));
  }
  return 0;
}

}  // namespace

std::string hash_of_run(const std::string& full_text, const std::string& version) {
  std::string name = "tabmelt " + version + "\n";
  std::istringstream lines(full_text);
  for (std::string line; std::getline(lines, line);) {
    if (line.empty() || line.front() == '#' || line.starts_with("title = ")) continue;
    name += without_comment(line) + "\n";
  }
  static const boost::uuids::uuid space = boost::uuids::ns::oid();
  return boost::uuids::to_string(boost::uuids::name_generator_sha1(space)(name));
}

std::string line_of_run(const std::string& hash, const Judged& run) {
  json line{{"run", hash}};
  if (run.state == State::failed) {
    line["failed"] = run.reason;
  } else {
    json limits = json::object(), holds = json::array();
    for (const study::Limit& limit : run.limits) {
      limits[limit.key] = limit.margin;
      if (limit.holds) holds.push_back(limit.key);
    }
    line["verdict"] = run.verdict;
    line["good"] = run.good;
    line["margin"] = run.margin;
    line["limits"] = std::move(limits);
    line["holds"] = std::move(holds);
    line["numbers"] = run.numbers;
  }
  return line.dump(-1, ' ', false, json::error_handler_t::replace) + "\n";
}

std::optional<std::pair<std::string, Judged>> run_of_line(const std::string& text) {
  const json line = json::parse(text, nullptr, false);
  if (!line.is_object()) return std::nullopt;
  try {
    Judged run;
    if (line.contains("failed")) {
      run.state = State::failed;
      run.reason = line.at("failed").get<std::string>();
      return std::pair(line.at("run").get<std::string>(), run);
    }
    run.state = State::computed;
    run.verdict = line.at("verdict").get<std::string>();
    run.good = line.at("good").get<bool>();
    run.margin = line.at("margin").get<double>();
    run.numbers = line.at("numbers").get<std::vector<double>>();
    const auto holds = line.at("holds").get<std::vector<std::string>>();
    for (const auto& [key, margin] : line.at("limits").items()) {
      const bool held = std::find(holds.begin(), holds.end(), key) != holds.end();
      run.limits.push_back({key, held, margin.get<double>()});
    }
    return std::pair(line.at("run").get<std::string>(), run);
  } catch (const json::exception&) {
    return std::nullopt;
  }
}

RunStore::RunStore(const fs::path& folder) : folder_(folder / "runs") {
  std::error_code error;
  fs::create_directories(folder_, error);
  if (error) throw OutputError(folder_.string() + ": " + error.message());
  for (fs::directory_iterator entry(folder_, error), end; !error && entry != end;
       entry.increment(error)) {
    if (entry->path().extension() != ".jsonl") continue;
    std::ifstream file(entry->path(), std::ios::binary);
    for (std::string line; std::getline(file, line);)
      if (auto run = run_of_line(line)) runs_.insert_or_assign(run->first, std::move(run->second));
  }
  if (error) throw OutputError(folder_.string() + ": " + error.message());
}

RunStore::~RunStore() {
  if (descriptor_ >= 0) ::close(descriptor_);
}

std::optional<Judged> RunStore::find(const std::string& hash) const {
  const std::lock_guard lock(mutex_);
  const auto found = runs_.find(hash);
  if (found == runs_.end()) return std::nullopt;
  return found->second;
}

void RunStore::learn(const std::string& hash, const Judged& run) {
  const std::lock_guard lock(mutex_);
  runs_.insert_or_assign(hash, run);
}

std::size_t RunStore::size() const {
  const std::lock_guard lock(mutex_);
  return runs_.size();
}

// Only a process that has something to keep makes a file.
void RunStore::open_own_file() {
  for (int n = 1; descriptor_ < 0; ++n) {
    own_ = folder_ / fmt::format("{:04}.jsonl", n);
    descriptor_ =
        ::open(own_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_APPEND | O_NOFOLLOW | O_CLOEXEC, 0666);
    if (descriptor_ < 0 && errno != EEXIST) throw OutputError(own_.string() + ": " + words(errno));
  }
}

void RunStore::keep(const std::string& hash, const Judged& run) {
  const std::string line = line_of_run(hash, run);
  const std::lock_guard lock(mutex_);
  if (descriptor_ < 0) open_own_file();
  const int error = write_all(descriptor_, (broken_line_ ? "\n" : "") + line);
  broken_line_ = error != 0;
  if (error != 0) {
    throw OutputError(
        fmt::format("{}: {}; the runs before this one are kept, and the study goes "
                    "on from them when it is started again",
                    own_.string(), words(error)));
  }
  runs_.insert_or_assign(hash, run);
}

}  // namespace tabmelt
