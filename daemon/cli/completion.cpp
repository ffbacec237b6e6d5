#include "cli/completion.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <exception>
#include <iterator>
#include <set>
#include <string_view>
#include <utility>

#include "base/small_letters.hpp"
#include "cli/naming.hpp"
#include "domain/names.hpp"

namespace dryclock::cli {
namespace {

constexpr auto bash = R"(# bash completion for dryclock
_dryclock() {
  local i
  mapfile -t COMPREPLY < <("${COMP_WORDS[0]}" complete "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
  for i in "${!COMPREPLY[@]}"; do printf -v "COMPREPLY[i]" %q "${COMPREPLY[i]}"; done
}
complete -o default -F _dryclock dryclock
)";
constexpr auto zsh = R"(#compdef dryclock
# zsh completion for dryclock
_dryclock() {
  local -a found
  found=("${(@f)$("${words[1]}" complete "${(@)words[2,CURRENT]}" 2>/dev/null)}")
  if [[ -n ${found[1]} ]]; then compadd -a found; else _files; fi
}
compdef _dryclock dryclock
)";
constexpr auto fish = R"(# fish completion for dryclock
function __dryclock
  set -l typed (commandline -opc) (commandline -ct)
  dryclock complete $typed[2..-1] 2>/dev/null
end
complete -c dryclock -f -a '(__dryclock)'
complete -c dryclock -n '__fish_seen_subcommand_from dry verify' -F
)";

// Of an enumeration, as they are typed.
template <class E>
void add_words(std::set<std::string>& offers) {
  for (const auto word : words<E>) {
    offers.emplace(word);
  }
}
void add_keys(const auto& entries, std::set<std::string>& offers) {
  for (const auto& entry : entries) {
    offers.insert(entry.key);
  }
}

// What a piece, or a panel, is called by: each word by itself, since they may come in any order.
void add_name(const std::vector<Naming>& namings, std::set<std::string>& offers) {
  for (const auto& naming : namings) {
    offers.insert(naming.own.begin(), naming.own.end());
    offers.insert(naming.more.begin(), naming.more.end());
  }
}

// What the daemon knows. Each asks it.
class Known {
 public:
  explicit Known(Session& session) : session_(session) {}

  void vehicles(std::set<std::string>& offers) {
    for (const auto& vehicle : session_.board().vehicles) {
      if (in_shop(vehicle)) {
        offers.insert(vehicle.reference);
      }
    }
  }
  void pieces(std::set<std::string>& offers) {
    for (const auto& vehicle : session_.board().vehicles) {
      for (const auto& piece : vehicle.pieces) {
        if (in_shop(vehicle) && laid_now(piece)) {
          add_name(namings_of(session_.shop(), session_.names(), name_of_piece(piece)), offers);
        }
      }
    }
  }
  void panels(std::set<std::string>& offers) {
    for (const auto& panel : session_.shop().panels) {
      add_name(namings_of(session_.shop(), session_.names(), {panel.key, 1, 1, {}, {}}), offers);
      for (const auto side : panel.sides.value_or(std::vector<Side>{})) {
        add_name(namings_of(session_.shop(), session_.names(), {panel.key, 1, 1, side, {}}), offers);
      }
    }
    offers.erase("1");  // of the part
  }
  void bays(std::set<std::string>& offers) {
    for (const auto& bay : session_.board().bays) {
      offers.insert(bay.name);
    }
  }
  void films(std::set<std::string>& offers) { add_keys(session_.shop().films, offers); }
  void solutions(std::set<std::string>& offers) { add_keys(session_.shop().solutions, offers); }
  void templates(std::set<std::string>& offers) { add_keys(session_.shop().templates, offers); }

 private:
  Session& session_;
};

bool is_one_of(std::string_view word, std::initializer_list<std::string_view> all) {
  return std::ranges::find(all, word) != all.end();
}

// The value of an option.
void add_values(std::string_view option, Known& known, std::set<std::string>& offers) {
  if (is_one_of(option, {"--vehicle", "-v"})) {
    known.vehicles(offers);
  } else if (option == "--film") {
    known.films(offers);
  } else if (option == "--solution") {
    known.solutions(offers);
  } else if (option == "--bay") {
    known.bays(offers);
  } else if (option == "--piece") {
    known.pieces(offers);
  } else if (is_one_of(option, {"--zone", "--zones"})) {
    add_words<models::ZoneKind>(offers);
  } else if (option == "--wetness") {
    add_words<models::Wetness>(offers);
  } else if (is_one_of(option, {"--place", "--other-place"})) {
    for (const auto place : known_places) {
      offers.emplace(place);
    }
  } else if (option == "--language") {
    add_words<Language>(offers);
  }
}

