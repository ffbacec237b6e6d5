#include "http/openapi.hpp"

namespace dryclock::http {
namespace {

constexpr unsigned char text[] = {
#include "openapi.json.inc"
};

}  // namespace

std::string_view openapi_json() {
  return {reinterpret_cast<const char*>(text), sizeof text};
}

}  // namespace dryclock::http
