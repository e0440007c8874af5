// HDF5 does not survive every damaged file: it can crash, overwrite memory, or walk a list for
// ever. So a file is read in a process of its own, which may come to such an end without harm.
#pragma once

#include <sys/types.h>

#include <cstdint>
#include <functional>
#include <mutex>
#include <stdexcept>
#include <string>

namespace tabmelt {

// Why there is no answer, in words.
class ReadingError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

class ReadingProcess {
 public:
  struct Request {
    enum What : std::uint32_t { contents, frame, history } what = contents;
    std::uint32_t field = 0;
    std::uint64_t number = 0;
  };

  // Starts a process that answers each request with what `read` returns there. Processes must be
  // started one at a time. Throws ReadingError.
  ReadingProcess(std::uint64_t file_bytes, const std::function<std::string(const Request&)>& read);
  ~ReadingProcess();
  ReadingProcess(const ReadingProcess&) = delete;
  ReadingProcess& operator=(const ReadingProcess&) = delete;

  // May be called from any thread. Throws ReadingError with what `read` threw, or once it has
  // crashed or taken more than 1 s of processor time for one request and another 0.2 s for each MB
  // of the file; a good file takes a twentieth of that.
  std::string answer(const Request&);

 private:
  std::string how_it_ended();

  std::mutex mutex_;
  int socket_ = -1;
  pid_t process_ = -1;
  std::string ended_;  // how, if it has
};

}  // namespace tabmelt
