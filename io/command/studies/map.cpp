#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cmath>

#include "io/command/studies/session.h"
#include "io/study/chance_study.h"
#include "io/study/map_file.h"
#include "io/study/study_words.h"
#include "solver/search/verdict_map.h"
#include "solver/study/judged_run.h"
#include "viz/drawing/diagram.h"
#include "viz/pictures/studies/study_pages.h"

namespace tabmelt::command {
namespace {

// Bands of the chance of a good weld, by their lower ends.
constexpr double bands[] = {0, 0.1, 0.5, 0.8, 0.95};

std::string band_words(std::size_t band) {
  if (band == 0) return "below 10 %";
  if (band + 1 == std::size(bands)) return "95 % and above";
  return fmt::format("{:.0f} to {:.0f} %", 100 * bands[band], 100 * bands[band + 1]);
}

std::size_t band_of(double chance) {
  std::size_t band = 0;
  while (band + 1 < std::size(bands) && chance >= bands[band + 1]) ++band;
  return band;
}

std::vector<study::Point> values(const StudiedMap& m, const std::vector<study::Point>& shares) {
  std::vector<study::Point> points;
  for (const study::Point& u : shares)
    points.push_back({StudiedMap::value(m.x, u[0]), StudiedMap::value(m.y, u[1])});
  return points;
}

study::Evaluate by_verdict(const StudiedMap& m, Study& study) {
  return [&m, evaluate = study.over({m.x.knob, m.y.knob})](const std::vector<study::Point>& u) {
    return evaluate(values(m, u));
  };
}

// Each band of the chance is a region.
study::Evaluate by_chance(const StudiedMap& m, ChanceStudy& chances) {
  return [&m, &chances](const std::vector<study::Point>& u) {
    std::vector<study::Judged> runs;
    for (const ChanceStudy::At& at : chances.at(values(m, u))) {
      study::Judged run;
      if (!study::cut_short(at.runs)) {
        run.state = study::State::computed;
        run.verdict = fmt::format("chance_{}", band_of(at.good.value));
        run.good = band_of(at.good.value) + 1 == std::size(bands);
        run.margin = at.good.value;
        run.numbers = {at.good.value, at.good.low, at.good.high};
      }
      runs.push_back(std::move(run));
    }
    return runs;
  };
}

std::vector<MapQuantity> quantities(bool chance) {
  if (chance)
    return {{"chance", "1", "chance of a good weld"},
            {"chance_low", "1", "lower end of its 95 % interval"},
            {"chance_high", "1", "upper end"}};
  std::vector<MapQuantity> list;
  for (const StudiedQuantity& q : studied_quantities()) list.push_back({q.key, q.unit, q.words});
  return list;
}

std::vector<double> levels_between(double low, double high) {
  if (!(high > low)) return {};
  const drawing::RoundAxis axis = drawing::round_axis(low, high, 7);
  std::vector<double> levels;
  for (double v = axis.low; v <= high; v += axis.step)
    if (v > low && v < high) levels.push_back(v);
  return levels;
}

pictures::LobeContour contour(const StudiedMap& m, const std::string& title,
                              const std::function<double(const study::MapCorner&)>& of) {
  pictures::LobeContour c{title, {}, {}};
  double low = 1e300, high = -1e300;
  for (const study::MapCorner& corner : m.map.corners) {
    const double value = corner.numbers.empty() ? 0 : of(corner);
    c.values.push_back(static_cast<float>(value));
    if (corner.numbers.empty()) continue;
    low = std::min(low, value);
    high = std::max(high, value);
  }
  c.levels = levels_between(low, high);
  return c;
}

std::vector<pictures::LobeContour> contours(const StudiedMap& m, bool chance) {
  if (chance) return {};
  return {contour(m, "nugget [mm]", [](const auto& c) { return 1e3 * c.numbers[0]; }),
          contour(m, "inner wall, hottest [\u00b0C]",
                  [](const auto& c) { return c.numbers[1] - 273.15; }),
          // Far from the window the least margin says nothing that its sign does not.
          contour(m, "least margin [%]",
                  [](const auto& c) { return 100 * std::clamp(c.margin, -0.5, 1.0); })};
}

pictures::LobeAxis drawn_axis(const KnobSpan& span) {
  const Knob& k = span.knob;
  const std::string title = k.unit() == "1" ? k.key : fmt::format("{} [{}]", k.key, k.unit());
  return {title, k.in_unit(span.from), k.in_unit(span.to), k.in_unit(k.value)};
}

std::string sentence(const StudiedMap& m, bool chance, const Study& study) {
  std::size_t good = 0;
  for (const study::MapCorner& corner : m.map.corners) good += corner.good ? 1 : 0;
  const double all = static_cast<double>(m.map.corners.size());
  std::string text =
      fmt::format("{} of the picture {}; {} of {} points computed ({:.1f} %)",
                  share_words(static_cast<double>(good) / all),
                  chance ? "is a good weld with 95 % or more" : "is a good weld", m.map.runs,
                  m.map.corners.size(), 100 * static_cast<double>(m.map.runs) / all);
  if (study.counts().failed > 0)
    text += fmt::format("; {} runs could not be computed", study.counts().failed);
  return text + ".";
}

pictures::Lobe lobe(const StudiedMap& m, bool chance, const std::string& words) {
  pictures::Lobe drawn;
  drawn.head = {m.title,
                words,
                chance ? "Chance of a good weld" : "Weld lobe",
                m.x.knob.key + " and " + m.y.knob.key,
                "tabmelt " TABMELT_VERSION "  \u00b7  map",
                m.map.complete ? "" : "study cut short: what was computed until then"};
  drawn.x = drawn_axis(m.x);
  drawn.y = drawn_axis(m.y);
  drawn.cells = m.map.cells;
  drawn.chance = chance;
  std::vector<std::string> regions = m.regions();
  if (chance) std::sort(regions.begin(), regions.end());
  std::vector<std::size_t> counts(regions.size(), 0);
  for (int j = 0; j <= m.map.cells; ++j)
    for (int i = 0; i <= m.map.cells; ++i) {
      const study::MapCorner& corner = m.map.at(i, j);
      const auto at = std::find(regions.begin(), regions.end(), corner.region);
      drawn.region.push_back(at == regions.end() ? -1 : static_cast<int>(at - regions.begin()));
      if (at != regions.end()) ++counts[static_cast<std::size_t>(at - regions.begin())];
      if (!corner.run) continue;
      const auto place = [&](const KnobSpan& span, int n) {
        return span.knob.in_unit(span.from +
                                 (span.to - span.from) * static_cast<double>(n) / m.map.cells);
      };
      drawn.runs.push_back({place(m.x, i), place(m.y, j)});
    }
  const double all = static_cast<double>(m.map.corners.size());
  for (std::size_t n = 0; n < regions.size(); ++n) {
    const bool is_band = regions[n].starts_with("chance_");
    drawn.regions.push_back({is_band ? band_words(static_cast<std::size_t>(regions[n].back() - '0'))
                                     : region_words(regions[n]),
                             regions[n] == "fused", static_cast<double>(counts[n]) / all});
  }
  drawn.contours = contours(m, chance);
  return drawn;
}

std::string file_stem(const StudiedMap& m, bool chance) {
  std::string stem = (chance ? "chance-" : "map-") + m.x.knob.key + "-" + m.y.knob.key;
  for (char& c : stem)
    if (c == '.' || c == ' ' || c == '/') c = '_';
  return stem;
}

void keep(Session& session, const StudiedMap& m, bool chance) {
  const std::string stem = file_stem(m, chance);
  const std::string words = sentence(m, chance, session.study());
  session.write(stem + ".csv", map_csv(m));
  if (session.study().speaks()) write_map_file(m, session.study().folder() / (stem + ".h5"));
  session.draw(pictures::lobe_page(lobe(m, chance, words)), stem + ".png");
  session.say(fmt::format("{}: {}\n", m.title, words));
}

bool power_of_two(int n) { return std::has_single_bit(static_cast<unsigned>(n)); }

void require_sound(const MapOptionsAsked& options) {
  if (options.over.size() != 2) refuse_input("a map needs --over KEY=from..to twice");
  if (!power_of_two(options.cells) || !power_of_two(options.coarse) ||
      options.coarse > options.cells)
    refuse_input("--cells and --coarse are powers of two, --coarse no more than --cells");
}

}  // namespace

ExitStatus map(const MapOptionsAsked& options) {
  require_sound(options);
  Session session(options.study);
  Study& study = session.study();
  StudiedMap m{knob_span(study.base(), options.over[0]),
               knob_span(study.base(), options.over[1]),
               {},
               quantities(options.chance),
               study.base().full_text,
               study.base().title};
  if (m.x.knob.key == m.y.knob.key) refuse_input("a map is over two different keys");
  const auto draws = static_cast<std::size_t>(options.draws);
  ChanceStudy chances(study, {m.x.knob, m.y.knob}, options.chance ? draws : 0);

  // About as many as a picture with two boundaries across it takes.
  const auto corners = static_cast<std::size_t>((options.cells + 1) * (options.cells + 1));
  session.progress().stage("map", corners / 9 * (options.chance ? draws + 1 : 1));
  m.map = study::verdict_map(options.chance ? by_chance(m, chances) : by_verdict(m, study),
                             {options.cells, options.coarse});
  keep(session, m, options.chance);
  return session.finish();
}

}  // namespace tabmelt::command
