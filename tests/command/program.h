// Starts the built program and reports what it left behind.
#pragma once

#include <sys/types.h>

#include <filesystem>
#include <string>
#include <vector>

namespace tabmelt::test {

struct Finished {
  int status = -1;  // exit status; -1 - signal if a signal ended it
  std::string out;  // standard output
  std::string error;
};

// A program under way in `folder`, standard output and error going to files there.
class Program {
 public:
  Program(const std::vector<std::string>& arguments, const std::filesystem::path& folder,
          const std::string& standard_input = "");
  Finished finished();  // waits
  void send(int signal) const;

 private:
  std::filesystem::path out_, error_;
  pid_t process_ = 0;
};

Finished finished(const std::vector<std::string>& arguments, const std::filesystem::path& folder,
                  const std::string& standard_input = "");

// What the program writes to a terminal, both streams mixed.
std::string on_a_terminal(const std::vector<std::string>& arguments,
                          const std::filesystem::path& folder);

// An empty folder of its own that is removed at the end.
class TemporaryFolder {
 public:
  TemporaryFolder();
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

std::string file_text(const std::filesystem::path&);
void write_file(const std::filesystem::path&, const std::string& text);

// An invented bank of ten parts; lines are appended as needed.
inline const std::string weld = R"(title = "Strip on a can bottom"
[cell]
size = "18650"
end = "negative bottom"
[strip]
thickness = "0.15 mm"
[pressing]
force = "20 N"
[switch]
pulses = [["3 ms", "0 ms"]]
[source]
kind = "capacitor bank"
part_capacitance = "10 mF"
part_esr = "10 mohm"
parallel = 10
)";

// An invented bank that makes a good weld, on a coarse grid: some hundredths of a second for a run.
inline const std::string quick_weld = R"(title = "Slit strip on a can bottom"
[cell]
size = "18650"
end = "negative bottom"
[strip]
thickness = "0.10 mm"
slit = true
[pressing]
force = "30 N"
[switch]
pulses = [["1 ms", "0 ms"]]
[source]
kind = "capacitor bank"
part_capacitance = "68 mF"
part_esr = "8 mohm"
parallel = 12
charge_voltage = "6.8 V"
[numerics]
resolution = 0.3
end_time = "5 ms"
)";

}  // namespace tabmelt::test
