#include "viz/pictures/studies/study_frame.h"

#include <algorithm>

namespace tabmelt::pictures {

void draw_study_frame(Page& page, const StudyHead& head) {
  const double right = page.width() - study_margin;
  const TextStyle what{.size = 24, .bold = true, .align = Align::right};
  const TextStyle more{.size = 17, .colour = palette::quiet_ink, .align = Align::right};
  page.text({right, page.height() - 40}, head.picture, what);
  page.text({right, page.height() - 72}, head.detail, more);
  const double taken =
      std::max(Page::text_width(head.picture, what), Page::text_width(head.detail, more));
  const double room = right - study_margin - taken - 40;
  page.paragraph({study_margin, page.height() - 26}, head.title, {.size = 28, .bold = true}, room,
                 40, 16);
  page.paragraph({study_margin, page.height() - 66}, head.sentence, {.size = 17}, room, 50, 12);
  const TextStyle small{.size = 13, .colour = palette::quiet_ink};
  page.line({{study_margin, 38}, {right, 38}}, {.colour = palette::rule, .width = 1});
  page.text({study_margin, 22}, head.origin, small);
  page.text({page.width() / 2, 22}, head.warning,
            {.size = 14, .colour = palette::bad, .bold = true, .align = Align::centre});
  page.text({right, 22}, "computed, not measured: peel a sample before welding a pack",
            {.size = 13, .colour = palette::quiet_ink, .align = Align::right});
}

}  // namespace tabmelt::pictures
