// The API's description (OpenAPI 3.1), as served: openapi.json, compiled in.
#pragma once

#include <string_view>

namespace dryclock::http {

[[nodiscard]] std::string_view openapi_json();

}  // namespace dryclock::http
