#include "cli/completion.hpp"

#include <fmt/core.h>

#include <CLI/CLI.hpp>

namespace dryclock::cli {
namespace {

std::string options_of(const CLI::App& app) {
  std::string list;
  for (const auto* option : app.get_options()) {
    for (const auto& name : option->get_lnames()) {
      list += " --" + name;
    }
  }
  return list;
}

std::string commands_of(const CLI::App& app) {
  std::string list;
  for (const auto* command : app.get_subcommands({})) {
    list += (list.empty() ? "" : " ") + command->get_name();
  }
  return list;
}

// Commands that have commands of their own, as a pattern for case: "vehicle|sensors".
std::string groups_of(const CLI::App& app) {
  std::string pattern;
  for (const auto* command : app.get_subcommands({})) {
    if (!command->get_subcommands({}).empty()) {
      pattern += (pattern.empty() ? "" : "|") + command->get_name();
    }
  }
  return pattern;
}

// One case line for each command: what may follow it.
void add_cases(const CLI::App& app, const std::string& path, const std::string& globals, std::string& out) {
  for (const auto* command : app.get_subcommands({})) {
    const auto name = path.empty() ? command->get_name() : path + " " + command->get_name();
    out += fmt::format("    \"{}\") known=\"{}{}{}\" ;;\n", name, commands_of(*command), options_of(*command),
                       globals);
    add_cases(*command, name, globals, out);
  }
}

}  // namespace

std::string bash_completion(const CLI::App& app) {
  const auto globals = options_of(app);
  std::string cases;
  add_cases(app, "", globals, cases);
  return fmt::format(R"(# bash completion for dryclock
_dryclock() {{
  local word=${{COMP_WORDS[COMP_CWORD]}} path="" known i
  for ((i = 1; i < COMP_CWORD; i++)); do
    case ${{COMP_WORDS[i]}} in
      -*) ;;
      *) case $path in
           "") path=${{COMP_WORDS[i]}} ;;
           {}) path+=" ${{COMP_WORDS[i]}}" ;;
         esac ;;
    esac
  done
  case $path in
    "") known="{}{}" ;;
{}    *) known="{}" ;;
  esac
  mapfile -t COMPREPLY < <(compgen -W "$known" -- "$word")
  if [[ $path == dry && $word != -* ]]; then
    mapfile -t -O "${{#COMPREPLY[@]}}" COMPREPLY < <(compgen -f -- "$word")
  fi
}}
complete -F _dryclock dryclock
)",
                     groups_of(app), commands_of(app), globals, cases, globals);
}

}  // namespace dryclock::cli
