#include "io/study/map_file.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "io/store/hdf5_datasets.h"
#include "io/store/hdf5_section.h"
#include "io/store/result_writer.h"
#include "io/study/study_words.h"

namespace tabmelt {
namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

double number_of(const study::MapCorner& corner, std::size_t n) {
  return n < corner.numbers.size() ? corner.numbers[n] : nothing;
}

std::vector<double> axis(const KnobSpan& span, int cells) {
  std::vector<double> values;
  for (int i = 0; i <= cells; ++i)
    values.push_back(span.knob.in_unit(StudiedMap::value(span, static_cast<double>(i) / cells)));
  return values;
}

std::string hdf5_unit(const Knob& knob) { return knob.unit(); }

template <typename Number, typename Of>
void write_corners(H5::Group& group, const StudiedMap& m, const std::string& name,
                   const hdf5::Meaning& meaning, std::vector<H5::DataSet>& scales, Of of) {
  std::vector<Number> values;
  for (const study::MapCorner& corner : m.map.corners) values.push_back(of(corner));
  const auto side = static_cast<hsize_t>(m.map.cells + 1);
  H5::DataSet set = hdf5::write_packed_array<Number>(group, name, {side, side}, values, meaning);
  hdf5::attach_scale(set, scales[1], 0);
  hdf5::attach_scale(set, scales[0], 1);
  if (name == "verdict")
    hdf5::write_text_attribute(set, "meanings", fmt::format("{}", fmt::join(m.regions(), ", ")));
}

void write_all(H5::Group& group, const StudiedMap& m) {
  std::vector<H5::DataSet> scales;
  for (const auto& [name, span] : {std::pair<std::string, const KnobSpan&>{"x", m.x},
                                   std::pair<std::string, const KnobSpan&>{"y", m.y}}) {
    scales.push_back(hdf5::write_array<double>(group, name, {static_cast<hsize_t>(m.map.cells + 1)},
                                               axis(span, m.map.cells),
                                               {hdf5_unit(span.knob), span.knob.key}));
    hdf5::make_scale(scales.back(), span.knob.key);
  }
  const std::vector<std::string> regions = m.regions();
  write_corners<std::int32_t>(
      group, m, "verdict", {"1", "number of the region"}, scales, [&](const auto& corner) {
        return static_cast<std::int32_t>(std::find(regions.begin(), regions.end(), corner.region) -
                                         regions.begin());
      });
  write_corners<std::int32_t>(group, m, "computed", {"1", "run, not inferred"}, scales,
                              [](const auto& corner) { return corner.run ? 1 : 0; });
  write_corners<double>(
      group, m, "margin", {"1", "least margin of all limits"}, scales,
      [](const auto& corner) { return corner.numbers.empty() ? nothing : corner.margin; });
  for (std::size_t n = 0; n < m.quantities.size(); ++n)
    write_corners<double>(group, m, m.quantities[n].key,
                          {m.quantities[n].unit, m.quantities[n].words}, scales,
                          [n](const auto& corner) { return number_of(corner, n); });
  hdf5::write_text(group, "case", m.case_text, {"1", "complete case"});
  hdf5::write_text_attribute(group, "title", m.title);
}

}  // namespace

double StudiedMap::value(const KnobSpan& span, double u) {
  const double value = span.from + u * (span.to - span.from);
  return span.knob.whole() ? std::round(value) : value;
}

std::vector<std::string> StudiedMap::regions() const {
  std::map<std::string, std::pair<bool, std::size_t>> counts;
  for (const study::MapCorner& corner : map.corners) {
    if (corner.region.empty()) continue;
    counts[corner.region].first = corner.good;
    ++counts[corner.region].second;
  }
  std::vector<std::string> names;
  for (const auto& [name, count] : counts) names.push_back(name);
  std::stable_sort(names.begin(), names.end(), [&](const auto& a, const auto& b) {
    return std::pair(!counts[a].first, counts[b].second) <
           std::pair(!counts[b].first, counts[a].second);
  });
  return names;
}

std::string map_csv(const StudiedMap& m) {
  std::vector<std::string> head{fmt::format("{} [{}]", m.x.knob.key, m.x.knob.unit()),
                                fmt::format("{} [{}]", m.y.knob.key, m.y.knob.unit()),
                                "computed",
                                "verdict",
                                "good",
                                "margin [1]"};
  for (const MapQuantity& q : m.quantities) head.push_back(fmt::format("{} [{}]", q.key, q.unit));
  std::string text = csv_line(head);
  const std::vector<double> x = axis(m.x, m.map.cells), y = axis(m.y, m.map.cells);
  for (std::size_t j = 0; j < y.size(); ++j)
    for (std::size_t i = 0; i < x.size(); ++i) {
      const study::MapCorner& corner = m.map.at(static_cast<int>(i), static_cast<int>(j));
      const bool known = !corner.numbers.empty();
      std::vector<std::string> cells{fmt::format("{:.9g}", x[i]),
                                     fmt::format("{:.9g}", y[j]),
                                     corner.run ? "1" : "0",
                                     corner.region,
                                     known ? (corner.good ? "1" : "0") : "",
                                     known ? fmt::format("{:.6g}", corner.margin) : ""};
      for (std::size_t n = 0; n < m.quantities.size(); ++n)
        cells.push_back(known ? fmt::format("{:.9g}", number_of(corner, n)) : "");
      text += csv_line(cells);
    }
  return text;
}

void write_map_file(const StudiedMap& m, const std::filesystem::path& file) {
  const std::filesystem::path beside = file.string() + ".tmp";
  {
    const Hdf5Section section;
    try {
      H5::H5File h5(beside.string(), H5F_ACC_TRUNC);
      H5::Group root = h5.openGroup("/");
      write_all(root, m);
      h5.flush(H5F_SCOPE_GLOBAL);
    } catch (const H5::Exception&) {
      std::error_code ignored;
      std::filesystem::remove(beside, ignored);
      throw OutputError(file.string() + ": " + section.reason());
    }
  }
  std::error_code error;
  std::filesystem::rename(beside, file, error);
  if (error) throw OutputError(file.string() + ": " + error.message());
}

}  // namespace tabmelt
