// Starts the built program and reports what it left behind.
#pragma once

#include <gtest/gtest.h>
#include <sys/types.h>

#include <filesystem>
#include <string>
#include <vector>

#include "tests/support/temporary_folder.h"

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

// Starts the program in a folder of its own.
class InFolder : public testing::Test {
 protected:
  void give(const std::string& name, const std::string& text) const { write_file(at(name), text); }
  Finished tell(const std::vector<std::string>& arguments) const {
    return finished(arguments, folder());
  }
  std::string text(const std::string& name) const { return file_text(at(name)); }
  bool exists(const std::string& name) const { return std::filesystem::exists(at(name)); }
  std::filesystem::path at(const std::string& name) const { return folder() / name; }
  const std::filesystem::path& folder() const { return folder_.path(); }

 private:
  const TemporaryFolder folder_;
};

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
