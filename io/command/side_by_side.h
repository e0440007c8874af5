// Several pieces of work at once on the cores, their answers delivered in the order asked.
#pragma once

#include <cstddef>
#include <functional>
#include <string>

#include "io/command/exit_status.h"

namespace tabmelt::command {

struct Answer {
  std::string out;    // for standard output
  std::string error;  // for standard error
  ExitStatus status = ExitStatus::fine;
};

// Calls work(0..count-1) on all cores and deliver(i, answer) for i = 0, 1, 2, ... one at a time.
// At most one piece of work per core is under way and only a few answers wait to be delivered,
// so memory does not grow with count. An exception in work becomes that piece's Answer. Returns
// the highest status.
ExitStatus side_by_side(std::size_t count, const std::function<Answer(std::size_t)>& work,
                        const std::function<void(std::size_t, const Answer&)>& deliver);

}  // namespace tabmelt::command
