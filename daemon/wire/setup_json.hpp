// The texts of the daemon's own rows: `configured`, the settings, and `redated`, a boot's time. Numbers are
// the shortest that read back the same, fields stand in a fixed order, so that the same settings are the same
// bytes.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "domain/configured.hpp"
#include "domain/redated.hpp"

namespace dryclock::wire {

[[nodiscard]] std::string to_json(const Configured& configured);
// The part of it that `settings_sha256` is taken of.
[[nodiscard]] std::string to_json(const Setup& setup);
[[nodiscard]] std::string to_json(const Redated& redated);

// What a row of an earlier program does not say has its default; what a later one says beside is passed over.
// Problem: not JSON, or a value of another kind (`where`: JSON pointer).
[[nodiscard]] Result<Configured> read_configured(std::string_view text);
[[nodiscard]] Result<Redated> read_redated(std::string_view text);

}  // namespace dryclock::wire
