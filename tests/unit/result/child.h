// A piece of a test in a process of its own, for what may end a process, never end, or change the
// process for good.
#pragma once

#include <functional>
#include <string>

namespace tabmelt::sample {

inline constexpr int not_permitted = 77;

struct ChildOutcome {
  int status = 0;    // exit status, or minus the signal that ended the child
  std::string told;  // what `run` returned
};

// `prepare` returns false where the system does not permit what the test needs; then the status
// is not_permitted. The child ends through exit(), clean-up of the libraries included, with 0 after
// `run`. A child that takes too long is ended by SIGXCPU or SIGALRM, so that no test can hang.
ChildOutcome in_child(const std::function<bool()>& prepare, const std::function<std::string()>& run,
                      unsigned processor_seconds = 20);

}  // namespace tabmelt::sample
