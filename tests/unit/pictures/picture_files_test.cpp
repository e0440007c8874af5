// Pictures as files: which are written, and what is said where none can be.
#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <functional>
#include <stdexcept>
#include <string>
#include <vector>

#include "tests/support/synthetic_run.h"
#include "viz/pictures/animation.h"
#include "viz/pictures/pictures.h"

namespace tabmelt::pictures {
namespace {

namespace fs = std::filesystem;
using testing::synthetic_run;

// What is said where something cannot be drawn.
std::string message_of(const std::function<void()>& draw) {
  try {
    draw();
  } catch (const PictureError& error) {
    return error.what();
  }
  return "nothing thrown";
}

class PictureFiles : public ::testing::Test {
 protected:
  void TearDown() override { fs::remove_all(folder_); }
  std::vector<std::string> names(const std::vector<fs::path>& files) const {
    std::vector<std::string> names;
    for (const fs::path& file : files) {
      EXPECT_TRUE(fs::file_size(file) > 1000) << file;
      names.push_back(file.lexically_relative(folder_));
    }
    return names;
  }
  fs::path folder_ = fs::temp_directory_path() / ("tabmelt_pictures_" + std::to_string(getpid()));
};

TEST_F(PictureFiles, all_or_the_chosen_ones_are_written_in_the_chosen_format) {
  using Names = std::vector<std::string>;
  EXPECT_EQ(
      names(draw_all(synthetic_run(), folder_)),
      (Names{"section.png", "moments.png", "peak.png", "current.png", "curves.png", "energy.png"}));
  const PictureChoice choice{.only = {"curves", "section"}, .time = 0.2e-3, .format = "svg"};
  EXPECT_EQ(names(draw_all(synthetic_run(), folder_ / "some", choice)),
            (Names{"some/section.svg", "some/curves.svg"}));
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_ / "some"), fs::directory_iterator()), 2);
  EXPECT_EQ(names(write_moments(synthetic_run({.frames = 3}), folder_ / "frames")),
            (Names{"frames/moment-0000.png", "frames/moment-0001.png", "frames/moment-0002.png"}));
}

TEST_F(PictureFiles, choice_that_cannot_be_met_is_said) {
  const auto said = [&](const StoredRun& run, const PictureChoice& choice) {
    return message_of([&] { draw_all(run, folder_ / "none", choice); });
  };
  const StoredRun run = synthetic_run({.frames = 1});
  EXPECT_NE(said(run, {.only = {"section", "sektion"}}).find("sektion"), std::string::npos);
  EXPECT_NE(said(run, {.width = 639}).find("639"), std::string::npos);
  EXPECT_NE(said(run, {.width = 4801}).find("4801"), std::string::npos);
  EXPECT_NE(said(run, {.format = "bmp"}).find("bmp"), std::string::npos);
  StoredRun mute = run;
  mute.series.clear();
  EXPECT_NE(said(mute, {.only = {"curves"}}).find("curves"), std::string::npos);
  EXPECT_FALSE(fs::exists(folder_ / "none"));
}

TEST_F(PictureFiles, run_that_lacks_something_gives_what_there_is) {
  StoredRun bare = synthetic_run({.frames = 1});
  bare.series.clear();
  bare.scalars.clear();
  bare.texts.clear();
  EXPECT_EQ(draw_all(bare, folder_).back().filename(), "current.png");
  StoredRun frameless = synthetic_run();
  frameless.frame_times.clear();
  frameless.peak_temperature.clear();
  for (const char* const name : {"source_voltage", "force", "nugget_diameter"}) {
    frameless.series.erase(name);
  }
  frameless.series["faying_temperature"][7] = std::nan("");
  frameless.series["inner_wall_temperature"].pop_back();
  EXPECT_EQ(draw_all(frameless, folder_).front().filename(), "curves.png");
  StoredRun cold = synthetic_run({.rise = 0, .frames = 3});
  cold.series.erase("current");
  EXPECT_EQ(draw_all(cold, folder_).size(), 6U);
}

TEST(Picture, what_cannot_be_drawn_is_said) {
  const auto said = [](const StoredRun& run) {
    return message_of([&] { section_picture(run, 0); });
  };
  EXPECT_EQ(said(StoredRun{}), "the result holds no mesh");
  StoredRun odd = synthetic_run({.frames = 2});
  odd.region.pop_back();
  EXPECT_EQ(said(odd), "the result's regions do not match its mesh");
  StoredRun unreadable = synthetic_run({.frames = 2});
  unreadable.frame = [](std::size_t) -> Frame { throw std::runtime_error("torn"); };
  EXPECT_EQ(said(unreadable), "frame 0 cannot be read: torn");
  StoredRun frameless = synthetic_run({.frames = 2});
  frameless.frame_times.clear();
  EXPECT_THROW(section_picture(frameless, 0), PictureError);
  EXPECT_THROW(moments_picture(frameless), PictureError);
  EXPECT_THROW(Animation{frameless}, PictureError);
}

}  // namespace
}  // namespace tabmelt::pictures
