// Files with a lost block. HDF5 1.10 keeps no checksums in the earliest file format, so damage can
// go unnoticed, and some of it the library does not survive: it can crash, or walk a damaged list
// for ever. The reader answers each with a run or a ResultFileError, after a bounded time.

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <iostream>
#include <string>

#include "io/store/result_reader.h"
#include "sample_run.h"

namespace tabmelt {
namespace {

namespace fs = std::filesystem;

// Empty if all of it can be read.
std::string refusal_of(const fs::path& file) {
  try {
    const StoredRun run = read_result_file(file);
    for (std::size_t k = 0; k < run.frame_times.size(); ++k) run.frame(k);
  } catch (const ResultFileError& error) {
    return error.what();
  }
  return {};
}

TEST(Reader, survives_a_lost_block_anywhere) {
  constexpr std::size_t block = 4096;
  const sample::Folder folder;
  const fs::path good = sample::write(folder / "good"), damaged = folder / "damaged";
  const std::string whole = sample::file_text(good);
  int read = 0, refused = 0, crashed = 0, endless = 0;
  for (const char filling : {'\0', '\xff'}) {
    for (std::size_t at = 0; at < whole.size(); at += block) {
      std::string text = whole;
      std::fill_n(text.begin() + static_cast<std::ptrdiff_t>(at),
                  std::min(block, whole.size() - at), filling);
      std::ofstream(damaged, std::ios::binary | std::ios::trunc) << text;
      const std::string told = refusal_of(damaged);
      read += told.empty();
      refused += !told.empty();
      crashed += told.find("HDF5 crashes") != std::string::npos;
      endless += told.find("no end") != std::string::npos;
      EXPECT_TRUE(told.empty() || told.rfind(damaged.string(), 0) == 0) << told;
    }
  }
  std::cout << read << " read, " << refused << " refused, of these HDF5 crashed over " << crashed
            << " and came to no end with " << endless << std::endl;
  EXPECT_GT(refused, 10);
  EXPECT_GT(read, 0) << "a block that is only padding must do no harm";
}

}  // namespace
}  // namespace tabmelt
