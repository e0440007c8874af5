#include "io/case/explain.h"

#include <cstdio>

#include "io/command/commands.h"
#include "io/command/output_pages.h"

namespace tabmelt {

ExitStatus explain(const std::optional<std::string>& key) {
  if (key) {
    if (const auto page = output_page(*key)) {
      std::fputs(page->c_str(), stdout);
      return ExitStatus::fine;
    }
  }
  const std::string text = key ? explain(*key) : explain_all();
  // An explanation starts with the word or its table; an answer about an unknown one says so.
  const bool unknown = text.starts_with("unknown ");
  std::fputs(text.c_str(), unknown ? stderr : stdout);
  return unknown ? ExitStatus::wrong_input : ExitStatus::fine;
}

}  // namespace tabmelt
