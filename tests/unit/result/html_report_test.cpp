// report.html: content, escaping, pictures inside, nothing from outside.
#include "io/report/html_report.h"

#include <gtest/gtest.h>

#include <cctype>
#include <fstream>

#include "io/report/report.h"
#include "sample_run.h"
#include "tests/support/contains.h"

namespace tabmelt {

using namespace report;
namespace {

namespace fs = std::filesystem;

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
  return found;
}

std::string page_of(const Case& asked) {
  return html_report(report_document(asked, sample::finished(), sample::verdict(), "out"));
}

fs::path file_with(const sample::Folder& folder, const std::string& name,
                   const std::string& bytes) {
  std::ofstream(folder / name, std::ios::binary) << bytes;
  return folder / name;
}

// Test vectors of RFC 4648, section 10.
TEST(Base64, agrees_with_its_standard) {
  EXPECT_EQ(base64(""), "");
  EXPECT_EQ(base64("f"), "Zg==");
  EXPECT_EQ(base64("fo"), "Zm8=");
  EXPECT_EQ(base64("foo"), "Zm9v");
  EXPECT_EQ(base64("foob"), "Zm9vYg==");
  EXPECT_EQ(base64("fooba"), "Zm9vYmE=");
  EXPECT_EQ(base64("foobar"), "Zm9vYmFy");
  EXPECT_EQ(base64("\xff\xfe\xfd"), "//79");
}

TEST(HtmlReport, says_the_verdict_first_and_all_that_the_text_report_says) {
  const Case asked = sample::asked();
  const std::string page = page_of(asked);
  const auto place = [&](const std::string& part) { return page.find(part); };
  EXPECT_LT(place("Not a good weld"), place("<h2>Pictures"));
  EXPECT_LT(place(sample::verdict().sentence), place("<h2>Pictures"));
  EXPECT_LT(place("<h2>Pictures"), place("<h2>Margins"));
  EXPECT_LT(place("<h2>Margins"), place("<h2>Cell side"));
  EXPECT_LT(place("<h2>Cell side"), place("<h2>Where the energy went"));
  EXPECT_LT(place("<h2>Where the energy went"), place("<h2>Defaults used"));
  EXPECT_LT(place("<h2>Defaults used"), place("<h2>Before you weld"));
  EXPECT_LT(place("<h2>Before you weld"), place("<h2>How to repeat this run"));
  // Every cell of a table in report.md is on the page as well.
  const std::string markdown = report_text(asked, sample::finished(), sample::verdict(), "out");
  EXPECT_EQ(count(page, "<tr>"), count(markdown, "\n|") - count(markdown, "\n| --"));
  EXPECT_EQ(count(page, "<h2>"), count(markdown, "\n## ") + 1);  // the pictures
  for (const char* part :
       {"98.0 °C", "1.9 mΩ", ">FAIL<", ">pass<", "strip.width", "1-6 % hotter"}) {
    EXPECT_TRUE(contains(page, part)) << part;
  }
}

TEST(HtmlReport, needs_nothing_from_outside_and_runs_nothing) {
  const std::string page = page_of(sample::asked());
  EXPECT_TRUE(contains(page, "prefers-color-scheme: dark"));
  EXPECT_TRUE(contains(page, "@media print"));
  for (const char* part : {"<script", "<link", "http:", "https:", "@import", "url(", "<iframe"}) {
    EXPECT_FALSE(contains(page, part)) << part;
  }
}

TEST(HtmlReport, words_of_the_case_cannot_become_markup) {
  Case asked = sample::asked();
  asked.title = "</title><script>alert(1)</script> & \"more\"";
  asked.defaults.push_back({"<b>", "<i>", "<u>"});
  const std::string page = page_of(asked);
  EXPECT_FALSE(contains(page, "<script"));
  EXPECT_FALSE(contains(page, "<b>"));
  EXPECT_TRUE(contains(page, "&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;more&quot;"));
  EXPECT_TRUE(contains(page, ">&lt;b&gt;</td>"));
}

TEST(HtmlReport, takes_pictures_in_and_replaces_them) {
  const sample::Folder folder;
  const std::string empty = page_of(sample::asked());
  const fs::path one = file_with(folder, "section.png", "first");
  const fs::path two = file_with(folder, "energy.png", "second");
  const std::string full =
      with_pictures(empty, {one, two, folder / "missing.png", file_with(folder, "a.ogv", "x")});
  EXPECT_EQ(count(full, "<img "), 2U);
  EXPECT_TRUE(contains(full, "data:image/png;base64," + base64("first")));
  EXPECT_FALSE(contains(full, "None were drawn"));
  // Drawn again, one takes its own place and the other stays.
  const std::string again = with_pictures(full, {file_with(folder, "section.png", "newer")});
  EXPECT_EQ(count(again, "<img "), 2U);
  EXPECT_FALSE(contains(again, base64("first")));
  EXPECT_LT(again.find(base64("newer")), again.find(base64("second")));
  file_with(folder, "section.png", "first");
  // Added one by one they stand in the order of a set.
  EXPECT_EQ(with_pictures(with_pictures(empty, {two}), {one}), full);
  EXPECT_EQ(with_pictures(full, {one, two}), full);
  EXPECT_EQ(with_pictures(full, {}), full);
  EXPECT_EQ(with_pictures("no place here", {one}), "no place here");
}

// A link inside the page, so that a page sent around alone keeps it.
TEST(HtmlReport, each_picture_is_a_link_to_its_full_size_and_back) {
  const sample::Folder folder;
  const std::string page = with_pictures(
      page_of(sample::asked()),
      {file_with(folder, "section.png", "first"), file_with(folder, "energy.png", "second")});
  for (const std::string name : {"section", "energy"}) {
    const auto figure = page.find("<figure id=\"picture-" + name + "\"");
    ASSERT_NE(figure, std::string::npos) << name;
    const std::string inside = page.substr(figure, page.find("</figure>", figure) - figure);
    EXPECT_TRUE(contains(
        inside, "<a class=\"full\" href=\"#picture-" + name + "\" title=\"Full size\"><img "))
        << name;
    EXPECT_LT(inside.find("<img "), inside.find("</a>")) << name;
    EXPECT_TRUE(contains(inside, "href=\"#pictures\"")) << name;
  }
  EXPECT_TRUE(
      contains(page, "figure:target img { width: auto; max-width: none; margin: 0 auto; }"));
  EXPECT_TRUE(contains(page, "id=\"pictures\""));
}

TEST(MarkdownReport, words_of_the_case_cannot_become_markup) {
  Case asked = sample::asked();
  asked.title = "<script>alert(1)</script> &lt;b> [x](http://y) 3 < 4 & 5";
  asked.defaults.push_back({"<b>|", "`</code><i>", "<!-- u -->"});
  const std::string text = report_text(asked, sample::finished(), sample::verdict(), "out");
  EXPECT_TRUE(
      contains(text, "# \\<script>alert(1)\\</script> \\&lt;b> [x\\](http://y) 3 < 4 & 5\n"));
  for (std::size_t at = text.find('<'); at != std::string::npos; at = text.find('<', at + 1)) {
    const bool opens = std::isalpha(static_cast<unsigned char>(text[at + 1])) != 0 ||
                       text[at + 1] == '/' || text[at + 1] == '!';
    const bool in_code =
        text.rfind('`', at) != std::string::npos && text.rfind('`', at) > text.rfind('\n', at);
    EXPECT_TRUE(!opens || in_code || text[at - 1] == '\\') << text.substr(at, 30);
  }
}

TEST(HtmlReport, lies_beside_the_result_and_is_told_when_it_cannot_be_written) {
  const sample::Folder folder;
  sample::write(folder.path());
  const fs::path page = folder / "report.html";
  ASSERT_TRUE(fs::exists(page));
  const fs::path png = file_with(folder, "section.png", "bytes");
  EXPECT_EQ(failure_to_put_pictures(page, {png}), "");
  EXPECT_TRUE(contains(sample::file_text(page), base64("bytes")));
  EXPECT_FALSE(fs::exists(folder / "report.html.tmp"));
  EXPECT_EQ(failure_to_put_pictures(folder / "none.html", {png}), "");
  EXPECT_FALSE(fs::exists(folder / "none.html"));
  fs::create_directory(folder / "report.html.tmp");  // stands in the way
  EXPECT_NE(failure_to_put_pictures(page, {file_with(folder, "peak.png", "other")}), "");
  EXPECT_TRUE(contains(sample::file_text(page), base64("bytes")));
}

}  // namespace
}  // namespace tabmelt
