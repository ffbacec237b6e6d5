#include "http/router.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <exception>
#include <optional>
#include <string_view>

#include "base/log.hpp"
#include "http/json_view.hpp"
#include "http/openapi.hpp"
#include "http/sensor_routes.hpp"
#include "http/thin.hpp"

namespace dryclock::http {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

constexpr int plot_points = 720;     // as many as a plot shows without being asked for more
constexpr int most_points = 50'000;  // that one answer holds
constexpr hours longest_span{24 * 366};

// No script, style, frame or request from anywhere but here.
constexpr std::string_view content_policy =
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self'; "
    "manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

Response json_response(std::string body) {
  Response response;
  response.body = std::move(body);
  return response;
}

Response not_found() {
  return problem_response(404, {"nothing is here", {}});
}

Response bad_request(const Problem& problem) {
  return problem_response(400, problem);
}

std::optional<std::int64_t> whole_number(std::string_view text) {
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (text.empty() || error != std::errc{} || end != text.data() + text.size() || number < 0) {
    return std::nullopt;
  }
  return number;
}

// A parameter that no route knows is a typing error that would silently change the answer.
std::optional<Problem> unknown_parameter(const Target& target,
                                         std::initializer_list<std::string_view> known) {
  for (const auto& [name, value] : target.query) {
    if (std::find(known.begin(), known.end(), name) == known.end()) {
      return Problem{"this parameter is not known here", name};
    }
  }
  return std::nullopt;
}

struct Span {
  Time from, to;
};

// from and to; `to` is now and `from` that much earlier where they are not given.
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

struct RecordFile {
  std::string_view name;
  RecordForm form;
  std::string_view content_type;
};
constexpr std::array record_files{RecordFile{"record.pdf", RecordForm::pdf, "application/pdf"},
                                  RecordFile{"record.zip", RecordForm::zip, "application/zip"},
                                  RecordFile{"handover.pdf", RecordForm::handover, "application/pdf"},
                                  RecordFile{"receipt.pdf", RecordForm::receipt, "application/pdf"}};

// /api/v1/vehicles/7/record.pdf; null: another route.
const RecordFile* record_file(const Target& target) {
  const auto& path = target.segments;
  if (path.size() != 5 || path[0] != "api" || path[1] != "v1" || path[2] != "vehicles") {
    return nullptr;
  }
  const auto found = std::find_if(record_files.begin(), record_files.end(),
                                  [&](const auto& one) { return one.name == path[4]; });
  return found == record_files.end() ? nullptr : found;
}

bool reads(const Request& request) {
  return request.method == "GET" || request.method == "HEAD";
}

// /api/v1/channels/phone/test: "phone"; null: another route.
const std::string* tested_channel(const Target& target) {
  const auto& path = target.segments;
  const bool is =
      path.size() == 5 && path[0] == "api" && path[1] == "v1" && path[2] == "channels" && path[4] == "test";
  return is ? &path[3] : nullptr;
}

// /api/v1/handed-over, or below it a vehicle's number: what is read from the journal.
bool past_target(const Target& target) {
  const auto& path = target.segments;
  return (path.size() == 3 || path.size() == 4) && path[0] == "api" && path[1] == "v1" &&
         path[2] == "handed-over";
}

bool is_rechecks(const Target& target) {
  return target.segments == std::vector<std::string>{"api", "v1", "rechecks"};
}

bool accepts_gzip(std::string_view accepted) {
  const std::size_t at = accepted.find("gzip");
  return at != std::string_view::npos && !accepted.substr(at + 4).starts_with(";q=0");
}

}  // namespace

Router::Router(Services services, Guard guard, std::span<const Asset> assets)
    : services_(std::move(services)), guard_(std::move(guard)), assets_(assets) {}

std::string Router::board_json() const {
  return to_json(services_.board());
}

