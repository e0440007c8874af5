// The choices of `tabmelt picture`.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdint>
#include <string>
#include <vector>

#include "tests/command/program.h"
#include "tests/support/contains.h"

namespace tabmelt::test {
namespace {

namespace fs = std::filesystem;

const std::string brief_weld =
    weld + "charge_voltage = \"1 V\"\n[numerics]\nresolution = 0.5\nend_time = \"1 ms\"\n";

class PictureCommand : public InFolder {
 protected:
  void compute() {
    give("weld.toml", brief_weld);
    const Finished done = tell({"run", "--no-pictures", "weld.toml", "-o", "out"});
    ASSERT_EQ(done.status, 0) << done.error;
  }
  std::string complaint_about(const std::vector<std::string>& choice) {
    std::vector<std::string> arguments{"picture", "out"};
    arguments.insert(arguments.end(), choice.begin(), choice.end());
    const Finished done = tell(arguments);
    EXPECT_EQ(done.status, 2) << done.out << done.error;
    EXPECT_EQ(done.out, "");
    return done.error;
  }
  std::vector<std::string> pictures_in(const std::string& name) const {
    std::vector<std::string> names;
    for (const auto& entry : fs::directory_iterator(at(name))) {
      if (entry.path().extension() == ".png") names.push_back(entry.path().filename());
    }
    std::sort(names.begin(), names.end());
    return names;
  }
};

TEST_F(PictureCommand, help_names_the_choices_with_an_example) {
  const Finished help = tell({"picture", "--help"});
  EXPECT_EQ(help.status, 0);
  for (const char* part :
       {"--only", "--at", "--width", "--format", "section,moments,peak,current,curves,energy",
        "Example", "--only section,curves --at \"0.9 ms\" --width 800"}) {
    EXPECT_TRUE(contains(help.out, part)) << part << "\n" << help.out;
  }
}

TEST_F(PictureCommand, wrong_choices_are_told_before_anything_is_drawn) {
  compute();
  struct Wrong {
    std::vector<std::string> choice;
    std::string part;
  };
  const std::vector<Wrong> cases{
      {{"--only", "section,sektion"},
       "--only: there is no picture \"sektion\"; there are section, moments, peak, current, "
       "curves, energy"},
      {{"--only", "section,"}, "there is no picture \"\""},
      {{"--at", "0.9"}, "--at: \"0.9\" has no unit"},
      {{"--at", "0.9 mm"}, "--at: \"0.9 mm\" "},
      {{"--at", "soon"}, "--at: \"soon\" "},
      {{"--at", "7 ms"}, "--at: 7 ms is outside the moments of out/result.vtkhdf, 0 ms to 1 ms"},
      {{"--at=-1 ms"}, "--at: -1 ms is outside the moments"},
      {{"--at", "0.5 ms", "--only", "curves"}, "--at is the moment of section and current"},
      {{"--width", "639"}, "--width: 639 is not within 640 to 4800 pixels"},
      {{"--width", "4801"}, "--width: 4801 is not within 640 to 4800 pixels"},
      {{"--width", "wide"}, "--width"},
      {{"--frames", "--width", "800"}, "--width"},
      {{"--frames", "--format", "svg"}, "--format"},
      {{"--range", "20"}, "--range: \"20\" is no range"},
      {{"--range", "400..20"}, "does not rise"},
      {{"--range", "20..30000"}, "is not within"},
      {{"--range", "20..40 mm"}, "--range: \"20..40 mm\" "},
      {{"--format", "bmp"}, "bmp not in {png,svg,pdf}"},
      {{"--animation", "--at", "0.5 ms"}, "--at"},
  };
  for (const Wrong& wrong : cases) {
    const std::string complaint = complaint_about(wrong.choice);
    EXPECT_TRUE(contains(complaint, wrong.part)) << wrong.part << "\n" << complaint;
  }
  EXPECT_TRUE(pictures_in("out").empty());
}

// Big-endian numbers in the first chunk of a PNG file: ISO/IEC 15948:2004, 11.2.2 (IHDR).
std::uint32_t png_number(const std::string& png, std::size_t at) {
  std::uint32_t value = 0;
  for (std::size_t n = 0; n < 4; ++n)
    value = value << 8 | static_cast<unsigned char>(png.at(at + n));
  return value;
}

TEST_F(PictureCommand, chosen_pictures_are_drawn_and_the_report_is_left_alone) {
  compute();
  const std::string report = file_text(at("out/report.html"));
  const Finished done = tell({"picture", "out", "--only", "section,curves", "--at", "0.5 ms",
                              "--width", "800", "-o", "small"});
  ASSERT_EQ(done.status, 0) << done.error;
  EXPECT_EQ(pictures_in("small"), (std::vector<std::string>{"curves.png", "section.png"}));
  for (const char* name : {"small/curves.png", "small/section.png"}) {
    const std::string png = file_text(at(name));
    EXPECT_EQ(png_number(png, 16), 800U) << name;
    EXPECT_EQ(png_number(png, 20), 500U) << name;
  }
  EXPECT_EQ(file_text(at("out/report.html")), report);

  const Finished other = tell(
      {"picture", "out", "--only", "section", "--at", "1000 us", "--width", "800", "-o", "later"});
  ASSERT_EQ(other.status, 0) << other.error;
  EXPECT_NE(file_text(at("later/section.png")), file_text(at("small/section.png")));
}

// The report's picture of that name, as it stands in the page.
std::string embedded(const std::string& page, const std::string& name) {
  const auto from = page.find("id=\"picture-" + name + "\"");
  return from == std::string::npos ? "" : page.substr(from, page.find("</figure>", from) - from);
}

TEST_F(PictureCommand, report_shows_the_pictures_beside_it) {
  compute();
  const Finished first = tell({"picture", "out", "--only", "curves,section", "--width", "640"});
  ASSERT_EQ(first.status, 0) << first.error;
  const std::string before = file_text(at("out/report.html"));
  ASSERT_NE(embedded(before, "section"), "");
  const Finished again =
      tell({"picture", "out", "--only", "section", "--at", "0.2 ms", "--width", "640"});
  ASSERT_EQ(again.status, 0) << again.error;
  const std::string after = file_text(at("out/report.html"));
  EXPECT_NE(embedded(after, "section"), embedded(before, "section"));
  EXPECT_EQ(embedded(after, "curves"), embedded(before, "curves"));
  EXPECT_FALSE(contains(after, "None were drawn"));
  // The potential moves with --at as well.
  for (const char* moment : {"0.2 ms", "0.9 ms"}) {
    const Finished done = tell(
        {"picture", "out", "--only", "current", "--at", moment, "--width", "640", "-o", moment});
    ASSERT_EQ(done.status, 0) << done.error;
  }
  EXPECT_NE(file_text(at("0.2 ms/current.png")), file_text(at("0.9 ms/current.png")));
  EXPECT_EQ(file_text(at("out/report.html")), after) << "drawn elsewhere, it stays as it is";
}

TEST_F(PictureCommand, lines_instead_of_pixels_for_print) {
  compute();
  const std::string report = file_text(at("out/report.html"));
  for (const std::string format : {"svg", "pdf"}) {
    const Finished done = tell({"picture", "out", "--only", "section", "--format", format});
    ASSERT_EQ(done.status, 0) << done.error;
    const std::string name = "out/section." + format;
    EXPECT_EQ(done.out, name + "\n");
    EXPECT_TRUE(contains(file_text(at(name)).substr(0, 100), format == "svg" ? "<svg" : "%PDF"));
  }
  EXPECT_EQ(file_text(at("out/report.html")), report) << "it holds PNG files";
}

TEST_F(PictureCommand, colours_span_the_range_that_was_chosen) {
  compute();
  for (const char* range : {"20..200", "20..200 degC", "0..900"}) {
    const Finished done = tell(
        {"picture", "out", "--only", "section", "--width", "640", "--range", range, "-o", range});
    ASSERT_EQ(done.status, 0) << done.error;
  }
  EXPECT_EQ(file_text(at("20..200/section.png")), file_text(at("20..200 degC/section.png")));
  EXPECT_NE(file_text(at("20..200/section.png")), file_text(at("0..900/section.png")));
}

TEST_F(PictureCommand, large_picture_for_print_has_its_size) {
  compute();
  const Finished done =
      tell({"picture", "out", "--only", "section", "--width", "2400", "-o", "print"});
  ASSERT_EQ(done.status, 0) << done.error;
  const std::string png = file_text(at("print/section.png"));
  EXPECT_EQ(png_number(png, 16), 2400U);
  EXPECT_EQ(png_number(png, 20), 1500U);
}

}  // namespace
}  // namespace tabmelt::test
