#include "http/sensor_routes.hpp"

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>

#include "models/salts.hpp"
#include "wire/answer_json.hpp"

namespace dryclock::http {
namespace {

constexpr int usual_seconds = 60, least_seconds = 5, most_seconds = 600;

// What the air over each salt is expected to be at 20 C: to choose by.
std::vector<SaltPoint> salt_points() {
  std::vector<SaltPoint> points;
  for (std::size_t i = 0; i < models::salt_kinds; ++i) {
    auto& to = points.emplace_back(SaltPoint{static_cast<models::Salt>(i), {}, {}});
    if (const auto point = models::expected_humidity(to.salt, models::Celsius{20.0})) {
      to.expected_pct = point->humidity.value() * 100.0;
      to.expanded_pct = point->expanded * 100.0;
    }
  }
  return points;
}

Result<int> seconds_in(const std::string& body) {
  boost::system::error_code error;
  const auto document = boost::json::parse(body.empty() ? "{}" : body, error);
  if (error || !document.is_object()) {
    return Problem{"a JSON object", ""};
  }
  int seconds = usual_seconds;
  for (const auto& member : document.get_object()) {
    if (member.key() != "seconds") {
      return Problem{"no such field", "/" + std::string{std::string_view{member.key()}}};
    }
    const auto* number = member.value().if_int64();
    if (number == nullptr || *number < least_seconds || *number > most_seconds) {
      return Problem{"a whole number of seconds, 5 to 600", "/seconds"};
    }
    seconds = static_cast<int>(*number);
  }
  return seconds;
}

Response search(const Request& request, const Services& services) {
  if (!request.is_json()) {
    return problem_response(415, {"a search is asked for as application/json", "Content-Type"});
  }
  const auto seconds = seconds_in(request.body);
  if (!seconds) {
    return problem_response(400, seconds.error());
  }
  if (const auto begun = services.search_sensors(*seconds); !begun) {
    return problem_response(503, begun.error());
  }
  return json_response(wire::to_json(services.sensor_search()), 202);
}

}  // namespace

void add_sensor_routes(Routes& routes, const Services& services) {
  routes.insert(
      routes.end(),
      {{"GET", "/api/v1/sensors", {}, at_once([&](const Asked&) {
          return json_response(
              wire::to_json(SensorsAnswer{services.now(), services.sensors(), salt_points()}));
        })},
       {"GET", "/api/v1/sensors/search", {}, at_once([&](const Asked&) {
          return json_response(wire::to_json(services.sensor_search()));
        })},
       {"POST", "/api/v1/sensors/search", {}, at_once([&](const Asked& asked) {
          return search(asked.request, services);
        })},
       {"GET", "/api/v1/coupons", {}, at_once([&](const Asked&) {
          return json_response(wire::to_json(CouponsAnswer{services.coupons(), services.bond_coupons()}));
        })},
       {"GET", "/api/v1/learned", {}, at_once([&](const Asked&) {
          return json_response(wire::to_json(services.learned()));
        })},
       {"GET", "/api/v1/plates", {}, at_once([&](const Asked&) {
          return json_response(wire::to_json(PlatesAnswer{services.plates()}));
        })}});
}

}  // namespace dryclock::http
