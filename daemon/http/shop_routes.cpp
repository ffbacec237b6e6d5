#include "http/shop_routes.hpp"

#include <algorithm>

#include "http/thin.hpp"
#include "wire/answer_json.hpp"

namespace dryclock::http {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

constexpr int plot_points = 720;     // as many as a plot shows without being asked for more
constexpr int most_points = 50'000;  // that one answer holds
constexpr hours longest_span{24 * 366};

Response bad_request(const Problem& problem) {
  return problem_response(400, problem);
}

struct Span {
  Time from, to;
};

// `from` and `to`; `to` is now and `from` that much earlier where they are not given.
Result<Span> span_of(const Target& target, Time now, Millis usual) {
  const auto read = [&](const char* name, Time otherwise) -> Result<Time> {
    const auto given = target.query.find(name);
    if (given == target.query.end()) {
      return otherwise;
    }
    auto time = parse_rfc3339(given->second);
    if (!time) {
      return Problem{time.error().what, name};
    }
    return time;
  };
  const auto to = read("to", now);
  if (!to) {
    return to.error();
  }
  const auto from = read("from", *to - usual);
  if (!from) {
    return from.error();
  }
  if (*from >= *to || *to - *from > longest_span) {
    return Problem{"a span goes forward, over a year at most", "from"};
  }
  return Span{*from, *to};
}

Response live() {
  Response response;
  response.content_type = "text/event-stream";
  response.live = true;
  return response;
}

Response vehicle(const Services& services, const std::string& id) {
  const auto number = whole_number(id);
  const Board board = services.board();
  const auto found = std::find_if(board.vehicles.begin(), board.vehicles.end(),
                                  [&](const VehicleSummary& one) { return one.id == number; });
  return !number || found == board.vehicles.end() ? none_such("vehicle", id)
                                                  : json_response(wire::to_json(*found));
}

Response air(const Services& services, const std::string& bay, const Target& target) {
  const auto asked = span_of(target, services.now(), hours{24});
  if (!asked) {
    return bad_request(asked.error());
  }
  const Span span = asked.value();
  auto every = std::max<std::int64_t>(1, (span.to - span.from) / minutes{1} / plot_points);
  if (const auto given = target.query.find("every"); given != target.query.end()) {
    const auto number = whole_number(given->second);
    if (!number || *number < 1 || *number > 24 * 60) {
      return bad_request({"a number of minutes, 1 to 1440", "every"});
    }
    every = *number;
  }
  if ((span.to - span.from) / minutes{every} > most_points) {
    return bad_request({"too many points for one answer: a shorter span, or a larger 'every'", "every"});
  }
  const auto points = services.air(bay, span.from, span.to);
  if (!points) {
    return problem_response(404, points.error());
  }
  return json_response(
      wire::to_json(AirAnswer{bay, span.from, span.to, every, thinned(*points, minutes{every})}));
}

Response air_ahead(const Services& services, const std::string& bay) {
  auto air = services.air_ahead(bay);
  return air ? json_response(wire::to_json(AirAheadAnswer{bay, services.now(), std::move(*air)}))
             : problem_response(404, air.error());
}

Response history(const Services& services, const std::string& piece) {
  const auto number = whole_number(piece);
  if (!number) {
    return none_such("piece", piece);
  }
  const auto points = services.piece_history(*number);
  if (!points) {
    return problem_response(404, points.error());
  }
  return json_response(wire::to_json(HistoryAnswer{*number, *points}));
}

Response alerts(const Services& services, const Target& target) {
  const auto asked = span_of(target, services.now(), hours{7 * 24});
  if (!asked) {
    return bad_request(asked.error());
  }
  const Span span = asked.value();
  const auto raised = services.alert_history(span.from, span.to);
  if (!raised) {
    return problem_response(503, raised.error());
  }
  return json_response(wire::to_json(AlertsAnswer{span.from, span.to, *raised}));
}

Response events(const Services& services, const Target& target) {
  VehicleId vehicle = 0;
  if (const auto given = target.query.find("vehicle"); given != target.query.end()) {
    const auto number = whole_number(given->second);
    if (!number) {
      return bad_request({"the number of a vehicle", "vehicle"});
    }
    vehicle = *number;
  }
  return json_response(wire::to_json(EventsAnswer{services.events(vehicle)}));
}

// `take`: services.submit or services.submit_deed.
void submit(const auto& take, const Request& request, const Answer& answer) {
  if (!request.is_json()) {
    answer(problem_response(415, {"an event is sent as application/json", "Content-Type"}));
    return;
  }
  take(request.body, [answer](const auto& taken) {
    if (!taken) {
      auto refused = problem_response(taken.error().status, taken.error().problem, taken.error().fact);
      if (refused.status == 503) {
        refused.headers.emplace_back("Retry-After", "1");
      }
      answer(std::move(refused));
      return;
    }
    answer(json_response(wire::to_json(*taken), taken->repeated ? 200 : 201));
  });
}

void search(const Services& services, const Target& target, const Answer& answer) {
  SearchQuery query;
  const auto given = [&](const char* name) {
    const auto found = target.query.find(name);
    return found == target.query.end() ? std::string{} : found->second;
  };
  query.words = given("q");
  const auto lifted = given("lifted");
  if (!lifted.empty() && lifted != "true" && lifted != "false") {
    return answer(bad_request({"true or false", "lifted"}));
  }
  query.lifted = lifted == "true";
  for (auto [name, into] : {std::pair{"from", &query.from}, std::pair{"to", &query.to}}) {
    if (given(name).empty()) {
      continue;
    }
    const auto time = parse_rfc3339(given(name));
    if (!time) {
      return answer(bad_request({time.error().what, name}));
    }
    *into = *time;
  }
  services.search(std::move(query), [answer](const Result<SearchAnswer>& found) {
    answer(found ? json_response(wire::to_json(*found)) : problem_response(503, found.error()));
  });
}

}  // namespace

