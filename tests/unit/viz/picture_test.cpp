// The pictures of a made-up run, read back from their PNG files.
#include <gtest/gtest.h>
#include <unistd.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPNGReader.h>
#include <vtkSmartPointer.h>

#include <array>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <optional>
#include <string>

#include "synthetic_run.h"
#include "viz/annotations.h"
#include "viz/palette.h"
#include "viz/pictures.h"

namespace tabmelt::testing {
namespace {

namespace fs = std::filesystem;

class Image {
 public:
  explicit Image(const fs::path& png) {
    vtkNew<vtkPNGReader> reader;
    reader->SetFileName(png.c_str());
    reader->Update();
    data_ = reader->GetOutput();
  }
  int width() const { return data_->GetDimensions()[0]; }
  int height() const { return data_->GetDimensions()[1]; }
  // Origin at the lower left.
  Colour at(int x, int y) const { return {channel(x, y, 0), channel(x, y, 1), channel(x, y, 2)}; }
  // Standard deviation of lightness L* over a box.
  double contrast(int x0, int y0, int x1, int y1) const {
    double sum = 0, squares = 0, count = 0;
    for (int y = y0; y < y1; y += 2) {
      for (int x = x0; x < x1; x += 2) {
        const double l = lightness(at(x, y));
        sum += l;
        squares += l * l;
        ++count;
      }
    }
    return std::sqrt(std::max(0.0, squares / count - sum * sum / count / count));
  }
  double contrast() const { return contrast(0, 0, width(), height()); }

 private:
  double channel(int x, int y, int c) const {
    return data_->GetScalarComponentAsDouble(x, y, 0, c) / 255;
  }
  vtkSmartPointer<vtkImageData> data_;
};

double mean_difference(const Image& a, const Image& b) {
  double sum = 0;
  for (int y = 0; y < a.height(); y += 2) {
    for (int x = 0; x < a.width(); x += 2) {
      const Colour p = a.at(x, y), q = b.at(x, y);
      sum += std::abs(p.red - q.red) + std::abs(p.green - q.green) + std::abs(p.blue - q.blue);
    }
  }
  return sum / (0.25 * a.width() * a.height());
}

// A folder of its own, removed afterwards; skips the test where nothing can be drawn.
class Pictures : public ::testing::Test {
 protected:
  void SetUp() override {
    if (!display_available()) {
      GTEST_SKIP() << "no X display with OpenGL; run the tests under xvfb-run";
    }
    const std::string name = ::testing::UnitTest::GetInstance()->current_test_info()->name();
    folder_ = fs::temp_directory_path() / ("tabmelt_viz_" + name + "_" + std::to_string(getpid()));
    fs::create_directories(folder_);
  }
  void TearDown() override {
    if (!folder_.empty()) {
      fs::remove_all(folder_);
    }
  }
  fs::path folder_;
};

TEST_F(Pictures, AllSixAreWrittenAtFullSizeWithSomethingOnThem) {
  const auto written = draw_all(synthetic_run(), folder_ / "new");
  ASSERT_EQ(written.size(), 6U);
  const std::array names{"section.png", "moments.png", "peak.png",
                         "current.png", "curves.png",  "energy.png"};
  for (std::size_t n = 0; n < names.size(); ++n) {
    EXPECT_EQ(written[n].filename(), names[n]);
    const Image image(written[n]);
    EXPECT_EQ(image.width(), 1600);
    EXPECT_EQ(image.height(), 1000);
    EXPECT_GT(image.contrast(), 5) << names[n];
    EXPECT_GT(image.contrast(40, 920, 800, 980), 5) << "no title on " << names[n];
  }
}

TEST_F(Pictures, OnlyTheChosenOnesAreWritten) {
  const auto written = draw_all(synthetic_run(), folder_, {.only = {"curves", "section"}});
  ASSERT_EQ(written.size(), 2U);
  EXPECT_EQ(written[0].filename(), "section.png");
  EXPECT_EQ(written[1].filename(), "curves.png");
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_), fs::directory_iterator()), 2);
}

