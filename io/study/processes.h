// The processes that work on one study together: one, or those that MPI started.
//
// All of them take the same decisions from the same answers; each computes its share of every batch
// and hears the shares of the others. Without MPI, or under it with one process, there is nothing
// to share.
#pragma once

#include <string>
#include <vector>

namespace tabmelt {

class Processes {
 public:
  virtual ~Processes() = default;
  virtual int rank() const { return 0; }
  virtual int count() const { return 1; }
  // What every process has to say, in the order of their ranks. All must call it.
  virtual std::vector<std::string> gathered(const std::string& mine) { return {mine}; }
  bool first() const { return rank() == 0; }
};

// Joins the other processes if the program was built with MPI and started by it. The same for every
// call.
Processes& joined_processes();

// The last thing a program does: whoever starts the processes may end all of them as soon as one
// has failed, so none ends before the others have said what they have to say. Waits for them; if
// this one has failed not for long, since they may be waiting for it, and then ends them all.
void leave_processes(bool failed);

}  // namespace tabmelt
