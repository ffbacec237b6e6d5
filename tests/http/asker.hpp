// Asks the router for what the lived-in shop answers, in the test's own thread.
#pragma once

#include <doctest/doctest.h>

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>
#include <memory>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "http/router.hpp"
#include "support/lived_shop.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::http {

namespace json = boost::json;
using std::chrono::hours;

inline constexpr Asset assets[] = {{"/", "text/html; charset=utf-8", "\"1\"", "<p>page</p>", "gzipped"}};
inline constexpr auto estate = "Grey estate";

struct Asker {
  explicit Asker(std::uint16_t broker = 0)
      : shop(test::lived_shop(folder.path(), {.now = {}, .broker = broker})),
        services(shop->parts().services()) {}

  Response operator()(const std::string& method, const std::string& target, const std::string& body = {},
                      std::vector<std::pair<std::string, std::string>> headers = {}) {
    Router router{services, Guard{{}, {}}, assets};
    Request request;
    request.method = method;
    request.target = target;
    request.body = body;
    request.headers = std::move(headers);
    request.headers.emplace_back("host", "localhost");
    request.headers.emplace_back("content-type", "application/json; charset=utf-8");
    request.from_this_machine = true;
    Response answered;
    int answers = 0;
    router.handle(request, {}, [&](Response response) {
      answered = std::move(response);
      ++answers;
    });
    shop->turns_until([&] { return answers > 0; });
    CHECK(answers == 1);
    return answered;
  }
  json::value read(const std::string& target) { return json::parse((*this)("GET", target).body); }
  Response tell(const std::string& event) { return (*this)("POST", "/api/v1/events", event); }
  [[nodiscard]] std::string vehicle(const char* reference = estate) {
    return std::to_string(test::vehicle_in(*shop, reference));
  }
  [[nodiscard]] std::string piece(const char* panel) {
    return std::to_string(test::piece_in(*shop, estate, panel));
  }

  test::ScratchFolder folder;
  std::unique_ptr<test::WholeShop> shop;
  Services services;
};

inline std::string header(const Response& response, const std::string& name) {
  std::string value;
  for (const auto& [key, text] : response.headers) {
    if (key == name) {
      value += (value.empty() ? "" : "; twice: ") + text;
    }
  }
  return value;
}

inline json::value named(const json::value& all, const char* key, std::string_view name) {
  for (const auto& one : all.as_array()) {
    if (one.at(key).as_string() == name) {
      return one;
    }
  }
  throw std::runtime_error("none has " + std::string{name} + " as " + key);
}

// For those who change nothing in its shop.
inline Asker& any_asker() {
  static Asker asker;
  return asker;
}

}  // namespace dryclock::http
