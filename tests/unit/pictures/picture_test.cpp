// The pictures of a made-up run: what a person would miss on them.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <string>

#include "tests/support/regions.h"
#include "tests/support/seen.h"
#include "tests/support/synthetic_run.h"
#include "viz/pictures/animation.h"
#include "viz/pictures/head_and_foot.h"
#include "viz/pictures/pictures.h"
#include "viz/pictures/section_panel.h"
#include "viz/pictures/stored_values.h"

namespace tabmelt::pictures {
namespace {

using namespace tabmelt::testing;

// A page as pixels, one per unit.
class Image {
 public:
  explicit Image(const Page& page, int width = page_width) : raster_(page.raster(width)) {}
  int width() const { return raster_.width; }
  int height() const { return raster_.height; }
  Colour at(double x, double y) const {
    const std::uint8_t* const seen = pixel(raster_, static_cast<int>(x), static_cast<int>(y));
    return {seen[0] / 255.0, seen[1] / 255.0, seen[2] / 255.0};
  }
  bool shows(const Colour& colour, double x, double y) const {
    const Colour seen = at(x, y);
    return std::max({std::abs(seen.red - colour.red), std::abs(seen.green - colour.green),
                     std::abs(seen.blue - colour.blue)}) < 0.01;
  }

 private:
  Raster raster_;
};

// Share of the pixels of one size that differ by more than a little.
double difference(const Image& a, const Image& b) {
  int unlike = 0;
  for (int y = 0; y < a.height(); ++y) {
    for (int x = 0; x < a.width(); ++x) {
      unlike += b.shows(a.at(x, y), x, y) ? 0 : 1;
    }
  }
  return static_cast<double>(unlike) / (a.width() * a.height());
}

const std::map<std::string, std::function<Page(const StoredRun&)>>& drawers() {
  static const std::map<std::string, std::function<Page(const StoredRun&)>> all{
      {"section", [](const StoredRun& run) { return section_picture(run, 5e-3); }},
      {"moments", [](const StoredRun& run) { return moments_picture(run); }},
      {"peak", [](const StoredRun& run) { return peak_picture(run); }},
      {"current", [](const StoredRun& run) { return current_picture(run); }},
      {"curves", curves_picture},
      {"energy", energy_picture},
      {"frame", [](const StoredRun& run) { return Animation(run).page(10); }},
  };
  return all;
}

TEST(Words, lie_inside_the_page_and_not_on_each_other) {
  StoredRun cramped = synthetic_run({.rise = 2500});
  cramped.title =
      "A title that goes on and on, as titles do when somebody explains a whole setup: "
      "strip, cell, electrodes, leads, bank and switch";
  cramped.texts["verdict"] += cramped.texts["verdict"] + cramped.texts["verdict"];
  cramped.parts[4].name = "insulating disc under the negative bottom";
  cramped.series["probe_place_with_a_rather_long_name_in_the_strip"] = cramped.series["probe_rim"];
  cramped.scalars["cell_side_1_limit"] = 320;
  const std::map<std::string, StoredRun> runs{{"usual", synthetic_run()},
                                              {"cramped", cramped},
                                              {"cold", synthetic_run({.rise = 8})},
                                              {"cut short", synthetic_run({.complete = false})}};
  for (const auto& [kind, run] : runs) {
    for (const auto& [name, drawn] : drawers()) {
      const Page page = drawn(run);
      EXPECT_GT(page.labels().size(), 15U) << name;
      expect_readable(page, name + ", " + kind, 6);
      for (const Label& label : page.labels()) {
        EXPECT_FALSE(label.cut && kind == "usual") << label.words << " is cut on " << name;
      }
    }
  }
}

TEST(Words, tell_title_verdict_and_caution) {
  const StoredRun run = synthetic_run();
  for (const auto& [name, drawn] : drawers()) {
    const Page page = drawn(run);
    EXPECT_TRUE(has_label(page, run.title)) << name;
    EXPECT_TRUE(has_label(page, run.texts.at("verdict"))) << name;
  }
}

// The middle of each cell of the metals, away from melt and labels, against the scale beside it.
TEST(Section, colour_of_a_place_is_that_of_its_temperature_on_the_scale) {
  StoredRun run = uncovered_run({.rise = 1400});
  run.findings.clear();
  const Image image(section_picture(run, 5e-3));
  const Frame frame = run.frame(nearest_frame(run, 5e-3));
  const Scale scale = temperature_scale();
  const Box& panel = large_panel;
  const Sight place(window_around_spot(run, panel.width / panel.height), panel);
  std::map<std::uint8_t, std::array<int, 2>> agreed;
  for (std::size_t cell = 0; cell < run.region.size(); ++cell) {
    const auto [r, z] = middle_of(run, cell);
    for (const double side : {1.0, -1.0}) {
      const Point at = place.at(side * r, z);
      if (run.region[cell] == mesh::empty || run.region[cell] > regions::can ||
          !panel.contains(at, -30)) {
        continue;
      }
      // Within a pixel the temperature changes by some degrees: not so close to the edge of a band.
      const double degrees = celsius(frame.temperature[cell]);
      const Colour& colour = scale.colour_of(degrees);
      if (&colour != &scale.colour_of(degrees - 6) || &colour != &scale.colour_of(degrees + 6)) {
        continue;
      }
      ++agreed[run.region[cell]][image.shows(colour, at.x, at.y) ? 0 : 1];
    }
  }
  ASSERT_EQ(agreed.size(), 3U);
  for (const auto& [part, counts] : agreed) {
    EXPECT_GT(counts[0], 100) << "part " << int{part};
    // Outlines and leaders lie on some cells.
    EXPECT_LT(counts[1], 0.12 * counts[0]) << "part " << int{part};
  }
  // The scale that is drawn shows the same colours from below.
  for (std::size_t band = 0; band < scale.colours.size(); ++band) {
    const double y = panel.y + panel.height * (static_cast<double>(band) + 0.5) /
                                   static_cast<double>(scale.colours.size());
    const Box& bar = large_scale;
    EXPECT_TRUE(image.shows(scale.colours[band], bar.centre().x, y - 6)) << "band " << band;
  }
}

TEST(Section, is_mirrored_at_the_axis) {
  StoredRun run = synthetic_run();
  run.findings.clear();  // words stand on one side only
  for (double& joules : run.series["energy_expelled"]) joules = 0;
  const Image image(section_picture(run, 5e-3));
  const double axis = large_panel.centre().x;
  int differing = 0, count = 0;
  for (int dx = 40; dx < 440; dx += 3) {
    for (int y = 345; y < 800; y += 3) {
      // Pixels whose middles lie equally far from the axis.
      differing += std::abs(lightness(image.at(axis - dx - 0.5, y)) -
                            lightness(image.at(axis + dx + 0.5, y))) > 8;
      ++count;
    }
  }
  EXPECT_LT(differing, 0.01 * count);
}

TEST(Section, melt_is_outlined_only_where_something_melts) {
  const auto melt_lines = [](double rise) {
    const StoredRun run = synthetic_run({.rise = rise});
    const Frame frame = run.frame(nearest_frame(run, 5e-3));
    const Section section(run, regions_inside(run, whole(run)), whole(run));
    return melt_outline(run, section, frame.temperature, frame.liquid_fraction).size();
  };
  EXPECT_GT(melt_lines(1900), 0U);
  EXPECT_EQ(melt_lines(600), 0U);
  const auto legend = [](double rise) {
    return says(section_picture(synthetic_run({.rise = rise}), 5e-3), "olten");
  };
  EXPECT_TRUE(legend(1900));
  EXPECT_FALSE(legend(600));
}

TEST(Section, every_part_is_named) {
  const StoredRun run = synthetic_run();
  const Page page = section_picture(run, 5e-3);
  for (std::size_t part = 1; part < run.parts.size(); ++part) {
    const auto named =
        std::find_if(page.labels().begin(), page.labels().end(), [&](const Label& l) {
          return l.words.substr(1) == run.parts[part].name.substr(1) &&
                 l.box.right() < large_panel.x;
        });
    EXPECT_NE(named, page.labels().end()) << run.parts[part].name;
  }
}

// A spot at 50 degrees is drawn in the same cold colours whatever else a run holds.
TEST(Section, same_temperature_has_the_same_colour_in_every_run) {
  const StoredRun cold = synthetic_run({.rise = 30}), hot = synthetic_run({.rise = 2500});
  const Image lukewarm(section_picture(cold, 5e-3)), molten(section_picture(hot, 5e-3));
  const Box& panel = large_panel;
  const Sight sight(window_around_spot(cold, panel.width / panel.height), panel);
  const Point middle = sight.at(0.1e-3, -0.12e-3);
  EXPECT_LT(lightness(lukewarm.at(middle.x, middle.y)), 35);
  EXPECT_GT(lightness(molten.at(middle.x, middle.y)), 70);
  for (const auto& image : {&lukewarm, &molten}) {
    EXPECT_TRUE(image->shows(temperature_scale().colours[1], large_scale.x + 3,
                             large_scale.y + 1.5 * large_scale.height / 23));
  }
}

TEST(Section, says_which_limit_binds_in_the_words_of_the_verdict) {
  StoredRun run = synthetic_run();
  EXPECT_NE(words_of(section_picture(run, 5e-3)).find("Cell overheated\n"), std::string::npos);
  run.findings.erase(run.findings.begin());
  const std::string good = words_of(section_picture(run, 5e-3));
  EXPECT_NE(good.find("Tightest limit: expulsion\n"), std::string::npos) << good;
  EXPECT_NE(good.find("Outer diameter of the nugget\n"), std::string::npos);
  EXPECT_NE(good.find("6 % left"), std::string::npos);
  run.findings.clear();
  EXPECT_TRUE(says(section_picture(run, 5e-3), "exceeded")) << "the wall's peak against its limit";
}

TEST(Section, says_how_much_flies_off_as_sparks_and_nothing_where_nothing_does) {
  StoredRun run = synthetic_run();
  EXPECT_TRUE(says(section_picture(run, 5e-3), "Sparks so far: "));
  EXPECT_TRUE(says(peak_picture(run), "Sparks in all: "));
  EXPECT_TRUE(says(curves_picture(run), "Sparks thrown off"));
  for (double& joules : run.series["energy_expelled"]) joules = 0;
  for (const Page& page : {section_picture(run, 5e-3), peak_picture(run), curves_picture(run)}) {
    EXPECT_FALSE(says(page, "parks"));
  }
}

TEST(Section, parts_keep_the_names_of_the_case) {
  StoredRun run = synthetic_run();
  run.parts[regions::strip].name = "copper bar";
  run.parts[regions::can].name = "lower strip";
  run.parts[regions::can].role = Role::strip;
  run.findings.clear();
  for (const auto& [name, drawn] : drawers()) {
    const std::string words = words_of(drawn(run));
    EXPECT_EQ(words.find("nner can wall"), std::string::npos) << name;
    EXPECT_EQ(words.find("trip top"), std::string::npos) << name;
    EXPECT_EQ(words.find("strip on can"), std::string::npos) << name;
  }
}

// Below the domed tip, beside what touches, lies a gap: the colour of the plot.
TEST(Section, domed_tip_leaves_a_gap_beside_what_touches) {
  const StoredRun run = synthetic_run({.rise = 800});
  const Image image(section_picture(run, 5e-3));
  const Box& panel = large_panel;
  const Sight sight(window_around_spot(run, panel.width / panel.height), panel);
  const Point gap = sight.at(0.745e-3, 0.15e-3 + 0.012e-3), metal = sight.at(0.3e-3, 0.165e-3);
  EXPECT_TRUE(image.shows(palette::plot, gap.x, gap.y));
  EXPECT_FALSE(image.shows(palette::plot, metal.x, metal.y));
}

// Every picture shows where current flows, melts or heats what it is about: another run or moment
// is another picture, the same is the same.
TEST(Picture, changes_with_what_it_shows_and_with_nothing_else) {
  for (const auto& [name, drawn] : drawers()) {
    const Image image(drawn(synthetic_run()));
    EXPECT_EQ(difference(image, Image(drawn(synthetic_run()))), 0) << name;
    if (name != "current") {
      EXPECT_GT(difference(image, Image(drawn(synthetic_run({.rise = 500})))), 0.002) << name;
    }
  }
  for (const auto& drawn :
       {+[](const StoredRun&run, double time) { return section_picture(run, time); },
        +[](const StoredRun&run, double time) { return current_picture(run, time); }}) {
    const Image early(drawn(synthetic_run(), 0.2e-3));
    EXPECT_GT(difference(early, Image(drawn(synthetic_run(), 4e-3))), 0.01);
  }
}

TEST(Picture, is_the_same_at_any_size) {
  for (const auto& [name, drawn] : drawers()) {
    const Page page = drawn(synthetic_run());
    const Image full(page), small(page, 640), large(page, 2400);
    EXPECT_EQ(small.height(), std::lround(640 * page.height() / page.width()));
    // Means over 32 x 20 blocks, which hold the same part of the picture.
    const auto block = [](const Image& image, int bx, int by) {
      double sum = 0;
      int count = 0;
      for (int x = bx * image.width() / 32; x < (bx + 1) * image.width() / 32; ++x) {
        for (int y = by * image.height() / 20; y < (by + 1) * image.height() / 20; ++y) {
          sum += image.at(x, y).green;
          ++count;
        }
      }
      return sum / count;
    };
    for (int bx = 0; bx < 32; ++bx) {
      for (int by = 0; by < 20; ++by) {
        EXPECT_NEAR(block(small, bx, by), block(full, bx, by), 0.02) << name;
        EXPECT_NEAR(block(large, bx, by), block(full, bx, by), 0.02) << name;
      }
    }
  }
}

TEST(Curves, limit_far_above_them_does_not_flatten_them) {
  EXPECT_TRUE(says(curves_picture(synthetic_run({.rise = 8})), "(above)"));
  EXPECT_FALSE(says(curves_picture(synthetic_run({.rise = 60})), "inner can wall (above)"));
}

// The area of each colour at the right is its share of the energy at the left.
TEST(Energy, bars_are_as_high_as_their_shares) {
  const StoredRun run = synthetic_run();
  const Page page = energy_picture(run);
  const Image image(page);
  const auto height_of = [&](const Colour& colour, double x) {
    int height = 0;
    for (int y = 60; y < 880; ++y) {
      height += image.shows(colour, x, y) ? 1 : 0;
    }
    return height;
  };
  const double sinks = page_margin + 265, source = page_margin + 140;
  const double whole = height_of(palette::ink, source);
  double heat = 0, all = 0;
  for (const auto& [name, joules] : run.scalars) {
    const bool spot = name == "ledger_strip" || name == "ledger_can" ||
                      name == "ledger_electrodes" || name.ends_with("_contacts");
    const bool sink = name.starts_with("ledger_") && name != "ledger_stored_before" &&
                      name != "ledger_from_source";
    heat += spot ? joules : 0;
    all += sink ? joules : 0;
  }
  EXPECT_NEAR(height_of(palette::vermillion, sinks) / whole, heat / all, 0.02);
}

}  // namespace
}  // namespace tabmelt::pictures
