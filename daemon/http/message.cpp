#include "http/message.hpp"

#include <algorithm>

#include "wire/answer_json.hpp"

namespace dryclock::http {

std::string_view Request::header(std::string_view name) const {
  const auto found =
      std::find_if(headers.begin(), headers.end(), [&](const auto& header) { return header.first == name; });
  return found == headers.end() ? std::string_view{} : std::string_view{found->second};
}

std::size_t Request::count(std::string_view name) const {
  return static_cast<std::size_t>(std::count_if(headers.begin(), headers.end(),
                                                [&](const auto& header) { return header.first == name; }));
}

bool Request::is_json() const {
  const auto type = header("content-type");
  const auto essence = type.substr(0, type.find_first_of("; \t"));
  return lower_case(essence) == "application/json";
}

std::string_view reason_phrase(int status) {
  switch (status) {
    case 200:
      return "OK";
    case 201:
      return "Created";
    case 202:
      return "Accepted";
    case 303:
      return "See Other";
    case 304:
      return "Not Modified";
    case 400:
      return "Bad Request";
    case 401:
      return "Unauthorized";
    case 403:
      return "Forbidden";
    case 404:
      return "Not Found";
    case 405:
      return "Method Not Allowed";
    case 409:
      return "Conflict";
    case 413:
      return "Content Too Large";
    case 415:
      return "Unsupported Media Type";
    case 421:
      return "Misdirected Request";
    case 429:
      return "Too Many Requests";
    case 431:
      return "Request Header Fields Too Large";
    case 500:
      return "Internal Server Error";
    case 501:
      return "Not Implemented";
    case 503:
      return "Service Unavailable";
    default:
      return "Error";
  }
}

Response problem_response(int status, const Problem& problem, std::optional<Fact> fact) {
  ProblemDetails details;
  details.title = reason_phrase(status);
  details.status = status;
  details.detail = problem.what;
  details.where = problem.where;
  details.fact = std::move(fact);
  Response response;
  response.status = status;
  response.content_type = "application/problem+json";
  response.body = wire::to_json(details);
  return response;
}

std::string lower_case(std::string_view text) {
  std::string lower{text};
  std::transform(lower.begin(), lower.end(), lower.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return lower;
}

}  // namespace dryclock::http
