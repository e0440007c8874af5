#include "viz/flat_section.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "viz/outlines.h"

namespace tabmelt {

FlatSection::FlatSection(const StoredRun& run, const LiveSection& live)
    : run_(run), live_(live), cone_(silhouette(run, region::electrode)) {}

void FlatSection::look(const Sight& sight) {
  sight_ = sight;
  const auto crossing = [](const std::vector<double>& edges, double metres) {
    Crossing found{-1, 0, metres};
    const auto above = std::upper_bound(edges.begin(), edges.end(), metres);
    if (above != edges.begin() && above != edges.end()) {
      found.cell = static_cast<int>(above - edges.begin()) - 1;
      found.share = static_cast<float>((metres - *(above - 1)) / (*above - *(above - 1)));
    }
    return found;
  };
  const auto place = [&](int pixel, int pixels, double middle) {
    return (middle + sight.mm_per_pixel * (pixel + 0.5 - 0.5 * pixels)) / millimetres;
  };
  columns_.clear();
  for (int n = 0; n < sight.width; ++n) {
    const double x = place(n, sight.width, sight.x);
    columns_.push_back(x < 0 && !sight.mirror ? Crossing{} : crossing(run_.r_edges, std::abs(x)));
  }
  rows_.clear();
  for (int n = 0; n < sight.height; ++n) {
    rows_.push_back(crossing(run_.z_edges, place(n, sight.height, sight.y)));
  }
  image_->SetDimensions(sight.width, sight.height, 1);
  image_->AllocateScalars(VTK_UNSIGNED_CHAR, 3);
}

void FlatSection::paint_row(std::size_t row, const std::vector<std::array<std::uint8_t, 3>>& paints,
                            std::uint8_t* pixels) const {
  constexpr std::uint8_t blank = 255;
  const Crossing& across = rows_[row];
  const std::size_t nr = columns(run_);
  const float* const places = live_.places();
  // Cells of a cone are filled up to its straight surface only.
  const double reach = across.cell < 0 || cone_.empty() ? std::numeric_limits<double>::infinity()
                                                        : radius_at(cone_, across.at);
  const auto last = static_cast<int>(paints.size()) - 1;
  for (const Crossing& along : columns_) {
    const std::array<std::int32_t, 4>* corners = nullptr;
    if (along.cell >= 0 && across.cell >= 0) {
      const std::size_t cell =
          static_cast<std::size_t>(across.cell) * nr + static_cast<std::size_t>(along.cell);
      const bool beyond_cone = along.at > reach && live_.part_drawn(cell) == region::electrode;
      corners = beyond_cone ? nullptr : &live_.corners(cell);
    }
    if (corners == nullptr || corners->front() < 0) {
      std::fill_n(pixels, 3, blank);
    } else {
      const auto& c = *corners;
      const float low = std::lerp(places[c[0]], places[c[1]], along.share);
      const float high = std::lerp(places[c[3]], places[c[2]], along.share);
      const int band = static_cast<int>(low + across.share * (high - low));
      std::copy_n(paints[static_cast<std::size_t>(std::clamp(band, 0, last))].data(), 3, pixels);
    }
    pixels += 3;
  }
}

void FlatSection::paint(const Sight& sight, const std::vector<Colour>& bands) {
  if (sight.width < 1 || sight.height < 1 || bands.empty()) {
    return;
  }
  if (!(sight == sight_)) {
    look(sight);
  }
  std::vector<std::array<std::uint8_t, 3>> paints;
  for (const Colour& colour : bands) {
    const auto byte = [](double share) {
      return static_cast<std::uint8_t>(std::lround(255 * share));
    };
    paints.push_back({byte(colour.red), byte(colour.green), byte(colour.blue)});
  }
  auto* const pixels = static_cast<std::uint8_t*>(image_->GetScalarPointer());
  for (std::size_t row = 0; row < rows_.size(); ++row) {
    paint_row(row, paints, pixels + 3 * row * columns_.size());
  }
  image_->Modified();
}

}  // namespace tabmelt
