// What a page shows, pixel by pixel, and the files it makes.
#include "viz/drawing/page.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "tests/support/seen.h"

namespace tabmelt::drawing {
namespace {

namespace fs = std::filesystem;

using testing::pixel;

constexpr Colour red{1, 0, 0};

TEST(Page, shapes_have_their_colour_where_they_are_and_nowhere_else) {
  Page page(40, 30, Page::Ground::clear);
  page.shape({{{4, 4}, {24, 4}, {24, 24}, {4, 24}}, {{10, 10}, {18, 10}, {18, 18}, {10, 18}}}, red);
  page.rectangle({30, 0, 10, 10}, faded({0, 0.4, 0.8}, 0.5));
  page.line({{0, 27}, {40, 27}}, {.colour = red, .width = 2}, Box{0, 20, 20, 10});
  const Raster raster = page.raster(40);
  ASSERT_EQ(raster.height, 30);
  const auto opacity = [&](int x, int y) { return pixel(raster, x, y)[3]; };
  EXPECT_EQ(pixel(raster, 6, 6)[0], 255);
  EXPECT_EQ(opacity(6, 6), 255);
  EXPECT_EQ(opacity(14, 14), 0) << "the hole";
  EXPECT_EQ(opacity(27, 6), 0);
  // The colour itself, not mixed with what is not there.
  EXPECT_NEAR(pixel(raster, 35, 5)[1], 0.4 * 255, 2);
  EXPECT_NEAR(pixel(raster, 35, 5)[2], 0.8 * 255, 2);
  EXPECT_NEAR(opacity(35, 5), 128, 1);
  EXPECT_EQ(opacity(10, 27), 255);
  EXPECT_EQ(opacity(30, 27), 0) << "beyond the clip";
}

// At odd places and sizes, so that the common side falls inside a pixel.
TEST(Page, nothing_shines_through_between_outlines_of_one_shape_that_touch) {
  Page page(100, 20, Page::Ground::clear);
  page.shape({{{3, 2}, {50.3, 2}, {50.3, 18}, {3, 18}}, {{50.3, 2}, {97, 2}, {97, 18}, {50.3, 18}}},
             red);
  const Raster raster = page.raster(137);
  for (int x = 10; x < 127; ++x) {
    EXPECT_EQ(pixel(raster, x, 13)[3], 255) << x;
  }
}

TEST(Page, labels_tell_where_the_ink_is) {
  for (const Align align : {Align::left, Align::centre, Align::right}) {
    for (const Level level : {Level::middle, Level::top}) {
      Page page(300, 60, Page::Ground::clear);
      page.text({150, 40}, "Hlg\u00b0 12",
                {.size = 24, .bold = true, .align = align, .level = level});
      ASSERT_EQ(page.labels().size(), 1U);
      const Box box = page.labels().front().box;
      const Raster raster = page.raster(300);
      Box ink{300, 60, 0, 0};
      for (int y = 0; y < 60; ++y) {
        for (int x = 0; x < 300; ++x) {
          if (pixel(raster, x, y)[3] > 100) {
            ink = {std::min(ink.x, x + 0.0), std::min(ink.y, y + 0.0), std::max(ink.width, x + 1.0),
                   std::max(ink.height, y + 1.0)};
          }
        }
      }
      EXPECT_NEAR(ink.x, box.x, 1.2);
      EXPECT_NEAR(ink.y, box.y, 1.2);
      EXPECT_NEAR(ink.width, box.right(), 1.2);
      EXPECT_NEAR(ink.height, box.top(), 1.2);
      const double anchor = align == Align::left     ? box.x
                            : align == Align::centre ? box.centre().x
                                                     : box.right();
      EXPECT_NEAR(anchor, 150, 3);
      EXPECT_LT(level == Level::top ? box.top() - 40 : std::abs(box.centre().y - 40), 4);
    }
  }
}

TEST(Page, words_too_long_for_their_room_are_cut) {
  Page page(400, 60);
  const std::string words = "the current returns through the strip";
  page.text({10, 20}, words, {.room = 150});
  page.text({10, 40}, words, {.room = 390});
  EXPECT_TRUE(page.labels()[0].cut);
  EXPECT_LE(page.labels()[0].box.right(), 160);
  EXPECT_FALSE(page.labels()[1].cut);
  EXPECT_NEAR(page.labels()[1].box.width, Page::text_width(words, {}), 4);
}

TEST(Page, long_paragraph_is_set_smaller_before_it_is_cut) {
  std::string words;
  for (int n = 0; n < 90; ++n) {
    words += "word" + std::to_string(n) + " ";
  }
  constexpr double width = 1250, height = 56;
  double before = 0;
  for (const std::size_t length : {60UL, 300UL, words.size()}) {
    Page page(1600, 100);
    const double used =
        page.paragraph({20, 80}, words.substr(0, length), {.size = 16}, width, height, 12);
    const Label& label = page.labels().front();
    EXPECT_FALSE(label.cut) << length;
    EXPECT_LE(used, height);
    EXPECT_GT(used, before);
    EXPECT_GE(label.box.x, 20);
    EXPECT_LE(label.box.right(), 20 + width);
    EXPECT_LE(label.box.top(), 80);
    EXPECT_GE(label.box.y, 80 - height);
    before = used;
  }
  Page page(1600, 100);
  EXPECT_LE(page.paragraph({20, 80}, words + words + words, {.size = 16}, width, height, 12),
            height);
  EXPECT_TRUE(page.labels().front().cut);
}

class PageFile : public ::testing::Test {
 protected:
  void TearDown() override { fs::remove_all(folder_); }
  std::string saved(const std::string& name, int pixels) {
    Page page(400, 250);
    page.text({30, 100}, "words", {.size = 40});
    page.disc({300, 100}, 40, red);
    page.save(folder_ / name, pixels);
    std::ifstream file(folder_ / name, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  }
  fs::path folder_ = fs::temp_directory_path() / ("tabmelt_page_" + std::to_string(getpid()));
};

TEST_F(PageFile, png_has_its_size) {
  const std::string png = saved("a/b.png", 800);
  // ISO/IEC 15948:2004, 5.2 (signature) and 11.2.2 (IHDR).
  EXPECT_EQ(png.substr(0, 8), "\x89PNG\r\n\x1a\n");
  EXPECT_EQ(png.substr(16, 8), std::string("\0\0\3\x20\0\0\1\xf4", 8));
}

TEST_F(PageFile, svg_is_drawn_in_lines_at_its_size) {
  const std::string svg = saved("b.svg", 800);
  EXPECT_NE(svg.find("<svg "), std::string::npos);
  EXPECT_NE(svg.find("width=\"800px\" height=\"500px\""), std::string::npos) << svg.substr(0, 300);
  EXPECT_EQ(svg.find("<image"), std::string::npos);
}

TEST_F(PageFile, pdf_has_its_size_and_its_words_can_be_found) {
  const std::string pdf = saved("c.pdf", 800);
  EXPECT_EQ(pdf.substr(0, 5), "%PDF-");
  if (pdf.find("/ObjStm") != std::string::npos) GTEST_SKIP() << "Cairo 1.18 packs its objects";
  EXPECT_NE(pdf.find("/MediaBox [ 0 0 600 375 ]"), std::string::npos) << "points of 1/72 inch";
  EXPECT_NE(pdf.find("/ToUnicode"), std::string::npos);
}

TEST_F(PageFile, file_that_cannot_be_written_is_named) {
  fs::create_directories(folder_);
  std::ofstream(folder_ / "file") << "no folder";
  for (const char* const name : {"file/x.png", "file/x.svg", "file/x.pdf"}) {
    try {
      saved(name, 400);
      FAIL() << "nothing thrown";
    } catch (const PictureError& error) {
      EXPECT_NE(std::string(error.what()).find(name), std::string::npos) << error.what();
    }
  }
}

}  // namespace
}  // namespace tabmelt::drawing
