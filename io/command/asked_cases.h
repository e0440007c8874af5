// The cases named on the command line, all read before anything is computed.
#pragma once

#include <string>
#include <vector>

#include "io/case/overrides.h"

namespace tabmelt::command {

struct AskedCase {
  std::string name;  // of the folder that holds case.toml, else the file's name without ending
  Case asked;
};

// A case that cannot be computed, and why.
struct RefusedCase {
  std::string argument;
  std::vector<Complaint> complaints;
};

struct AskedCases {
  std::vector<AskedCase> good;
  std::vector<RefusedCase> refused;
};

// As read_cases(), but what is wrong with one case leaves the others.
AskedCases read_what_can_be(const std::vector<std::string>& arguments,
                            const std::vector<std::string>& overrides = {});

// Each argument is a case file, a folder that holds case.toml, or "-" for standard input. Throws
// one InputError with the complaints about all of them; also if two have the same name, because
// their results would share a folder.
// Overrides ("key=value") are laid over every case.
std::vector<AskedCase> read_cases(const std::vector<std::string>& arguments,
                                  const std::vector<std::string>& overrides = {});

}  // namespace tabmelt::command
