
#include <cstdio>

#include "io/case/explain.h"
#include "io/command/commands.h"

namespace tabmelt {

ExitStatus template_file() {
  std::fputs(template_case().c_str(), stdout);
  return ExitStatus::fine;
}

}  // namespace tabmelt
