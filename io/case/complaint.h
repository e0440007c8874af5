// What is wrong with an input, in words for the person who wrote it.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace tabmelt {

struct Complaint {
  std::string file;
  int line = 0;         // 0: not tied to a line
  std::string excerpt;  // the line's text, may be empty
  std::string message;  // what was found and what is allowed
};

class InputError : public std::runtime_error {
 public:
  explicit InputError(std::vector<Complaint> list);
  const std::vector<Complaint>& complaints() const { return complaints_; }

 private:
  std::vector<Complaint> complaints_;
};

// Throws an InputError of one complaint that belongs to no place in a file.
[[noreturn]] void refuse_input(const std::string& message);

}  // namespace tabmelt
