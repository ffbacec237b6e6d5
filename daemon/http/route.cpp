#include "http/route.hpp"

#include <fmt/format.h>

#include <algorithm>
#include "base/number_text.hpp"

namespace dryclock::http {
namespace {

// The parts that stand for {}; absent where it is another path.
std::optional<std::vector<std::string>> match(std::string_view pattern, const Target& target) {
  std::vector<std::string> parts;
  for (const auto& segment : target.segments) {
    if (pattern.empty()) {
      return std::nullopt;
    }
    pattern.remove_prefix(1);  // the slash
    const auto wanted = pattern.substr(0, pattern.find('/'));
    pattern.remove_prefix(wanted.size());
    if (wanted == "{}") {
      parts.push_back(segment);
    } else if (wanted != segment) {
      return std::nullopt;
    }
  }
  return pattern.empty() ? std::optional{std::move(parts)} : std::nullopt;
}

bool is_for(const Route& route, const Request& request) {
  return route.method == request.method || (route.method == "GET" && reads(request));
}

}  // namespace

bool reads(const Request& request) {
  return request.method == "GET" || request.method == "HEAD";
}

Response json_response(std::string body, int status) {
  Response response;
  response.status = status;
  response.body = std::move(body);
  return response;
}

Response method_refused(const Request& request, const std::string& allowed) {
  auto refused = problem_response(405, {fmt::format("{} is not for this", request.method), {}});
  refused.headers.emplace_back("Allow", allowed);
  return refused;
}

std::optional<std::int64_t> whole_number(std::string_view text) {
  const auto number = number_of<std::int64_t>(text);
  return number && *number >= 0 ? number : std::nullopt;
}

Response none_such(std::string_view what, const std::string& id) {
  return problem_response(404, {fmt::format("no {} '{}'", what, id), "id"});
}

std::function<void(const Asked&, const Answer&)> at_once(std::function<Response(const Asked&)> make) {
  return [make = std::move(make)](const Asked& asked, const Answer& answer) { answer(make(asked)); };
}

bool dispatch(const Routes& routes, const Request& request, const Target& target, const Answer& answer) {
  std::string allowed;
  for (const Route& route : routes) {
    auto parts = match(route.path, target);
    if (!parts) {
      continue;
    }
    if (!is_for(route, request)) {
      allowed += fmt::format("{}{}", allowed.empty() ? "" : ", ",
                             route.method == "GET" ? "GET, HEAD" : route.method);
      continue;
    }
    for (const auto& [name, value] : target.query) {
      if (std::ranges::find(route.parameters, name) == route.parameters.end()) {
        answer(problem_response(400, {"this parameter is not known here", name}));
        return true;
      }
    }
    route.answer({request, target, std::move(*parts)}, answer);
    return true;
  }
  if (allowed.empty()) {
    return false;
  }
  answer(method_refused(request, allowed));
  return true;
}

}  // namespace dryclock::http
