#include "cli/manual.hpp"

#include <fmt/core.h>

#include <CLI/CLI.hpp>

namespace dryclock::cli {
namespace {

// Words as roff takes them: no escape begins, no line is a request, no hyphen becomes a dash.
std::string plain(std::string_view text) {
  std::string out;
  bool line_start = true;
  for (const char c : text) {
    if (line_start && (c == '.' || c == '\'')) {
      out += "\\&";
    }
    line_start = c == '\n';
    switch (c) {
      case '\\':
        out += "\\e";
        break;
      case '-':
        out += "\\-";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string item(std::string_view tag, std::string_view text) {
  return fmt::format(".TP\n{}\n{}\n", tag, text);
}

// `app` has --help as every command has: it is told once.
void add_options(const CLI::App& app, std::string& page) {
  for (const auto* option : app.get_options()) {
    if (option == app.get_help_ptr() && app.get_parent() != nullptr) {
      continue;
    }
    auto tag = fmt::format("\\fB{}\\fR", plain(option->get_name(option->get_positional(), true)));
    if (option->get_expected_max() > 0 && !option->get_positional()) {
      tag += fmt::format(" \\fI{}\\fR", plain(option->get_type_name()));
    }
    std::string text = option->get_description();
    if (const auto usual = option->get_default_str(); !usual.empty()) {
      text += fmt::format(" (usually {})", usual);
    }
    if (const auto variable = option->get_envname(); !variable.empty()) {
      text += fmt::format(" (environment: {})", variable);
    }
    page += item(tag, plain(text));
  }
}

void add_commands(const CLI::App& app, const std::string& path, std::string& page) {
  for (const auto* command : app.get_subcommands({})) {
    const auto name = path + command->get_name();
    page += fmt::format(".SS {}\n{}\n", plain(path + command->get_display_name(true)),
                        plain(command->get_description()));
    add_options(*command, page);
    add_commands(*command, name + " ", page);
  }
}

}  // namespace

std::string manual_page(const CLI::App& app, std::string_view version) {
  auto page = fmt::format(
      ".TH DRYCLOCK 1 \"\" \"dryclock {}\" \"User commands\"\n.SH NAME\n"
      "dryclock \\- when wet\\-laid film on a vehicle may be wrapped, trimmed, refitted and handed over\n"
      ".SH SYNOPSIS\n.B dryclock\n[\\fIoptions\\fR] [\\fIcommand\\fR ...]\n.SH DESCRIPTION\n{}\n.SH "
      "OPTIONS\n",
      plain(version), plain(app.get_description()));
  add_options(app, page);
  page += ".SH COMMANDS\nEach takes the options above as well.\n";
  add_commands(app, "", page);
  page += fmt::format(".SH MORE\n.nf\n{}\n.fi\n.SH SEE ALSO\n.BR dryclockd (8),\n.BR dryclock.toml (5)\n",
                      plain(app.get_footer()));
  return page;
}

}  // namespace dryclock::cli