TEST_F(Pictures, ChosenTimeIsThatOfTheSection) {
  draw_section(synthetic_run(), 0.2e-3, folder_ / "early.png");
  draw_section(synthetic_run(), 5e-3, folder_ / "late.png");
  draw_all(synthetic_run(), folder_, {.only = {"section"}, .time = 0.2e-3});
  const Image chosen(folder_ / "section.png");
  EXPECT_LT(mean_difference(chosen, Image(folder_ / "early.png")), 1e-4);
  EXPECT_GT(mean_difference(chosen, Image(folder_ / "late.png")), 1e-2);
}

TEST_F(Pictures, SmallerAndLargerOnesShowTheSame) {
  const auto drawn = [&](int width) {
    const fs::path folder = folder_ / std::to_string(width);
    draw_all(synthetic_run(), folder, {.only = {"section"}, .width = width});
    return Image(folder / "section.png");
  };
  const Image full = drawn(1600), half = drawn(800), large = drawn(2400);
  EXPECT_EQ(half.width(), 800);
  EXPECT_EQ(half.height(), 500);
  EXPECT_EQ(large.width(), 2400);
  EXPECT_EQ(large.height(), 1500);
  // Means over 40 x 25 blocks, which hold the same part of the picture.
  double worst = 0, worst_large = 0;
  for (int bx = 0; bx < 40; ++bx) {
    for (int by = 0; by < 25; ++by) {
      const auto mean = [&](const Image& image, int side) {
        double sum = 0;
        for (int x = bx * side; x < (bx + 1) * side; ++x) {
          for (int y = by * side; y < (by + 1) * side; ++y) sum += image.at(x, y).green;
        }
        return sum / (side * side);
      };
      worst = std::max(worst, std::abs(mean(full, 40) - mean(half, 20)));
      worst_large = std::max(worst_large, std::abs(mean(full, 40) - mean(large, 60)));
    }
  }
  EXPECT_LT(worst, 0.03);
  EXPECT_LT(worst_large, 0.04);  // letters are drawn anew and may shift by a pixel or two
  EXPECT_GT(half.contrast(20, 460, 400, 490), 5) << "no title";
}

TEST_F(Pictures, ChoiceThatCannotBeMetIsSaid) {
  const auto message_of = [&](const StoredRun& run, const PictureChoice& choice) {
    try {
      draw_all(run, folder_ / "none", choice);
    } catch (const PictureError& error) {
      return std::string(error.what());
    }
    return std::string("nothing thrown");
  };
  EXPECT_EQ(message_of(synthetic_run(), {.only = {"section", "sektion"}}),
            "there is no picture \"sektion\"");
  EXPECT_EQ(message_of(synthetic_run(), {.width = 639}),
            "a picture is 640 to 4800 pixels wide, not 639");
  EXPECT_EQ(message_of(synthetic_run(), {.width = 4801}),
            "a picture is 640 to 4800 pixels wide, not 4801");
  EXPECT_FALSE(fs::exists(folder_ / "none"));
  StoredRun run = synthetic_run({.frames = 1});
  run.series.clear();
  EXPECT_EQ(message_of(run, {.only = {"curves"}}),
            "the result holds nothing for the picture \"curves\"");
}

TEST_F(Pictures, LimitFarAboveTheCurvesDoesNotFlattenThem) {
  // Red of the limit lines inside the diagram of the cell side, whose lowest limit is 80 degrees.
  const auto reddish = [&](double rise) {
    draw_curves(synthetic_run({.rise = rise}), folder_ / "curves.png");
    const Image image(folder_ / "curves.png");
    int count = 0;
    for (int y = 372; y < 592; ++y) {
      for (int x = 830; x < 1290; ++x) {
        const Colour c = image.at(x, y);
        count += std::abs(c.red - palette::bad.red) < 0.12 &&
                         std::abs(c.green - palette::bad.green) < 0.12 && c.blue < 0.12
                     ? 1
                     : 0;
      }
    }
    return count;
  };
  EXPECT_EQ(reddish(8), 0);
  EXPECT_GT(reddish(60), 200);
}

// The panel of a section spans x 200..1185, y 110..845, the axis in its middle.
constexpr int axis_x = 692;

