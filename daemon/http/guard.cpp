#include "http/guard.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace dryclock::http {
namespace {

// "name:80" -> "name", "[::1]:80" -> "::1"; nothing where it is neither.
std::optional<std::string> host_name(std::string_view host) {
  std::string_view name;
  std::string_view rest;
  if (!host.empty() && host.front() == '[') {
    const std::size_t end = host.find(']');
    if (end == std::string_view::npos) {
      return std::nullopt;
    }
    name = host.substr(1, end - 1);
    rest = host.substr(end + 1);
  } else {
    const std::size_t colon = std::min(host.find(':'), host.size());
    name = host.substr(0, colon);
    rest = host.substr(colon);
  }
  const bool port = rest.empty() || (rest.size() > 1 && rest.size() <= 6 && rest.front() == ':' &&
                                     rest.find_first_not_of("0123456789", 1) == std::string_view::npos);
  if (name.empty() || !port) {
    return std::nullopt;
  }
  return lower_case(name);
}

std::string_view bearer(const Request& request) {
  constexpr std::string_view scheme = "bearer ";
  const std::string_view value = request.header("authorization");
  return lower_case(value.substr(0, scheme.size())) == scheme ? value.substr(scheme.size())
                                                              : std::string_view{};
}

std::string_view cookie(const Request& request) {
  constexpr std::string_view name = "dryclock=";
  std::string_view rest = request.header("cookie");
  while (!rest.empty()) {
    const std::size_t end = std::min(rest.find(';'), rest.size());
    std::string_view one = rest.substr(0, end);
    one.remove_prefix(std::min(one.find_first_not_of(' '), one.size()));
    if (one.starts_with(name)) {
      return one.substr(name.size());
    }
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  return {};
}

// Whether a browser tells that another site's page sent this.
bool from_other_site(const Request& request) {
  const std::string_view site = request.header("sec-fetch-site");
  if (!site.empty() && site != "same-origin" && site != "none") {
    return true;
  }
  const std::string_view origin = request.header("origin");
  if (origin.empty()) {
    return false;
  }
  const std::size_t scheme = origin.find("://");
  return scheme == std::string_view::npos ||
         lower_case(origin.substr(scheme + 3)) != lower_case(request.header("host"));
}

std::string_view token_of(const Request& request) {
  const std::string_view sent = bearer(request);
  return sent.empty() ? cookie(request) : sent;
}

Response too_many_wrong_tokens() {
  auto response = problem_response(429, {"too many wrong tokens from this address; wait a minute", {}});
  response.headers.emplace_back("Retry-After", std::to_string(WrongTokens::window.count()));
  return response;
}

// A person stands before this one, with a phone that has just read a code; nothing is known of their
// language.
Response pairing_refused() {
  Response response;
  response.status = 401;
  response.content_type = "text/html; charset=utf-8";
  response.body =
      "<!doctype html><html lang=\"en\"><head><title>dryclock</title>"
      "<meta name=\"viewport\" content=\"width=device-width\"></head><body><h1>Not paired</h1>"
      "<p>This pairing address is not known, or no longer. On the daemon's machine run <b>dryclock pair</b>, "
      "and point the camera at the new code.</p>"
      "<h1 lang=\"de\">Nicht gekoppelt</h1>"
      "<p lang=\"de\">Diese Kopplungsadresse ist nicht oder nicht mehr bekannt. Auf dem Rechner des Dienstes "
      "<b>dryclock pair</b> ausführen und die Kamera auf den neuen Code richten.</p></body></html>\n";
  return response;
}

}  // namespace

std::optional<Problem> fault_of_head(std::string_view head) {
  for (std::size_t i = 0; i < head.size(); ++i) {
    const bool after_cr = i > 0 && head[i - 1] == '\r';
    if (head[i] == '\0' || (head[i] == '\n') != after_cr) {
      return Problem{"a control character in the header", {}};
    }
  }
  const std::string_view line = head.substr(0, head.find("\r\n"));
  if (line.empty() || !std::all_of(line.begin(), line.end(), [](char c) { return c >= 0x20 && c < 0x7f; })) {
    return Problem{"the request line holds visible ASCII characters only", {}};
  }
  if (head.find("\r\n ") != std::string_view::npos || head.find("\r\n\t") != std::string_view::npos) {
    return Problem{"folded header lines are obsolete and not taken", {}};
  }
  return std::nullopt;
}

Guard::Guard(const std::vector<std::string>& hosts, Access access) : access_(std::move(access)) {
  for (const auto& host : hosts) {
    hosts_.push_back(lower_case(host));
  }
}

// An address literal that was really called cannot have been rebound by a foreign name server.
bool Guard::is_our_host(std::string_view host, const Request& request) const {
  const auto name = host_name(host);
  return name &&
         (*name == "localhost" || *name == "127.0.0.1" || *name == "::1" || *name == request.local_address ||
          std::find(hosts_.begin(), hosts_.end(), *name) != hosts_.end());
}

std::optional<Response> Guard::stop(const Request& request, const Target& target, WrongTokens::Instant now) {
  if (request.count("host") != 1) {
    return problem_response(400, {"exactly one Host header is needed", "Host"});
  }
  const std::string_view host = request.header("host");
  if (!is_our_host(host, request) || (!target.host.empty() && !is_our_host(target.host, request))) {
    return problem_response(421,
                            {fmt::format("this server is not called '{}'; see http.hosts in its settings",
                                         target.host.empty() ? host : std::string_view{target.host}),
                             "Host"});
  }
  const bool api = !target.segments.empty() && target.segments.front() == "api";
  const bool writes = request.method == "POST";
  // Without CORS another site cannot read an answer; it must not hold live connections or send events either.
  if ((api || writes) && from_other_site(request)) {
    return problem_response(403, {"requests from another site's page are not taken", "Origin"});
  }
  // The page itself tells nothing: it is the same everywhere, and it says how to pair.
  return api ? stop_for_token(request, now) : std::nullopt;
}

bool Guard::may_write(const Request& request) const {
  return needs_no_token(request) || grant_of(access_, token_of(request)) == Grant::write;
}

bool Guard::needs_no_token(const Request& request) const {
  return request.from_this_machine && !access_.require_token;
}

std::optional<Response> Guard::stop_for_token(const Request& request, WrongTokens::Instant now) {
  if (needs_no_token(request)) {
    return std::nullopt;
  }
  const std::string_view given = token_of(request);
  if (wrong_.refused(request.peer, now)) {
    return too_many_wrong_tokens();
  }
  const Grant grant = given.empty() ? Grant::none : grant_of(access_, given);
  if (grant == Grant::none) {
    if (!given.empty()) {
      wrong_.count(request.peer, now);
    }
    auto response = problem_response(
        401, {given.empty() ? "a token is needed; pair this device first" : "this token is not known", {}});
    response.headers.emplace_back("WWW-Authenticate", "Bearer");
    return response;
  }
  if (request.method == "POST" && grant == Grant::read) {
    return problem_response(403, {"this device may only look: its token is read-only", {}});
  }
  return std::nullopt;
}

Response Guard::pair(const Request& request, const Target& target, WrongTokens::Instant now) {
  if (wrong_.refused(request.peer, now)) {
    return too_many_wrong_tokens();
  }
  const auto token = target.query.find("token");
  if (token == target.query.end() || grant_of(access_, token->second) == Grant::none) {
    wrong_.count(request.peer, now);
    return pairing_refused();
  }
  Response response;
  response.status = 303;
  response.headers.emplace_back("Location", "/");
  response.headers.emplace_back(
      "Set-Cookie",
      fmt::format("dryclock={}; HttpOnly; SameSite=Strict; Path=/; Max-Age=31536000", token->second));
  return response;
}

}  // namespace dryclock::http
