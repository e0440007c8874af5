#include "io/case/explain.h"

#include <cstdio>

#include "io/command/commands.h"
#include "io/command/output_pages.h"
#include "io/command/say.h"

namespace tabmelt::command {

ExitStatus explain(const std::optional<std::string>& key) {
  if (key) {
    if (const auto page = output_page(*key)) {
      say(stdout, *page);
      return ExitStatus::fine;
    }
  }
  const std::string text = key ? tabmelt::explain(*key) : explain_all();
  // An explanation starts with the word or its table; an answer about an unknown one says so.
  const bool unknown = text.starts_with("unknown ");
  say(unknown ? stderr : stdout, text);
  return unknown ? ExitStatus::wrong_input : ExitStatus::fine;
}

}  // namespace tabmelt::command
