// What the program tells the shell. With several cases the highest status of them counts.
#pragma once

namespace tabmelt {

enum class ExitStatus {
  fine = 0,
  limit_exceeded = 1,  // `check` only: a limit of the cell is exceeded
  wrong_input = 2,     // case file, command line or output folder
  unfinished = 3,      // the computation could not finish or was interrupted
  own_bug = 4,
};

}  // namespace tabmelt