// What may stand after a command, by its path: "vehicle move".
void add_positionals(std::string_view path, Known& known, std::set<std::string>& offers) {
  if (path == "lay") {
    known.vehicles(offers);
    known.panels(offers);
  } else if (is_one_of(path, {"relay", "inspect", "wrap", "trim", "open", "refit", "remove", "heat",
                              "not-needed"})) {
    known.vehicles(offers);
    known.pieces(offers);
  } else if (path.starts_with("vehicle ") ||
             is_one_of(path, {"record", "receipt", "handover", "forget", "events"})) {
    known.vehicles(offers);
  } else if (path == "air") {
    known.bays(offers);
  }
  if (path == "inspect") {
    add_words<models::ZoneKind>(offers);
    add_words<models::Finding>(offers);
  } else if (path == "heat") {
    add_words<HeatSource>(offers);
  } else if (path == "not-needed") {
    offers.insert({"wrap", "trim", "refit"});
  } else if (path == "vehicle move") {
    known.bays(offers);
    offers.insert("outside");
  } else if (path == "vehicle plan") {
    known.templates(offers);
  } else if (path == "recheck") {
    add_words<RecheckFinding>(offers);
  }
}

void add_options(const CLI::App& app, std::set<std::string>& offers) {
  for (const auto* option : app.get_options()) {
    for (const auto& name : option->get_lnames()) {
      offers.insert("--" + name);
    }
  }
}

// By its name or another that it has; null: there is none.
const CLI::App* command_named(const CLI::App& app, const std::string& word) {
  const auto all = app.get_subcommands({});
  const auto found = std::ranges::find_if(all, [&](const CLI::App* one) { return one->check_name(word); });
  return found == all.end() ? nullptr : *found;
}

// Where the words lead to: the command, and the option whose value comes next; empty: none does.
struct Place {
  const CLI::App* command;
  std::string path, option;
  bool any = false;  // a word that is no command has come
};
bool takes_value(const CLI::App& app, const std::string& option) {
  const auto* found = app.get_option_no_throw(option);
  return found != nullptr && found->get_expected_min() > 0;
}
Place walk(const CLI::App& app, const std::vector<std::string>& typed) {
  Place at{&app, {}, {}, false};
  for (std::size_t i = 0; i + 1 < typed.size(); ++i) {
    const auto& word = typed[i];
    if (!std::exchange(at.option, {}).empty()) {
      continue;
    }
    if (word.starts_with('-')) {
      at.option = takes_value(*at.command, word) || takes_value(app, word) ? word : std::string{};
      continue;
    }
    const auto* command = at.any ? nullptr : command_named(*at.command, word);
    if (command == nullptr) {
      at.any = true;
      continue;
    }
    at.command = command;
    at.path += (at.path.empty() ? "" : " ") + command->get_name();
  }
  return at;
}

}  // namespace

std::string completion_script(const std::string& shell) {
  return shell == "bash" ? bash : shell == "zsh" ? zsh : fish;
}

int completion_asked_at(const CLI::App& app, int argc, char** argv) {
  for (int i = 1; i < argc && command_named(app, argv[i]) == nullptr; ++i) {
    if (std::string_view{argv[i]} == "complete") {
      return i;
    }
  }
  return argc;
}

std::vector<std::string> completions(const CLI::App& app, Session& session,
                                     const std::vector<std::string>& typed) {
  if (typed.empty()) {
    return {};
  }
  const auto at = walk(app, typed);
  const auto last = small_letters(typed.back());
  std::set<std::string> offers;
  Known known{session};
  try {
    if (!at.option.empty()) {
      add_values(at.option, known, offers);
    } else if (last.starts_with('-')) {
      add_options(*at.command, offers);
      add_options(app, offers);
    } else {
      for (const auto* command : at.any ? std::vector<const CLI::App*>{} : at.command->get_subcommands({})) {
        if (!command->get_group().empty()) {
          offers.insert(command->get_name());
        }
      }
      add_positionals(at.path, known, offers);
    }
  } catch (const std::exception&) {  // no daemon: what needs none is offered all the same
  }
  std::vector<std::string> out;
  std::ranges::copy_if(offers, std::back_inserter(out),
                       [&](const std::string& one) { return small_letters(one).starts_with(last); });
  return out;
}

}  // namespace dryclock::cli
