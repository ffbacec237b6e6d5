#include "http/daemon_routes.hpp"

#include "http/openapi.hpp"
#include "wire/answer_json.hpp"

namespace dryclock::http {
namespace {

Response health(const Services& services) {
  const Health state = services.health();
  auto response = json_response(wire::to_json(state));
  if (!state.ok) {
    response.status = 503;  // a monitor that reads nothing but the status sees it too
  }
  return response;
}

void test_channel(const Services& services, const std::string& name, const Answer& answer) {
  services.test_channel(name, [answer, name](const Result<void>& delivered) {
    if (!delivered && delivered.error().where == "channel") {
      answer(problem_response(404, delivered.error()));
      return;
    }
    const ChannelTest result{name, delivered.has_value(),
                             delivered ? std::string{} : to_string(delivered.error())};
    answer(json_response(wire::to_json(result)));
  });
}

}  // namespace

void add_daemon_routes(Routes& routes, const Services& services) {
  routes.insert(
      routes.end(),
      {{"GET", "/api/v1/health", {}, at_once([&](const Asked&) { return health(services); })},
       {"GET", "/api/v1/channels", {}, at_once([&](const Asked&) {
          return json_response(wire::to_json(services.channels()));
        })},
       {"POST",
        "/api/v1/channels/{}/test",
        {},
        [&](const Asked& asked, const Answer& answer) { test_channel(services, asked.parts[0], answer); }},
       {"GET", "/api/v1/openapi.json", {}, at_once([](const Asked&) {
          return json_response(openapi_json());
        })}});
}

}  // namespace dryclock::http
