// The file of paired devices: a line each, "TOKEN NAME", or "read-only TOKEN NAME" for a screen that may only
// look. A token without a name is taken too; empty lines and lines that start with # are remarks. Who reads
// this file can enter: it belongs to its owner alone.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace dryclock {

struct PairedDevice {
  std::string token;
  std::string name;  // may be empty: a token that was put there by hand
  bool read_only = false;
};

// In the file's order; none where there is no file yet. Problem: it is there and cannot be read.
[[nodiscard]] Result<std::vector<PairedDevice>> read_tokens(const std::filesystem::path& file);

// 256 bits from the kernel, as base64url (RFC 4648 section 5, without padding): 43 characters.
[[nodiscard]] std::string fresh_token();

// Appends a line; it is on disk when this returns. A new file gets the rights 0600, and the owner of its
// folder where root makes it: the daemon runs under another name. Problem: the name is used already, the file
// cannot be written.
[[nodiscard]] Result<void> add_token(const std::filesystem::path& file, const PairedDevice& device);

// Takes out the device's line, on disk when this returns; all others stay as they are. Problem: nobody has
// this name, the file cannot be written.
[[nodiscard]] Result<void> withdraw_token(const std::filesystem::path& file, const std::string& name);

}  // namespace dryclock