void add_shop_routes(Routes& routes, const Services& services) {
  routes.insert(
      routes.end(),
      {{"GET", "/api/v1/board", {}, at_once([&](const Asked&) {
          return json_response(wire::to_json(services.board()));
        })},
       {"GET", "/api/v1/live", {}, at_once([](const Asked&) { return live(); })},
       {"GET", "/api/v1/catalogue", {}, at_once([&](const Asked&) {
          return json_response(wire::to_json(services.catalogue()));
        })},
       {"GET", "/api/v1/vehicles/{}", {}, at_once([&](const Asked& asked) {
          return vehicle(services, asked.parts[0]);
        })},
       {"GET", "/api/v1/bays/{}/air", {"from", "to", "every"}, at_once([&](const Asked& asked) {
          return air(services, asked.parts[0], asked.target);
        })},
       {"GET", "/api/v1/bays/{}/air-ahead", {}, at_once([&](const Asked& asked) {
          return air_ahead(services, asked.parts[0]);
        })},
       {"GET", "/api/v1/pieces/{}/history", {}, at_once([&](const Asked& asked) {
          return history(services, asked.parts[0]);
        })},
       {"GET", "/api/v1/alerts", {"from", "to"}, at_once([&](const Asked& asked) {
          return alerts(services, asked.target);
        })},
       {"GET", "/api/v1/events", {"vehicle"}, at_once([&](const Asked& asked) {
          return events(services, asked.target);
        })},
       {"POST",
        "/api/v1/events",
        {},
        [&](const Asked& asked, const Answer& answer) { submit(services.submit, asked.request, answer); }},
       {"POST",
        "/api/v1/deeds",
        {},
        [&](const Asked& asked, const Answer& answer) {
          submit(services.submit_deed, asked.request, answer);
        }},
       {"GET",
        "/api/v1/search",
        {"q", "from", "to", "lifted"},
        [&](const Asked& asked, const Answer& answer) { search(services, asked.target, answer); }}});
}

}  // namespace dryclock::http
