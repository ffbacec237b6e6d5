#include "http/daemon_routes.hpp"

#include <algorithm>

#include "http/json_view.hpp"
#include "http/openapi.hpp"

namespace dryclock::http {
namespace {

Response health(const Services& services) {
  const Health told = services.health();
  auto response = json_response(to_json(told));
  // A monitor that reads nothing but the status sees it too.
  if (!std::all_of(told.parts.begin(), told.parts.end(), [](const HealthPart& part) { return part.ok; })) {
    response.status = 503;
  }
  return response;
}

void test_channel(const Services& services, const std::string& name, const Answer& answer) {
  services.test_channel(name, [answer, name](const Result<void>& delivered) {
    if (!delivered && delivered.error().where == "channel") {
      answer(problem_response(404, delivered.error()));
      return;
    }
    JsonWriter json;
    json.begin_object();
    json.field("channel", name);
    json.field("delivered", delivered.has_value());
    json.field("why", delivered ? std::string{} : to_string(delivered.error()));
    json.end_object();
    answer(json_response(std::move(json).text()));
  });
}

}  // namespace

void add_daemon_routes(Routes& routes, const Services& services) {
  routes.insert(
      routes.end(),
      {{"GET", "/api/v1/health", {}, at_once([&](const Asked&) { return health(services); })},
       {"GET", "/api/v1/channels", {}, at_once([&](const Asked&) {
          return json_response(to_json(services.channels()));
        })},
       {"POST",
        "/api/v1/channels/{}/test",
        {},
        [&](const Asked& asked, const Answer& answer) { test_channel(services, asked.parts[0], answer); }},
       {"GET", "/api/v1/openapi.json", {}, at_once([](const Asked&) {
          return json_response(std::string{openapi_json()});
        })}});
}

}  // namespace dryclock::http
