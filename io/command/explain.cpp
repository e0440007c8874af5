#include "io/case/explain.h"

#include <cstdio>

#include "io/command/commands.h"

namespace tabmelt {

ExitStatus explain(const std::optional<std::string>& key) {
  const std::string text = key ? explain(*key) : explain_all();
  // An explanation starts with the key or its table; an answer about an unknown one says so.
  const bool unknown = text.starts_with("unknown key");
  std::fputs(text.c_str(), unknown ? stderr : stdout);
  return unknown ? ExitStatus::wrong_input : ExitStatus::fine;
}

}  // namespace tabmelt
