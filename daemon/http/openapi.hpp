// The API's description (OpenAPI 3.1), as served: the paths of paths.json, and the shapes that writer and
// reader go by (wire/schema.hpp).
#pragma once

#include <string>

namespace dryclock::http {

[[nodiscard]] const std::string& openapi_json();

}  // namespace dryclock::http
