// The installation's salt: what keeps the names of withheld streams from being guessed. It lies beside the
// sealed files and never goes into an extract. Throws std::filesystem::filesystem_error, std::runtime_error.
#pragma once

#include <filesystem>
#include <string>

namespace dryclock::seal {

// 64 hexadecimal digits; made where there is none. `folder` is the seal's, with its folder for temporary
// files.
[[nodiscard]] std::string salt_of(const std::filesystem::path& folder);

}  // namespace dryclock::seal
