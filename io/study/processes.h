// The processes that work on one study together: one, or those that MPI started.
//
// All of them take the same decisions from the same answers; each computes its share of every batch
// and hears the shares of the others. Without MPI, or under it with one process, there is nothing
// to share.
#pragma once

#include <memory>
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

// Joins the other processes if the program was built with MPI and started by it. Once per program;
// leaving is the end of the returned object.
std::unique_ptr<Processes> joined_processes();

}  // namespace tabmelt
