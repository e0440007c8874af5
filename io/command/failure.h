// An exception in words and as an exit status: the one place that decides which is which.
#pragma once

#include <string>

#include "io/case/read_case.h"
#include "io/command/exit_status.h"

namespace tabmelt::command {

struct Failure {
  ExitStatus status = ExitStatus::own_bug;
  std::string message;  // ends with a line break
};

// The exception being handled; call it inside a catch block only.
Failure current_failure();

// "file:line: message" with the line's text below it, one after the other, and their number.
std::string words(const InputError&);
// The same without their number.
std::string complaints_text(const std::vector<Complaint>&);

}  // namespace tabmelt::command
