#include "http/router.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <string_view>

#include "base/log.hpp"
#include "http/daemon_routes.hpp"
#include "http/evidence_routes.hpp"
#include "http/sensor_routes.hpp"
#include "http/shop_routes.hpp"
#include "wire/answer_json.hpp"

namespace dryclock::http {
namespace {

// No script, style, frame or request from anywhere but here.
constexpr std::string_view content_policy =
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self'; "
    "manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

bool accepts_gzip(std::string_view accepted) {
  const std::size_t at = accepted.find("gzip");
  return at != std::string_view::npos && !accepted.substr(at + 4).starts_with(";q=0");
}

Response serve(const Request& request, const Asset& asset) {
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

}  // namespace

Router::Router(Services services, Guard guard, std::span<const Asset> assets)
    : services_(std::move(services)), guard_(std::move(guard)), assets_(assets) {
  add_shop_routes(routes_, services_);
  add_evidence_routes(routes_, services_);
  add_daemon_routes(routes_, services_);
  add_sensor_routes(routes_, services_);
  routes_.push_back(
      {"GET", "/api/v1/access", {}, at_once([this](const Asked& asked) { return access(asked.request); })});
}

std::string Router::board_json() const {
  return wire::to_json(services_.board());
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
      finish(problem_response(400, parsed.error()));
      return;
    }
    const Target& target = parsed.value();
    if (auto stopped = guard_.stop(request, target, now)) {
      finish(std::move(*stopped));
    } else if (!dispatch(routes_, request, target, finish)) {
      finish(page(request, target, now));
    }
  } catch (const std::exception& error) {
    log::error("http: {} {}: {}", request.method, request.target, error.what());
    finish(problem_response(500, {"the server failed; its log tells more", {}}));
  }
}

// What this device may do: a page that may only look offers nothing to tap.
Response Router::access(const Request& request) const {
  return json_response(wire::to_json(Permission{guard_.may_write(request)}));
}

// The page's own files, and the address that a phone is paired with.
Response Router::page(const Request& request, const Target& target, WrongTokens::Instant now) {
  const bool pairing = target.segments == std::vector<std::string>{"pair"};
  std::string path = target.segments.empty() ? "/" : "";
  for (const auto& segment : target.segments) {
    path += "/" + segment;
  }
  const auto known =
      std::find_if(assets_.begin(), assets_.end(), [&](const Asset& one) { return one.path == path; });
  if (!pairing && known == assets_.end()) {
    return problem_response(404, {"nothing is here", {}});
  }
  if (!reads(request)) {
    return method_refused(request, "GET, HEAD");
  }
  return pairing ? guard_.pair(request, target, now) : serve(request, *known);
}

}  // namespace dryclock::http
