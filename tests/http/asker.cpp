#include "http/asker.hpp"

#include <doctest/doctest.h>

#include <boost/json/parse.hpp>
#include <stdexcept>

namespace dryclock::http {

Asker::Asker(std::uint16_t broker)
    : shop(test::lived_shop(folder.path(), {.now = {}, .broker = broker})),
      services(shop->parts().services()) {}

Response Asker::operator()(const std::string& method, const std::string& target, const std::string& body,
                           std::vector<std::pair<std::string, std::string>> headers) {
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

boost::json::value Asker::read(const std::string& target) {
  return boost::json::parse((*this)("GET", target).body);
}

Response Asker::tell(const std::string& event) {
  return (*this)("POST", "/api/v1/events", event);
}

std::string Asker::vehicle(const char* reference) {
  return std::to_string(test::vehicle_in(*shop, reference));
}

std::string Asker::piece(const char* panel) {
  return std::to_string(test::piece_in(*shop, estate, panel));
}

std::string header(const Response& response, const std::string& name) {
  std::string value;
  for (const auto& [key, text] : response.headers) {
    if (key == name) {
      value += (value.empty() ? "" : "; twice: ") + text;
    }
  }
  return value;
}

boost::json::value named(const boost::json::value& all, const char* key, std::string_view name) {
  for (const auto& one : all.as_array()) {
    if (one.at(key).as_string() == name) {
      return one;
    }
  }
  throw std::runtime_error("none has " + std::string{name} + " as " + key);
}

}  // namespace dryclock::http
