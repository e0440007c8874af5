#include "io/command/side_by_side.h"

#include <tbb/parallel_pipeline.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <utility>

#include "io/command/failure.h"

namespace tabmelt {

ExitStatus side_by_side(std::size_t count, const std::function<Answer(std::size_t)>& work,
                        const std::function<void(std::size_t, const Answer&)>& deliver) {
  // Four per core: a slow case does not leave the other cores idle at once.
  const auto in_flight = static_cast<std::size_t>(4 * tbb::this_task_arena::max_concurrency());
  ExitStatus worst = ExitStatus::fine;
  std::size_t next = 0;
  using Numbered = std::pair<std::size_t, Answer>;
  tbb::parallel_pipeline(
      in_flight, tbb::make_filter<void, std::size_t>(tbb::filter_mode::serial_in_order,
                                                     [&](tbb::flow_control& flow) -> std::size_t {
                                                       if (next < count) return next++;
                                                       flow.stop();
                                                       return count;
                                                     }) &
                     tbb::make_filter<std::size_t, Numbered>(
                         tbb::filter_mode::parallel,
                         [&](std::size_t index) -> Numbered {
                           try {
                             return {index, work(index)};
                           } catch (...) {
                             const Failure failure = current_failure();
                             return {index, Answer{"", failure.message, failure.status}};
                           }
                         }) &
                     tbb::make_filter<Numbered, void>(
                         tbb::filter_mode::serial_in_order, [&](const Numbered& answer) {
                           worst = std::max(worst, answer.second.status);
                           deliver(answer.first, answer.second);
                         }));
  return worst;
}

}  // namespace tabmelt
