#include "io/command/self_description.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cstdio>
#include <sstream>
#include <vector>

#include "io/case/explain.h"
#include "io/case/nearest.h"
#include "solver/words/glossary.h"

namespace tabmelt::command {
namespace {

using Words = std::vector<std::string>;

std::vector<const CLI::App*> commands_of(const CLI::App& app) {
  return app.get_subcommands([](const CLI::App*) { return true; });
}

// "--output", "-o": as they are typed.
Words option_names(const CLI::App& command) {
  Words names;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    for (const std::string& name : option->get_snames()) names.push_back("-" + name);
  }
  return names;
}

Words command_names(const CLI::App& app) {
  Words names;
  for (const CLI::App* command : commands_of(app)) names.push_back(command->get_name());
  return names;
}

// Text of a manual page: nothing in it is taken for a macro or an escape.
std::string roff(const std::string& text) {
  std::string safe;
  bool at_start = true;
  for (const char c : text) {
    if (at_start && (c == '.' || c == '\'')) safe += "\\&";
    if (c == '\\')
      safe += "\\e";
    else if (c == '-')
      safe += "\\-";
    else
      safe += c;
    at_start = c == '\n';
  }
  if (!safe.empty() && safe.back() != '\n') safe += '\n';
  return safe;
}

std::string as_typed(const std::string& text) { return ".nf\n" + roff(text) + ".fi\n"; }

std::string options_in_roff(const CLI::App& command) {
  std::string text;
  for (const CLI::Option* option : command.get_options()) {
    std::string name = option->get_name(option->get_positional(), true);
    std::replace(name.begin(), name.end(), ',', ' ');
    const std::string value = option->get_type_name();
    if (!option->get_positional() && !value.empty()) name += " " + value;
    text += ".TP\n.B " + roff(name) + roff(option->get_description());
  }
  return text;
}

}  // namespace

ExitStatus print_completion(const CLI::App& app) {
  std::string script =
      "# Completion of tabmelt for bash, made by `tabmelt completion bash`.\n"
      "_tabmelt() {\n"
      "  local word=${COMP_WORDS[COMP_CWORD]} command=${COMP_WORDS[1]} words=\n"
      "  if ((COMP_CWORD == 1)); then\n";
  script += fmt::format("    words='{} {}'\n", fmt::join(command_names(app), " "),
                        fmt::join(option_names(app), " "));
  script += "  else\n    case $command in\n";
  for (const CLI::App* command : commands_of(app))
    script += fmt::format("      {}) words='{}' ;;\n", command->get_name(),
                          fmt::join(option_names(*command), " "));
  script +=
      "    esac\n"
      "  fi\n"
      "  COMPREPLY=()\n"
      "  if [[ $word == -* ]] || ((COMP_CWORD == 1)); then\n"
      "    mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$word\")\n"
      "  elif [[ $command == explain ]]; then\n";
  script += fmt::format("    mapfile -t COMPREPLY < <(compgen -W '{}' -- \"$word\")\n",
                        fmt::join(explained_words(), " "));
  script +=
      "  else\n"
      "    mapfile -t COMPREPLY < <(compgen -f -- \"$word\")\n"
      "  fi\n"
      "}\n"
      "complete -o filenames -F _tabmelt tabmelt\n";
  std::fputs(script.c_str(), stdout);
  return ExitStatus::fine;
}

ExitStatus print_manual(const CLI::App& app) {
  std::string page =
      ".TH TABMELT 1\n.SH NAME\ntabmelt \\- what a spot\\-weld pulse does to a nickel "
      "strip and the cell under it\n.SH SYNOPSIS\n.B tabmelt\n";
  page += fmt::format("{}", fmt::join(command_names(app), " | ")) + " ...\n";
  page += ".SH DESCRIPTION\n" + as_typed(app.get_description());
  page += ".SH COMMANDS\n";
  for (const CLI::App* command : commands_of(app)) {
    page += ".SS " + roff(command->get_name()) + roff(command->get_description());
    page += options_in_roff(*command);
    if (!command->get_footer().empty()) page += ".PP\n" + as_typed(command->get_footer());
  }
  page += ".SH EXAMPLES AND EXIT STATUS\n" + as_typed(app.get_footer());
  page += ".SH WORDS\n";
  for (const Term& term : glossary()) page += ".TP\n.B " + roff(term.word) + roff(term.meaning);
  page += ".SH CASE FILE\n" + as_typed(explain_all());
  std::fputs(page.c_str(), stdout);
  return ExitStatus::fine;
}

std::optional<std::string> suggestion(const CLI::App& app, const Words& asked) {
  if (asked.empty()) return std::nullopt;
  const Words commands = command_names(app);
  const auto named = std::find(commands.begin(), commands.end(), asked.front());
  if (named == commands.end() && !asked.front().starts_with("-")) {
    const auto meant = nearest(asked.front(), commands);
    return fmt::format("there is no command \"{}\"; {}", asked.front(),
                       meant ? "did you mean \"" + *meant + "\"?"
                             : fmt::format("there are {}", fmt::join(commands, ", ")));
  }
  const bool of_command = named != commands.end();
  const Words options = option_names(of_command ? *app.get_subcommand(asked.front()) : app);
  for (const std::string& word : asked) {
    const std::string name = word.substr(0, word.find('='));
    if (!name.starts_with("--") || name == "--") continue;
    if (std::find(options.begin(), options.end(), name) != options.end()) continue;
    const auto meant = nearest(name, options);
    return fmt::format("{}there is no option \"{}\"; {}", of_command ? asked.front() + ": " : "",
                       name,
                       meant ? "did you mean \"" + *meant + "\"?"
                             : fmt::format("there are {}", fmt::join(options, ", ")));
  }
  return std::nullopt;
}

}  // namespace tabmelt::command
