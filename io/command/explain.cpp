#include "io/case/explain.h"

#include <cstdio>

#include "io/command/commands.h"

namespace tabmelt {

ExitStatus explain(const std::optional<std::string>& key) {
  std::fputs((key ? explain(*key) : explain_all()).c_str(), stdout);
  return ExitStatus::fine;
}

}  // namespace tabmelt
