#include "viz/pictures/head_and_foot.h"

#include <algorithm>
#include <filesystem>

#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {

namespace {
constexpr double head_room = 56;  // height for the verdict, between the title and the drawings
}

void draw_head_and_foot(Page& page, const StoredRun& run, const std::string& picture,
                        const std::string& detail) {
  const double right = page.width() - page_margin;
  const TextStyle what{.size = 24, .bold = true, .align = Align::right};
  const TextStyle more{.size = 17, .colour = palette::quiet_ink, .align = Align::right};
  page.text({right, page.height() - 40}, picture, what);
  page.text({right, page.height() - 72}, detail, more);

  const double taken = std::max(Page::text_width(picture, what), Page::text_width(detail, more));
  const double room = right - page_margin - taken - 40;
  const TextStyle title{.size = 28, .bold = true}, verdict{.size = 16};
  page.paragraph({page_margin, page.height() - 26}, title_of(run), title, room, 40, 18);
  page.paragraph({page_margin, page.height() - 62}, verdict_of(run), verdict, room, head_room, 12);

  const TextStyle small{.size = 13, .colour = palette::quiet_ink};
  page.line({{page_margin, 38}, {right, 38}}, {.colour = palette::rule, .width = 1});
  std::string origin = "tabmelt";
  if (!run.program_version.empty()) {
    origin += " " + run.program_version;
  }
  if (!run.path.empty()) {
    origin += "  \u00b7  " + std::filesystem::path(run.path).filename().string();
  }
  page.text({page_margin, 22}, origin, small);
  if (!run.complete) {
    page.text({page.width() / 2, 22}, "run cut short: what was stored until then",
              {.size = 14, .colour = palette::bad, .bold = true, .align = Align::centre});
  }
  page.text({right, 22}, "computed, not measured: peel a sample before welding a pack",
            {.size = 13, .colour = palette::quiet_ink, .align = Align::right});
}

}  // namespace tabmelt::pictures
