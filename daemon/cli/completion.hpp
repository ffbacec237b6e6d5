// What the shell offers at a tab. `dryclock completion SHELL` prints a few lines for it, which ask `dryclock
// complete WORDS...` each time: commands and options without the daemon; vehicles, pieces, panels, films,
// zones and bays from it, and nothing where it does not answer.
#pragma once

#include <string>
#include <vector>

#include "cli/session.hpp"

namespace CLI {
class App;
}

namespace dryclock::cli {

// Of bash, zsh or fish.
[[nodiscard]] std::string completion_script(const std::string& shell);

// Where "complete" stands in the command line, before any command: what follows it is none yet. `argc`:
// nowhere.
[[nodiscard]] int completion_asked_at(const CLI::App& app, int argc, char** argv);

// What the last of `typed`, which may be empty, can go on as; after the words before it.
[[nodiscard]] std::vector<std::string> completions(const CLI::App& app, Session& session,
                                                   const std::vector<std::string>& typed);

}  // namespace dryclock::cli
