#include "io/command/side_by_side.h"

#include <tbb/parallel_pipeline.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <utility>

#include "io/command/failure.h"

namespace tabmelt::command {

ExitStatus side_by_side(std::size_t count, const std::function<Answer(std::size_t)>& work,
                        const std::function<void(std::size_t, const Answer&)>& deliver) {
  ExitStatus worst = ExitStatus::fine;
  std::size_t next = 0;
  using Numbered = std::pair<std::size_t, Answer>;
  const auto answered = [&](std::size_t index) -> Numbered {
    try {
      return {index, work(index)};
    } catch (...) {
      const Failure failure = current_failure();
      return {index, Answer{"", failure.message, failure.status}};
    }
  };
  const auto delivered = [&](const Numbered& answer) {
    worst = std::max(worst, answer.second.status);
    deliver(answer.first, answer.second);
  };
  // One piece has no company; a process without threads may then divide others off to read results.
  if (count == 1) {
    delivered(answered(next));
    return worst;
  }
  // Four per core: a slow case does not leave the other cores idle at once.
  const auto in_flight = static_cast<std::size_t>(4 * tbb::this_task_arena::max_concurrency());
  tbb::parallel_pipeline(
      in_flight,
      tbb::make_filter<void, std::size_t>(tbb::filter_mode::serial_in_order,
                                          [&](tbb::flow_control& flow) -> std::size_t {
                                            if (next < count) return next++;
                                            flow.stop();
                                            return count;
                                          }) &
          tbb::make_filter<std::size_t, Numbered>(tbb::filter_mode::parallel, answered) &
          tbb::make_filter<Numbered, void>(tbb::filter_mode::serial_in_order, delivered));
  return worst;
}

}  // namespace tabmelt::command
