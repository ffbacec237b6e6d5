// A request and its answer, free of any library's types: what guard and router work on.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/problem.hpp"
#include "domain/fact.hpp"

namespace dryclock::http {

struct Request {
  std::string method;                                        // "GET"; as sent
  std::string target;                                        // "/api/v1/board?x=1"
  std::vector<std::pair<std::string, std::string>> headers;  // names in lower case, in order
  std::string body;
  std::string peer;           // the address it came from
  std::string local_address;  // the address it was sent to
  bool from_this_machine = false;

  // The first header of that (lower-case) name; empty where there is none.
  [[nodiscard]] std::string_view header(std::string_view name) const;
  [[nodiscard]] std::size_t count(std::string_view name) const;
  // Whether its body is said to be application/json, with whatever parameters.
  [[nodiscard]] bool is_json() const;
};

struct Response {
  int status = 200;
  std::string content_type = "application/json";
  std::vector<std::pair<std::string, std::string>> headers;
  std::string body;
  bool live = false;  // after this head the connection stays open for server-sent events; no body
};

using Answer = std::function<void(Response)>;

// RFC 9457 problem details. `problem.where` names the field or parameter, and may be empty.
[[nodiscard]] Response problem_response(int status, const Problem& problem, std::optional<Fact> fact = {});
// "Not Found"; RFC 9110's phrase.
[[nodiscard]] std::string_view reason_phrase(int status);

// ASCII only, as header fields are.
[[nodiscard]] std::string lower_case(std::string_view text);

}  // namespace dryclock::http
