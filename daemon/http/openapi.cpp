#include "http/openapi.hpp"

#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <boost/json/value.hpp>

#include "wire/schema.hpp"

namespace dryclock::http {
namespace {

constexpr unsigned char paths[] = {
#include "paths.json.inc"
};

std::string whole() {
  auto document = boost::json::parse({reinterpret_cast<const char*>(paths), sizeof paths});
  document.at("components").as_object()["schemas"] = boost::json::parse(wire::schemas());
  return boost::json::serialize(document);
}

}  // namespace

const std::string& openapi_json() {
  static const std::string text = whole();
  return text;
}

}  // namespace dryclock::http