TEST_F(Pictures, HotPlacesAreLighterThanColdOnes) {
  draw_section(synthetic_run(), 5e-3, folder_ / "hot.png");
  const Image image(folder_ / "hot.png");
  const double winding = lightness(image.at(300, 130));
  const double strip_far = lightness(image.at(260, 433));
  const double joint = lightness(image.at(axis_x, 420));
  EXPECT_LT(winding, 25);
  EXPECT_GT(strip_far, winding + 5);
  EXPECT_GT(joint, strip_far + 30);
}

TEST_F(Pictures, SectionIsMirroredAtTheAxis) {
  draw_section(synthetic_run(), 5e-3, folder_ / "mirror.png");
  const Image image(folder_ / "mirror.png");
  // Away from names, leaders and the note: columns 40..440 either side, from can to electrode.
  int differing = 0, count = 0;
  for (int dx = 40; dx < 440; dx += 3) {
    for (int y = 345; y < 800; y += 3) {
      const double left = lightness(image.at(axis_x - dx, y));
      const double right = lightness(image.at(axis_x + dx, y));
      differing += std::abs(left - right) > 8 ? 1 : 0;
      ++count;
    }
  }
  EXPECT_LT(differing, 0.01 * count);
}

TEST_F(Pictures, LaterMomentsAreDrawnHotter) {
  draw_section(synthetic_run(), 0.2e-3, folder_ / "early.png");
  draw_section(synthetic_run(), 5e-3, folder_ / "late.png");
  const Image early(folder_ / "early.png"), late(folder_ / "late.png");
  EXPECT_GT(lightness(late.at(axis_x, 420)), lightness(early.at(axis_x, 420)) + 20);
}

TEST_F(Pictures, TwoDrawingsOfOneRunAreAlike) {
  for (const char* const name : {"first.png", "second.png"}) {
    draw_section(synthetic_run(), 5e-3, folder_ / name);
  }
  EXPECT_LT(mean_difference(Image(folder_ / "first.png"), Image(folder_ / "second.png")), 1e-4);
  draw_curves(synthetic_run(), folder_ / "curves.png");
  EXPECT_GT(mean_difference(Image(folder_ / "first.png"), Image(folder_ / "curves.png")), 0.05);
}

TEST_F(Pictures, MeltIsOutlinedOnlyWhereSomethingMelts) {
  draw_section(synthetic_run({.rise = 600}), 5e-3, folder_ / "solid.png");
  draw_section(synthetic_run({.rise = 1900}), 5e-3, folder_ / "molten.png");
  const auto darkest_line = [](const Image& image) {
    double darkest = 100;  // along the axis through strip and can, the outline's black core
    for (int y = 340; y < 405; ++y) {
      darkest = std::min(darkest, lightness(image.at(axis_x, y)));
    }
    return darkest;
  };
  EXPECT_LT(darkest_line(Image(folder_ / "molten.png")), 25);
  EXPECT_GT(darkest_line(Image(folder_ / "solid.png")), 45);
}

TEST_F(Pictures, RunCutShortShowsWhatIsThere) {
  const auto written = draw_all(synthetic_run({.frames = 12, .complete = false}), folder_);
  ASSERT_EQ(written.size(), 6U);
  EXPECT_GT(Image(folder_ / "peak.png").contrast(250, 150, 1100, 800), 10);
}

TEST_F(Pictures, OneFrameWithoutSeriesStillGivesSections) {
  StoredRun run = synthetic_run({.frames = 1});
  run.series.clear();
  run.scalars.clear();
  run.texts.clear();
  const auto written = draw_all(run, folder_);
  ASSERT_EQ(written.size(), 4U);
  EXPECT_EQ(written.back().filename(), "current.png");
}

TEST_F(Pictures, SeriesWithoutFramesGiveCurvesAndEnergy) {
  StoredRun run = synthetic_run();
  run.frame_times.clear();
  run.peak_temperature.clear();
  for (const char* const name : {"source_voltage", "force", "nugget_diameter"}) {
    run.series.erase(name);
  }
  run.series["faying_temperature"][7] = std::nan("");
  run.series["inner_wall_temperature"].pop_back();
  const auto written = draw_all(run, folder_);
  ASSERT_EQ(written.size(), 2U);
  EXPECT_EQ(written[0].filename(), "curves.png");
  EXPECT_THROW(draw_section(run, 0, folder_ / "none.png"), PictureError);
  EXPECT_THROW(draw_moments(run, folder_ / "none.png"), PictureError);
}

