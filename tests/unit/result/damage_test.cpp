// Files with a lost block. HDF5 1.10 keeps no checksums in the earliest file format, so damage can
// go unnoticed, and some of it the library does not survive: it can crash, or walk a damaged list
// for ever. Each file is therefore read in a process of its own, which such damage may end; what
// is demanded of the reader is that it never returns anything but a run or a ResultFileError.

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <iostream>
#include <string>

#include "child.h"
#include "io/result/result_reader.h"
#include "sample_run.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

std::string what_reading_does(const fs::path& file) {
  try {
    const StoredRun run = read_result_file(file);
    for (std::size_t k = 0; k < run.frame_times.size(); ++k) run.frame(k);
    return "read";
  } catch (const ResultFileError& error) {
    return std::string(error.what()).rfind(file.string(), 0) == 0 ? "refused" : error.what();
  } catch (const std::exception& error) {
    return std::string("not a ResultFileError: ") + error.what();
  }
}

TEST(Reader, refuses_or_reads_a_file_with_a_lost_block) {
  constexpr std::size_t block = 2048;
  constexpr unsigned processor_seconds = 2;  // a good file takes about a hundredth of one
  const sample::Folder folder;
  const fs::path good = sample::write(folder / "good"), damaged = folder / "damaged";
  const std::string whole = sample::file_text(good);
  int read = 0, refused = 0, ended = 0;
  for (const char filling : {'\0', '\xff'}) {
    for (std::size_t at = 0; at < whole.size(); at += block) {
      std::string text = whole;
      std::fill_n(text.begin() + static_cast<std::ptrdiff_t>(at),
                  std::min(block, whole.size() - at), filling);
      std::ofstream(damaged, std::ios::binary | std::ios::trunc) << text;
      const auto outcome = sample::in_child(
          [] { return true; }, [&] { return what_reading_does(damaged); }, processor_seconds);
      if (outcome.status < 0) {
        ++ended;
        std::cout << "block at " << at << ": HDF5 ended by signal " << -outcome.status << std::endl;
        continue;
      }
      read += outcome.told == "read";
      refused += outcome.told == "refused";
      EXPECT_TRUE(outcome.told == "read" || outcome.told == "refused")
          << "block at " << at << ": " << outcome.told;
    }
  }
  std::cout << read << " read, " << refused << " refused, " << ended << " ended\n";
  EXPECT_GT(refused, 10);
  EXPECT_GT(read, 0) << "a block that is only padding must do no harm";
  EXPECT_LE(ended, (read + refused) / 10);
}

}  // namespace
}  // namespace tabmelt
