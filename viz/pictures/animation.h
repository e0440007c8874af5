// A run moment after moment, as numbered pictures or for a movie.
#pragma once

#include <filesystem>
#include <vector>

#include "viz/pictures/moment_view.h"

namespace tabmelt::pictures {

class Animation {
 public:
  // Throws PictureError if the run, which must outlive this, holds no frames.
  explicit Animation(const StoredRun&, const std::optional<TemperatureRange>& = {});
  static constexpr int width = 1280, height = 800;
  std::size_t moments() const { return times_.size(); }
  Page page(std::size_t moment);

 private:
  std::vector<double> times_;
  ShownRuns runs_;
  Shown shown_;
  Scale scale_;
  MomentLayout layout_;
};

// moment-0000.png and so on into a folder; returns the files. Throws PictureError if the run holds
// no frames or a file cannot be written.
std::vector<std::filesystem::path> write_moments(const StoredRun&,
                                                 const std::filesystem::path& folder,
                                                 const std::optional<TemperatureRange>& = {});

}  // namespace tabmelt::pictures
