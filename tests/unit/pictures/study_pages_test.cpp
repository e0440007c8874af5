// Pictures of studies: everything that is said stands on the page, whole and apart.
#include "viz/pictures/studies/study_pages.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/seen.h"
#include "viz/pictures/studies/inference_pages.h"

namespace tabmelt::pictures {
namespace {

using namespace drawing;

using testing::says;

PageHead head() { return {"A strip on a can", "Good with 83 %.", "Lobe", "detail", "tabmelt"}; }

Lobe lobe() {
  Lobe l;
  l.head = head();
  l.x = {"source.charge_voltage [V]", 4, 9, 6.8};
  l.y = {"pressing.force [N]", 15, 60, 30};
  l.cells = 8;
  LobeContour nugget{"nugget [mm]", {}, {0.2, 0.4}};
  for (int j = 0; j <= 8; ++j)
    for (int i = 0; i <= 8; ++i) {
      l.region.push_back(i > 4 ? 0 : i > 2 ? 1 : -1);
      nugget.values.push_back(0.08f * static_cast<float>(i));
      l.runs.push_back({4 + 5 * i / 8.0, 15 + 45 * j / 8.0});
    }
  l.regions = {{"fused", true, 0.5}, {"no bond", false, 0.3}};
  l.contours = {nugget};
  return l;
}

double green_share(const Page& page) {
  const Raster raster = page.raster(800);
  std::size_t green = 0;
  for (std::size_t n = 0; n < raster.rgba.size(); n += 4)
    green +=
        raster.rgba[n + 1] > raster.rgba[n] + 25 && raster.rgba[n + 1] > raster.rgba[n + 2] + 10
            ? 1
            : 0;
  return static_cast<double>(green) / (static_cast<double>(raster.rgba.size()) / 4);
}

TEST(LobePage, names_axes_regions_and_lines) {
  const Page page = lobe_page(lobe());
  for (const char* words : {"source.charge_voltage [V]", "pressing.force [N]", "fused", "no bond",
                            "nugget [mm]", "computed, 81 points", "50 %", "Lobe"})
    EXPECT_TRUE(says(page, words)) << words;
}

// Columns 5 to 8 of 0..8 corners: from 4.5 to 8 of 8 squares of the plot, which takes 960 x 760 of
// 1600 x 1000.
TEST(LobePage, good_region_fills_its_share) {
  const double expected = 960.0 * 760 / (1600 * 1000) * 3.5 / 8;
  EXPECT_NEAR(green_share(lobe_page(lobe())), expected, 0.03);
}

TEST(LobePage, bands_of_chance_have_a_title_of_their_own) {
  Lobe l = lobe();
  l.chance = true;
  l.contours.clear();
  EXPECT_TRUE(says(lobe_page(l), "Chance of a good weld"));
}

TolerancePicture picture() {
  TolerancePicture p;
  p.head = head();
  p.chance = 0.83;
  p.low = 0.77;
  p.high = 0.88;
  p.verdicts = {{"fused", 0.83, 0.77, 0.88, true}, {"expulsion", 0.17, 0.12, 0.23, false}};
  p.limits = {{"expulsion (17 %)",
               {{"pressing.force", 0.4, 0.05, true},
                {"contact.faying.film_resistance", 0.2, 0.04, false}}}};
  p.windows = {{"pressing.force", "30 N", "24 N", "37 N", 0.8, 1.23, false, false, 0.82, 1.18},
               {"strip.thickness", "0.1 mm", "0.05 mm", "0.12 mm", 0.5, 1.2, true, false, 0, 0}};
  p.note = "As it stands: fused.";
  return p;
}

TEST(TolerancePage, tells_chance_verdicts_inputs_and_windows) {
  const Page page = tolerance_page(picture());
  for (const char* words : {"83 %", "between 77 % and 88 %", "expulsion", "pressing.force",
                            "24 N \u2013 37 N", "< 0.05 mm \u2013 0.12 mm"})
    EXPECT_TRUE(says(page, words)) << words;
}

TEST(TolerancePage, long_lists_stay_on_the_page) {
  TolerancePicture p = picture();
  for (int n = 0; n < 40; ++n) {
    p.limits.push_back(p.limits[0]);
    p.limits[0].inputs.push_back({"layer.insulating disc.thickness and more", 0.01, 0.01, true});
    p.windows.push_back(p.windows[0]);
    p.verdicts.push_back(p.verdicts[1]);
  }
  const Page page = tolerance_page(p);
  for (const Label& label : page.labels()) {
    EXPECT_GE(label.box.x, 0) << label.words;
    EXPECT_GE(label.box.y, 0) << label.words;
    EXPECT_LE(label.box.right(), page.width()) << label.words;
    EXPECT_LE(label.box.top(), page.height()) << label.words;
  }
}

TEST(StudyPages, of_a_stopped_study_say_so) {
  Lobe l = lobe();
  l.head.warning = "study cut short";
  EXPECT_TRUE(says(lobe_page(l), "study cut short"));
}

FitPicture fit() {
  FitPicture p;
  p.head = head();
  FitPanel panel;
  panel.title = "pulse.csv: current [A]";
  for (int n = 0; n < 100; ++n) {
    panel.time.push_back(n * 5e-5);
    panel.recorded.push_back(n < 20 ? 0 : 1000 - 5 * n);
    panel.model.push_back(n < 20 ? 0 : 1001 - 5 * n);
    panel.residual.push_back(n == 20 ? std::nan("") : n % 3 - 1.0);
  }
  p.panels = {panel, panel};
  p.rows = {{"joints.resistance", "0.0312 mohm", "0.0004 mohm", false},
            {"switch.on_resistance", "0.5 mohm", "unknown", true}};
  p.remarks = {"This trace cannot tell A and B apart."};
  return p;
}

TEST(FitPage, names_what_was_found_and_how_it_matches) {
  const Page page = fit_page(fit());
  for (const char* words :
       {"pulse.csv: current [A]", "joints.resistance", "0.0312 mohm \u00b1 0.0004 mohm", "fitted",
        "recorded less fitted", "The model matches", "cannot tell"})
    EXPECT_TRUE(says(page, words)) << words;
  FitPicture wrong = fit();
  wrong.matches = false;
  wrong.panels.clear();
  EXPECT_TRUE(says(fit_page(wrong), "The model does not match."));
}

LearnPicture learning() {
  LearnPicture p;
  p.head = head();
  p.panels = {{"contact.faying.film_resistance", "2e-11 ohm m2", "1e-11 ohm m2", "1e-10 ohm m2",
               std::vector<double>(20, 0.05), std::vector<double>(20, 0.05)}};
  p.panels[0].after[3] = 0.4;
  p.chances = {{"pressing.force 30 N", 0.5, 0.4, 0.6, 0.9, 0.8, 0.95}};
  p.next = "pressing.force 22 N: tells 0.8 bit";
  p.remarks = {"200 draws in 1 round; 90 of them carry the weight."};
  return p;
}

TEST(LearnPage, shows_beliefs_chances_and_the_next_weld) {
  const Page page = learn_page(learning());
  for (const char* words :
       {"contact.faying.film_resistance", "1e-10 ohm m2", "pressing.force 30 N", "50 \u2192 90 %",
        "pressing.force 22 N: tells 0.8 bit", "carry the weight"})
    EXPECT_TRUE(says(page, words)) << words;
  LearnPicture nothing = learning();
  nothing.panels.clear();
  EXPECT_TRUE(says(learn_page(nothing), "Nothing stands out"));
}

}  // namespace
}  // namespace tabmelt::pictures
