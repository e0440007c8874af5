#include "viz/pictures/flat_section.h"

#include <algorithm>
#include <cmath>

namespace tabmelt::pictures {

FlatSection::FlatSection(const StoredRun& run, const SectionMesh& section)
    : run_(run),
      section_(section),
      drawn_(run.region.size(), -1),
      cone_(silhouette(run, region::electrode)) {
  for (std::size_t n = 0; n < section.places.size(); ++n) {
    drawn_[section.places[n]] = static_cast<std::int32_t>(n);
  }
}

FlatSection::Crossing FlatSection::crossing(const std::vector<double>& edges, double metres) {
  const auto above = std::upper_bound(edges.begin(), edges.end(), metres);
  if (above == edges.begin() || above == edges.end()) {
    return {-1, 0, metres};
  }
  return {static_cast<int>(above - edges.begin()) - 1,
          static_cast<float>((metres - *(above - 1)) / (*above - *(above - 1))), metres};
}

std::uint32_t FlatSection::pixel(const Crossing& along, const Crossing& across,
                                 const std::vector<float>& places,
                                 const std::vector<std::uint32_t>& paints) const {
  constexpr std::uint32_t blank = 0xffffff;
  if (along.cell < 0) {
    return blank;
  }
  const std::int32_t drawn = drawn_[static_cast<std::size_t>(across.cell) * columns(run_) +
                                    static_cast<std::size_t>(along.cell)];
  if (drawn < 0) {
    return blank;
  }
  const auto n = static_cast<std::size_t>(drawn);
  // Cells of a cone are filled up to its straight surface only.
  if (!cone_.empty() && section_.parts[n] == region::electrode &&
      along.at > radius_at(cone_, across.at)) {
    return blank;
  }
  const auto place = [&](std::size_t corner) {
    return places[static_cast<std::size_t>(section_.mesh.cells[n][corner])];
  };
  const float low = std::lerp(place(0), place(1), along.share);
  const float high = std::lerp(place(3), place(2), along.share);
  const int band = static_cast<int>(low + across.share * (high - low));
  return paints[static_cast<std::size_t>(std::clamp(band, 0, static_cast<int>(paints.size()) - 1))];
}

void FlatSection::draw(Page& page, const Box& box, const Sight& sight,
                       const std::vector<float>& places, const std::vector<Colour>& bands) const {
  const Box whole{std::round(box.x), std::round(box.y), std::round(box.right()) - std::round(box.x),
                  std::round(box.top()) - std::round(box.y)};
  const int width = static_cast<int>(whole.width), height = static_cast<int>(whole.height);
  if (width < 1 || height < 1) {
    return;
  }
  std::vector<std::uint32_t> paints;
  for (const Colour& colour : bands) {
    std::uint32_t paint = 0;
    for (const double share : {colour.red, colour.green, colour.blue}) {
      paint = paint << 8 | static_cast<std::uint32_t>(std::lround(255 * share));
    }
    paints.push_back(paint);
  }
  std::vector<Crossing> along;
  for (int n = 0; n < width; ++n) {
    const double x = sight.in_mm(box, {whole.x + n + 0.5, 0}).x / millimetres;
    along.push_back(x < 0 && !sight.mirror ? Crossing{} : crossing(run_.r_edges, std::abs(x)));
  }
  std::vector<std::uint32_t> pixels;
  pixels.reserve(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  for (int row = 0; row < height; ++row) {
    const Crossing across =
        crossing(run_.z_edges, sight.in_mm(box, {0, whole.top() - row - 0.5}).y / millimetres);
    for (const Crossing& column : along) {
      pixels.push_back(across.cell < 0 ? 0xffffff : pixel(column, across, places, paints));
    }
  }
  page.image(whole, width, height, std::move(pixels));
}

}  // namespace tabmelt::pictures