TEST_F(Pictures, ColdRunWithoutLayersNamesOrCurrentIsDrawn) {
  StoredRun run = synthetic_run({.rise = 0, .frames = 3});
  run.region_names.clear();
  run.series.erase("current");
  EXPECT_EQ(draw_all(run, folder_).size(), 6U);
}

// Few moments make wide panels, of which the scale bar is a share.
TEST_F(Pictures, ScaleBarOfFewMomentsKeepsClearOfTheTemperatureScale) {
  for (const std::size_t frames : {1U, 2U, 4U}) {
    const fs::path png = folder_ / "moments.png";
    draw_moments(synthetic_run({.frames = frames}), png);
    const Image image(png);
    EXPECT_GT(image.contrast(40, 348, 100, 362), 5) << "no scale bar";
    EXPECT_GT(image.contrast(240, 340, 350, 362), 5) << "no title";
    EXPECT_LT(image.contrast(212, 335, 224, 366), 0.5) << frames << " frames";
  }
}

TEST_F(Pictures, WhatCannotBeDrawnIsSaid) {
  const auto message_of = [&](const StoredRun& run, const fs::path& png) {
    try {
      draw_section(run, 0, png);
    } catch (const PictureError& error) {
      return std::string(error.what());
    }
    return std::string("nothing thrown");
  };
  const fs::path png = folder_ / "x.png";
  EXPECT_EQ(message_of(StoredRun{}, png), "the result holds no mesh");
  StoredRun odd = synthetic_run({.frames = 2});
  odd.region.pop_back();
  EXPECT_EQ(message_of(odd, png), "the result's regions do not match its mesh");
  StoredRun unreadable = synthetic_run({.frames = 2});
  unreadable.frame = [](std::size_t) -> Frame { throw std::runtime_error("torn"); };
  EXPECT_EQ(message_of(unreadable, png), "frame 0 cannot be read: torn");
  EXPECT_NE(message_of(synthetic_run({.frames = 2}), folder_ / "none" / "x.png").find("no folder"),
            std::string::npos);
  EXPECT_FALSE(fs::exists(png));
  EXPECT_THROW(draw_all(StoredRun{}, folder_), PictureError);
}

// Restores DISPLAY when it goes.
class DisplaySetting {
 public:
  explicit DisplaySetting(const char* value) {
    if (const char* const before = std::getenv("DISPLAY")) {
      before_ = before;
    }
    value != nullptr ? setenv("DISPLAY", value, 1) : unsetenv("DISPLAY");
  }
  ~DisplaySetting() { before_ ? setenv("DISPLAY", before_->c_str(), 1) : unsetenv("DISPLAY"); }
  DisplaySetting(const DisplaySetting&) = delete;
  DisplaySetting& operator=(const DisplaySetting&) = delete;

 private:
  std::optional<std::string> before_;
};

void expect_display_error(const std::string& part) {
  EXPECT_FALSE(display_available());
  const fs::path png = fs::temp_directory_path() / "tabmelt_viz_no_display.png";
  try {
    draw_curves(synthetic_run({.frames = 1}), png);
    FAIL() << "drew without a display";
  } catch (const PictureError& error) {
    const std::string message = error.what();
    EXPECT_NE(message.find(part), std::string::npos) << message;
    EXPECT_NE(message.find("xvfb-run"), std::string::npos) << message;
  }
  EXPECT_FALSE(fs::exists(png));
}

TEST(NoDisplay, IsSaidInsteadOfAborting) {
  const DisplaySetting none(nullptr);
  expect_display_error("DISPLAY is not set");
}

TEST(NoDisplay, ServerThatDoesNotAnswerIsNamed) {
  const DisplaySetting dead(":4711");
  expect_display_error("DISPLAY=:4711");
}

}  // namespace
}  // namespace tabmelt::testing
