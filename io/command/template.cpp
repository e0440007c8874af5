
#include <cstdio>

#include "io/case/explain.h"
#include "io/command/commands.h"
#include "io/command/say.h"

namespace tabmelt::command {

ExitStatus template_file() {
  say(stdout, template_case());
  return ExitStatus::fine;
}

}  // namespace tabmelt::command