void Router::handle(const Request& request, WrongTokens::Instant now, const Answer& answer) {
  const Answer finish = [answer](Response response) {
    response.headers.emplace_back("Content-Security-Policy", content_policy);
    response.headers.emplace_back("X-Content-Type-Options", "nosniff");
    response.headers.emplace_back("Referrer-Policy", "no-referrer");
    response.headers.emplace_back("Cross-Origin-Resource-Policy", "same-origin");
    if (std::none_of(response.headers.begin(), response.headers.end(),
                     [](const auto& header) { return header.first == "Cache-Control"; })) {
      response.headers.emplace_back("Cache-Control", "no-store");
    }
    answer(std::move(response));
  };
  try {
    const auto parsed = parse_target(request.target);
    if (!parsed) {
      finish(bad_request(parsed.error()));
      return;
    }
    const Target& target = parsed.value();
    if (auto stopped = guard_.stop(request, target, now)) {
      finish(std::move(*stopped));
    } else if (request.method == "POST" &&
               target.segments == std::vector<std::string>{"api", "v1", "events"}) {
      submit(request, finish);
    } else if (tested_channel(target) != nullptr && request.method == "POST") {
      test_channel(*tested_channel(target), finish);
    } else if (past_target(target) && reads(request)) {
      past(target, finish);
    } else if (is_rechecks(target) && reads(request)) {
      rechecks(target, finish);
    } else if (record_file(target) != nullptr && reads(request)) {
      record(target, finish);
    } else if (auto answered = sensor_route(request, target, services_)) {
      finish(std::move(*answered));
    } else {
      finish(find(request, target, now));
    }
  } catch (const std::exception& error) {
    log::error("http: {} {}: {}", request.method, request.target, error.what());
    finish(problem_response(500, {"the server failed; its log tells more", {}}));
  }
}

Response Router::find(const Request& request, const Target& target, WrongTokens::Instant now) {
  Response found;
  if (!target.segments.empty() && target.segments.front() == "api") {
    found = find_api(target);
  } else if (target.segments == std::vector<std::string>{"pair"}) {
    found = guard_.pair(request, target, now);
  } else {
    std::string path = target.segments.empty() ? "/" : "";
    for (const auto& segment : target.segments) {
      path += "/" + segment;
    }
    const auto known =
        std::find_if(assets_.begin(), assets_.end(), [&](const Asset& one) { return one.path == path; });
    found = known == assets_.end() ? not_found() : asset(request, *known);
  }
  if (found.status != 404 && (!reads(request) || tested_channel(target) != nullptr)) {
    auto refused = problem_response(405, {fmt::format("{} is not for this", request.method), {}});
    refused.headers.emplace_back("Allow", target.segments == std::vector<std::string>{"api", "v1", "events"}
                                              ? "GET, HEAD, POST"
                                          : tested_channel(target) != nullptr ? "POST"
                                                                              : "GET, HEAD");
    return refused;
  }
  return found;
}

Response Router::find_api(const Target& target) const {
  const auto& path = target.segments;
  if (path.size() < 3 || path[1] != "v1") {
    return not_found();
  }
  const std::string& what = path[2];
  const bool takes_parameters = what == "alerts" || what == "events" || what == "bays";
  if (const auto unknown = unknown_parameter(target, {}); unknown && !takes_parameters) {
    return bad_request(*unknown);
  }
  if (path.size() == 3) {
    if (what == "board") {
      return json_response(board_json());
    }
    if (what == "live") {
      Response response;
      response.content_type = "text/event-stream";
      response.live = true;
      return response;
    }
    if (what == "catalogue") {
      JsonWriter json;
      write(json, services_.catalogue(), services_.site(), services_.measured_films());
      return json_response(std::move(json).text());
    }
    if (what == "alerts") {
      return alerts(target);
    }
    if (what == "events") {
      return events(target);
    }
    if (what == "health") {
      return health();
    }
    if (what == "openapi.json") {
      return json_response(std::string{openapi_json()});
    }
  }
  if (path.size() == 4 && what == "vehicles") {
    return vehicle(path[3]);
  }
  if (path.size() == 5 && what == "vehicles" && path[4] == "personal") {
    return personal(path[3]);
  }
  if (path.size() == 3 && what == "channels") {
    return json_response(to_json(services_.channels()));
  }
  if (record_file(target) != nullptr || is_rechecks(target) || past_target(target) ||
      tested_channel(target) != nullptr) {
    return json_response({});  // only to be refused: another method than those that read it
  }
  if (path.size() == 5 && what == "bays" && path[4] == "air") {
    return air(path[3], target);
  }
  if (path.size() == 5 && what == "pieces" && path[4] == "history") {
    return history(path[3]);
  }
  return not_found();
}

