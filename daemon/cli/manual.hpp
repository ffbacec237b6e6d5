// `dryclock manual`: the help of every command, as a man page.
#pragma once

#include <string>
#include <string_view>

namespace CLI {
class App;
}

namespace dryclock::cli {

// A page in the man(7) language for `app` with all its commands and options: the same words as --help.
// `version` stands at its foot. The line breaks of the app's footer are kept.
[[nodiscard]] std::string manual_page(const CLI::App& app, std::string_view version);

}  // namespace dryclock::cli
