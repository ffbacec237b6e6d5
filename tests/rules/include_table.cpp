#include "rules/include_table.hpp"

#include <algorithm>
#include <optional>
#include <stdexcept>
#include <utility>
#include <vector>

namespace dryclock::rules {
namespace {

// A source of ours, by the name that include lines give it: "engine/screen.cpp", "models/zone.hpp".
struct Source {
  std::string path;    // in the repository
  std::string name;    // as included
  std::string folder;  // "engine"
  bool header = false;
};

std::string first_part(std::string_view path) {
  return std::string{path.substr(0, path.find('/'))};
}

std::optional<Source> source_at(const std::string& path) {
  const bool header = path.ends_with(".hpp");
  if (!header && !path.ends_with(".cpp")) {
    return std::nullopt;
  }
  for (const std::string_view above : {"daemon/", "deploy/", "models/"}) {
    if (path.starts_with(above)) {
      const auto name = above == "models/" ? path : path.substr(above.size());
      const bool in_a_folder = name.find('/') != std::string::npos;  // daemon/main.cpp is in none
      return Source{path, name, in_a_folder ? first_part(name) : "app", header};
    }
  }
  return std::nullopt;
}

// The standard library's headers have neither folder nor suffix; so do none of the others we use.
bool is_standard(std::string_view header) {
  return header.find_first_of("/.") == std::string_view::npos;
}
// Of the C library and the kernel.
bool is_system(std::string_view header) {
  static const std::set<std::string_view> folders{"sys", "net", "netinet", "arpa", "linux"};
  static const std::set<std::string_view> files{"unistd.h", "ifaddrs.h", "fcntl.h",   "netdb.h", "poll.h",
                                                "signal.h", "spawn.h",   "termios.h", "pwd.h",   "time.h"};
  return files.contains(header) ||
         (header.find('/') != std::string_view::npos && folders.contains(header.substr(0, header.find('/'))));
}

bool names(const IncludeTable::Names& allowed, const Source& source) {
  return allowed.contains(source.folder) || allowed.contains(source.name);
}

// Why `source` may not include our `header`; empty: it may.
std::string wrong_with_ours(const IncludeTable& table, const Source& source, const std::string& header) {
  const auto row = table.folders.find(source.folder);
  if (row == table.folders.end()) {
    return "the table has no row for the folder " + source.folder;
  }
  if (header.ends_with(".inc")) {
    return {};  // data that the build makes, in a folder of its own
  }
  const auto target = first_part(header);
  if (target == source.folder || row->second.contains(target) || row->second.contains(header)) {
    return {};
  }
  if (!table.folders.contains(target)) {
    return "no folder of that name: includes start at models/ or at daemon/'s folders";
  }
  return source.folder + " may not include " + target;
}

std::string wrong_with_others(const IncludeTable& table, const Source& source, const std::string& header) {
  const auto shown = table.headers.find(source.name);
  if (shown != table.headers.end() && shown->second.contains(header)) {
    return {};
  }
  const auto never = table.never.find(source.folder);
  if (never != table.never.end() && (never->second.contains(header) || !is_standard(header))) {
    return source.folder + " stays free of it";
  }
  if (is_standard(header)) {
    return {};
  }
  if (source.header) {
    return "types of others stay out of our headers";
  }
  if (is_system(header)) {
    return {};
  }
  for (const auto& [prefix, allowed] : table.libraries) {
    if (header.starts_with(prefix)) {
      return names(allowed, source) ? "" : "the table does not give " + prefix + " to " + source.name;
    }
  }
  return "the table has no row for this library";
}

// Calls visit(source, path, header, is_ours) for each include of our sources.
template <class Visit>
void for_each_include(const Tree& tree, Visit visit) {
  for (const auto& [path, text] : tree) {
    const auto source = source_at(path);
    for (const auto line : source ? lines_of(text) : std::vector<std::string_view>{}) {
      const auto words = words_of(line);
      if (words.size() >= 2 && words[0] == "#include" && words[1].size() >= 3) {
        visit(*source, path, words[1].substr(1, words[1].size() - 2), words[1].starts_with('"'));
      }
    }
  }
}

}  // namespace

IncludeTable read_include_table(std::string_view text) {
  IncludeTable table;
  const std::map<std::string, std::map<std::string, IncludeTable::Names>*> kinds{
      {"folder", &table.folders},
      {"library", &table.libraries},
      {"header", &table.headers},
      {"never", &table.never},
      {"room", &table.rooms}};
  for (const auto line : lines_of(text)) {
    const auto words = words_of(line);
    if (words.empty() || words.front().starts_with('#')) {
      continue;
    }
    const auto kind = kinds.find(words.front());
    if (kind == kinds.end() || words.size() < 2 || !words[1].ends_with(':')) {
      throw std::runtime_error("includes.txt: not understood: " + std::string{line});
    }
    const auto name = words[1].substr(0, words[1].size() - 1);
    (*kind->second)[name].insert(words.begin() + 2, words.end());
  }
  return table;
}

Violations wrong_includes(const Tree& tree, const IncludeTable& table) {
  Violations violations;
  for_each_include(tree, [&](const Source& source, const std::string& path, const std::string& header,
                             bool ours) {
    const auto why = ours ? wrong_with_ours(table, source, header) : wrong_with_others(table, source, header);
    if (!why.empty()) {
      violations.push_back(path + ": " + header + ": " + why);
    }
  });
  return violations;
}

Violations unused_arrows(const Tree& tree, const IncludeTable& table) {
  std::set<std::pair<std::string, std::string>> used;  // what is included, and by whom
  for_each_include(
      tree, [&](const Source& source, const std::string& /*path*/, const std::string& header, bool ours) {
        used.insert({header, source.folder});
        const auto shown = table.headers.find(source.name);
        if (ours || (shown != table.headers.end() && shown->second.contains(header))) {
          used.insert({header, source.name});
          return;
        }
        for (const auto& [prefix, allowed] : table.libraries) {
          if (header.starts_with(prefix)) {
            used.insert({prefix, source.folder});
            used.insert({prefix, source.name});
            return;
          }
        }
      });
  Violations violations;
  const auto look = [&](const std::string& what, const std::string& whose) {
    if (!used.contains({what, whose})) {
      violations.push_back(whose + " includes none of " + what + ": take it out of includes.txt");
    }
  };
  for (const auto& [prefix, allowed] : table.libraries) {
    for (const auto& whose : allowed) {
      look(prefix, whose);
    }
  }
  for (const auto& [whose, shown] : table.headers) {
    for (const auto& header : shown) {
      look(header, whose);
    }
  }
  for (const auto& [whose, allowed] : table.folders) {
    for (const auto& header : allowed) {
      if (header.ends_with(".hpp")) {
        look(header, whose);
      }
    }
  }
  return violations;
}

Violations wrong_imports(const Tree& tree, const IncludeTable& table) {
  constexpr std::string_view page = "daemon/page/src/";
  Violations violations;
  for (const auto& [path, text] : tree) {
    const auto inside = path.starts_with(page) ? path.substr(page.size()) : "";
    if (inside.find('/') == std::string::npos) {
      continue;  // page.tsx knows all rooms
    }
    const auto room = table.rooms.find(first_part(inside));
    if (room == table.rooms.end()) {
      violations.push_back(path + ": the table has no such room");
      continue;
    }
    for (const auto line : lines_of(text)) {
      constexpr std::string_view out = "\"../";
      const auto found = line.find(out);
      if (found == std::string_view::npos) {
        continue;
      }
      const auto target = first_part(line.substr(found + out.size()));
      if (!room->second.contains(target)) {
        violations.push_back(path + ": " + room->first + " may not import from " + target);
      }
    }
  }
  return violations;
}

}  // namespace dryclock::rules