Response Router::asset(const Request& request, const Asset& asset) const {
  Response response;
  response.content_type = asset.content_type;
  response.headers.emplace_back("ETag", asset.etag);
  response.headers.emplace_back("Cache-Control", "no-cache");  // kept, and asked about each time
  response.headers.emplace_back("Vary", "Accept-Encoding");
  if (request.header("if-none-match").find(asset.etag) != std::string_view::npos) {
    response.status = 304;
  } else if (accepts_gzip(request.header("accept-encoding"))) {
    response.headers.emplace_back("Content-Encoding", "gzip");
    response.body = asset.gzip;
  } else {
    response.body = asset.plain;
  }
  return response;
}

Response Router::vehicle(const std::string& id) const {
  const auto number = whole_number(id);
  const Board board = services_.board();
  const auto found = std::find_if(board.vehicles.begin(), board.vehicles.end(),
                                  [&](const VehicleSummary& one) { return one.id == number; });
  if (!number || found == board.vehicles.end()) {
    return problem_response(404, {fmt::format("no vehicle '{}'", id), "id"});
  }
  return json_response(to_json(*found));
}

Response Router::personal(const std::string& id) const {
  const auto number = whole_number(id);
  if (!number) {
    return problem_response(404, {fmt::format("no vehicle '{}'", id), "id"});
  }
  const auto kept = services_.personal(*number);
  if (!kept) {
    return problem_response(503, kept.error());
  }
  JsonWriter json;
  json.begin_object();
  json.field("vehicle", *number);
  for (const auto field : personal_fields) {
    std::optional<std::string> text;
    for (const PersonalText& one : kept.value()) {
      if (one.field == field) {
        text = one.text;
      }
    }
    json.field(field, text);
  }
  json.end_object();
  return json_response(std::move(json).text());
}

Response Router::air(const std::string& bay, const Target& target) const {
  if (const auto unknown = unknown_parameter(target, {"from", "to", "every"})) {
    return bad_request(*unknown);
  }
  const auto asked = span_of(target, services_.now(), hours{24});
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
  const auto points = services_.air(bay, span.from, span.to);
  if (!points) {
    return problem_response(404, points.error());
  }
  JsonWriter json;
  json.begin_object();
  json.field("bay", bay);
  json.field("from", span.from);
  json.field("to", span.to);
  json.field("every", every);
  write_field(json, "points", thinned(points.value(), minutes{every}));
  json.end_object();
  return json_response(std::move(json).text());
}

Response Router::history(const std::string& piece) const {
  const auto number = whole_number(piece);
  if (!number) {
    return problem_response(404, {fmt::format("no piece '{}'", piece), "id"});
  }
  const auto points = services_.piece_history(*number);
  if (!points) {
    return problem_response(404, points.error());
  }
  JsonWriter json;
  json.begin_object();
  json.field("piece", *number);
  write_field(json, "points", points.value());
  json.end_object();
  return json_response(std::move(json).text());
}

Response Router::alerts(const Target& target) const {
  if (const auto unknown = unknown_parameter(target, {"from", "to"})) {
    return bad_request(*unknown);
  }
  const auto asked = span_of(target, services_.now(), hours{7 * 24});
  if (!asked) {
    return bad_request(asked.error());
  }
  const Span span = asked.value();
  const auto raised = services_.alert_history(span.from, span.to);
  if (!raised) {
    return problem_response(503, raised.error());
  }
  JsonWriter json;
  json.begin_object();
  json.field("from", span.from);
  json.field("to", span.to);
  write_field(json, "alerts", raised.value());
  json.end_object();
  return json_response(std::move(json).text());
}

Response Router::events(const Target& target) const {
  if (const auto unknown = unknown_parameter(target, {"vehicle"})) {
    return bad_request(*unknown);
  }
  VehicleId vehicle = 0;
  if (const auto given = target.query.find("vehicle"); given != target.query.end()) {
    const auto number = whole_number(given->second);
    if (!number) {
      return bad_request({"the number of a vehicle", "vehicle"});
    }
    vehicle = *number;
  }
  JsonWriter json;
  json.begin_object();
  json.key("events");
  json.begin_array();
  for (const auto& event : services_.events(vehicle)) {
    json.raw(event);
  }
  json.end_array();
  json.end_object();
  return json_response(std::move(json).text());
}

