// The page that tells an outsider how to check an extract with sha256sum and openssl alone.
#pragma once

#include <string>

#include "seal/extract.hpp"

namespace dryclock::seal {

// Commands stand on lines that are indented by four spaces, for sh.
[[nodiscard]] std::string recipe(const Extracted& extracted);

}  // namespace dryclock::seal
