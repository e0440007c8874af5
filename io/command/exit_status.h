// What the program tells the shell. With several cases the highest status of them counts, but for
// not_good, which every other one goes before.
#pragma once

namespace tabmelt::command {

enum class ExitStatus {
  fine = 0,
  limit_exceeded = 1,  // `check` only: a limit of the cell is exceeded
  wrong_input = 2,     // case file, command line or output folder
  unfinished = 3,      // the computation could not finish or was interrupted
  own_bug = 4,
  not_good = 5,  // `run --require good` only: a weld is not good
};

}  // namespace tabmelt::command