void Router::test_channel(const std::string& name, const Answer& answer) const {
  services_.test_channel(name, [answer, name](const Result<void>& delivered) {
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

void Router::past(const Target& target, const Answer& answer) const {
  if (const auto unknown = unknown_parameter(target, {})) {
    answer(bad_request(*unknown));
    return;
  }
  if (target.segments.size() == 3) {
    services_.handed_over([answer](const HandedOverAnswer& found) {
      if (!found) {
        answer(problem_response(503, found.error()));
        return;
      }
      JsonWriter json;
      json.begin_object();
      write_field(json, "vehicles", found.value());
      json.end_object();
      answer(json_response(std::move(json).text()));
    });
    return;
  }
  const std::string& id = target.segments[3];
  const auto number = whole_number(id);
  if (!number) {
    answer(problem_response(404, {fmt::format("no vehicle '{}'", id), "id"}));
    return;
  }
  services_.past_vehicle(*number, [answer](const Result<VehicleSummary>& found) {
    answer(found ? json_response(to_json(found.value()))
                 : problem_response(found.error().where == "vehicle" ? 404 : 503, found.error()));
  });
}

void Router::record(const Target& target, const Answer& answer) const {
  const RecordFile& file = *record_file(target);
  if (const auto unknown = unknown_parameter(target, {"paper"})) {
    answer(bad_request(*unknown));
    return;
  }
  const auto paper = target.query.find("paper");
  const bool letter = paper != target.query.end() && paper->second == "letter";
  if (paper != target.query.end() && !letter && paper->second != "a4") {
    answer(bad_request({"a4 or letter", "paper"}));
    return;
  }
  const std::string& id = target.segments[3];
  const auto number = whole_number(id);
  if (!number) {
    answer(problem_response(404, {fmt::format("no vehicle '{}'", id), "id"}));
    return;
  }
  services_.record({*number, file.form, letter}, [answer, &file, vehicle = *number](RecordAnswer made) {
    if (!made) {
      answer(problem_response(made.error().where == "vehicle" ? 404 : 503, made.error()));
      return;
    }
    Response response;
    response.content_type = file.content_type;
    response.headers.emplace_back("Content-Disposition",
                                  fmt::format("attachment; filename=\"vehicle-{}-{}\"", vehicle, file.name));
    response.body = std::move(made).value();
    answer(std::move(response));
  });
}

void Router::rechecks(const Target& target, const Answer& answer) const {
  if (const auto unknown = unknown_parameter(target, {})) {
    answer(bad_request(*unknown));
    return;
  }
  services_.rechecks([answer](const Result<RecheckReport>& report) {
    answer(report ? json_response(to_json(report.value())) : problem_response(503, report.error()));
  });
}

Response Router::health() const {
  const Health health = services_.health();
  auto response = json_response(to_json(health));
  // A monitor that reads nothing but the status sees it too.
  if (!std::all_of(health.parts.begin(), health.parts.end(),
                   [](const HealthPart& part) { return part.ok; })) {
    response.status = 503;
  }
  return response;
}

void Router::submit(const Request& request, const Answer& answer) const {
  if (lower_case(request.header("content-type").substr(0, 16)) != "application/json") {
    answer(problem_response(415, {"an event is sent as application/json", "Content-Type"}));
    return;
  }
  services_.submit(request.body, [answer](const SubmitAnswer& taken) {
    if (!taken) {
      answer(problem_response(taken.error().status, taken.error().problem));
      return;
    }
    JsonWriter json;
    json.begin_object();
    const Accepted& accepted = *taken;
    json.field("seq", accepted.seq);
    json.field("repeated", accepted.repeated);
    json.key("event");
    json.raw(accepted.event_json);
    json.end_object();
    auto response = json_response(std::move(json).text());
    response.status = accepted.repeated ? 200 : 201;
    answer(std::move(response));
  });
}

}  // namespace dryclock::http
