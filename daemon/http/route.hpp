// A route of the API: for which method, path and parameters it is, and who answers. The tables of routes are
// in *_routes.cpp, a subject each; the router asks them all alike.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "http/message.hpp"
#include "http/target.hpp"

namespace dryclock::http {

struct Asked {
  const Request& request;
  const Target& target;
  std::vector<std::string> parts;  // what stood for each {} of the route's path, decoded
};

struct Route {
  std::string_view method;              // "GET", which HEAD has too, or "POST"
  std::string_view path;                // "/api/v1/pieces/{}/history"
  std::vector<std::string> parameters;  // of the query; another one is a typing error that would silently
                                        // change the answer
  std::function<void(const Asked&, const Answer&)> answer;
};
using Routes = std::vector<Route>;

// For what is answered on the spot.
[[nodiscard]] std::function<void(const Asked&, const Answer&)> at_once(
    std::function<Response(const Asked&)> make);

// Asks the route that is meant. False: no route has this path. Its own answers are 405 where the path has
// other methods (named in Allow), and 400 for a parameter that it does not know.
[[nodiscard]] bool dispatch(const Routes& routes, const Request& request, const Target& target,
                            const Answer& answer);

[[nodiscard]] bool reads(const Request& request);  // GET or HEAD
[[nodiscard]] Response json_response(std::string body, int status = 200);
[[nodiscard]] Response method_refused(const Request& request, const std::string& allowed);
[[nodiscard]] std::optional<std::int64_t> whole_number(std::string_view text);  // from 0 on
// 404: no vehicle 'x'.
[[nodiscard]] Response none_such(std::string_view what, const std::string& id);

}  // namespace dryclock::http
