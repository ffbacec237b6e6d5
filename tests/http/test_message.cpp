#include "http/message.hpp"

#include <doctest/doctest.h>

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>

#include "http/openapi.hpp"
#include "support/capture_bound.hpp"

namespace dryclock::http {

// RFC 9110, section 15.
TEST_CASE("each status that the API's description names has its phrase") {
  CHECK(reason_phrase(202) == "Accepted");
  CHECK(reason_phrase(409) == "Conflict");
  const auto description = boost::json::parse(openapi_json());
  int statuses = 0;
  for (const auto& [path, methods] : description.at("paths").as_object()) {
    for (const auto& [method, operation] : methods.as_object()) {
      for (const auto& [status, response] : operation.at("responses").as_object()) {
        CAPTURE_BOUND(path);
        CAPTURE_BOUND(status);
        CHECK(reason_phrase(std::stoi(std::string{std::string_view{status}})) != "Error");
        ++statuses;
      }
    }
  }
  CHECK(statuses > 50);
}

TEST_CASE("a body is JSON by its whole type, whatever its parameters and letters") {
  const auto is_json = [](const char* type) {
    Request request;
    request.headers = {{"content-type", type}};
    return request.is_json();
  };
  for (const auto* type : {"application/json", "Application/JSON", "application/json;charset=utf-8",
                           "application/json ; charset=utf-8"}) {
    CAPTURE(type);
    CHECK(is_json(type));
  }
  for (const auto* type : {"", "text/plain", "application/json-seq", "application/jsonx", "json"}) {
    CAPTURE(type);
    CHECK_FALSE(is_json(type));
  }
  CHECK_FALSE(Request{}.is_json());
}

}  // namespace dryclock::http
