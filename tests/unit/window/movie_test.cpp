// A movie, which needs VTK but no display.
#include "viz/window/movie.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "tests/support/synthetic_run.h"
#include "viz/drawing/page.h"

namespace tabmelt::window {
namespace {

namespace fs = std::filesystem;
using testing::synthetic_run;

TEST(Movie, holds_every_moment) {
  const fs::path folder = fs::temp_directory_path() / ("tabmelt_movie_" + std::to_string(getpid()));
  const auto bytes_of = [&](std::size_t moments) {
    const fs::path ogv = folder / (std::to_string(moments) + ".ogv");
    write_movie(synthetic_run({.frames = moments}), ogv);
    std::ifstream movie(ogv, std::ios::binary);
    return std::string{std::istreambuf_iterator<char>(movie), std::istreambuf_iterator<char>()};
  };
  const std::string five = bytes_of(5), twenty = bytes_of(20);
  // RFC 3533: each page starts with "OggS"; the Theora I specification: its header is "theora".
  EXPECT_EQ(five.substr(0, 4), "OggS");
  EXPECT_NE(five.find("theora"), std::string::npos);
  EXPECT_GT(five.size(), 5000U);
  EXPECT_GT(twenty.size(), 1.5 * static_cast<double>(five.size()));
  std::ofstream(folder / "file") << "no folder";
  EXPECT_THROW(write_movie(synthetic_run({.frames = 2}), folder / "file" / "a.ogv"),
               drawing::PictureError);
  fs::remove_all(folder);
}

}  // namespace
}  // namespace tabmelt::window
