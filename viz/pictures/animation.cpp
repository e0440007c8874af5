#include "viz/pictures/animation.h"

#include <fmt/format.h>

namespace tabmelt::pictures {

Animation::Animation(const StoredRun& run, const std::optional<TemperatureRange>& range)
    : times_(all_times({run})), layout_(width, height, 1) {
  runs_.push_back(std::make_unique<ShownRun>(run));
  shown_.level = first_isotherm(run);
  shown_.range = range;
  scale_ = common_scale(runs_, shown_);
}

Page Animation::page(std::size_t moment) {
  shown_.moment = moment;
  const Box& panel = layout_.panels.front();
  const Window near = window_around_spot(runs_.front()->run(), panel.width / panel.height);
  const Sight sight(near, panel);
  const View view{layout_, shown_, scale_, times_, runs_, sight};
  Page page(width, height);
  draw_sections(page, view);
  draw_names(page, view);
  draw_around_sections(page, view);
  return page;
}

std::vector<std::filesystem::path> write_moments(const StoredRun& run,
                                                 const std::filesystem::path& folder,
                                                 const std::optional<TemperatureRange>& range) {
  Animation animation(run, range);
  std::vector<std::filesystem::path> files;
  for (std::size_t moment = 0; moment < animation.moments(); ++moment) {
    files.push_back(folder / fmt::format("moment-{:04}.png", moment));
    animation.page(moment).save(files.back(), Animation::width);
  }
  return files;
}

}  // namespace tabmelt::pictures
