#include "viz/pictures/head_and_foot.h"

#include <algorithm>
#include <filesystem>

#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

namespace {

// Of the sentence below the title, and how small a long title may become.
struct Measures {
  double below, size, height, smallest_title;
};

void draw_around(Page& page, const PageHead& head, const Measures& measures) {
  const double right = page.width() - page_margin;
  const TextStyle what{.size = 24, .bold = true, .align = Align::right};
  const TextStyle more{.size = 17, .colour = palette::quiet_ink, .align = Align::right};
  page.text({right, page.height() - 40}, head.picture, what);
  page.text({right, page.height() - 72}, head.detail, more);

  const double taken =
      std::max(Page::text_width(head.picture, what), Page::text_width(head.detail, more));
  const double room = right - page_margin - taken - 40;
  page.paragraph({page_margin, page.height() - 26}, head.title, {.size = 28, .bold = true}, room,
                 40, measures.smallest_title);
  page.paragraph({page_margin, page.height() - measures.below}, head.sentence,
                 {.size = measures.size}, room, measures.height, 12);

  page.line({{page_margin, 38}, {right, 38}}, {.colour = palette::rule, .width = 1});
  page.text({page_margin, 22}, head.origin, {.size = 13, .colour = palette::quiet_ink});
  page.text({page.width() / 2, 22}, head.warning,
            {.size = 14, .colour = palette::bad, .bold = true, .align = Align::centre});
  page.text({right, 22}, "computed, not measured: peel a sample before welding a pack",
            {.size = 13, .colour = palette::quiet_ink, .align = Align::right});
}

}  // namespace

void draw_head_and_foot(Page& page, const PageHead& head) {
  draw_around(page, head, {66, 17, 50, 16});
}

void draw_head_and_foot(Page& page, const StoredRun& run, const std::string& picture,
                        const std::string& detail) {
  std::string origin = "tabmelt";
  if (!run.program_version.empty()) {
    origin += " " + run.program_version;
  }
  if (!run.path.empty()) {
    origin += "  \u00b7  " + std::filesystem::path(run.path).filename().string();
  }
  const char* const warning = run.complete ? "" : "run cut short: what was stored until then";
  // A verdict is longer than the answer of a study.
  draw_around(page, {title_of(run), verdict_of(run), picture, detail, origin, warning},
              {62, 16, 56, 18});
}

}  // namespace tabmelt::pictures
