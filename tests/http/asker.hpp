// The routes of the lived-in shop, asked without a network.
#pragma once

#include <boost/json/value.hpp>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "http/router.hpp"
#include "support/lived_shop.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::http {

inline constexpr Asset assets[] = {{"/", "text/html; charset=utf-8", "\"1\"", "<p>page</p>", "gzipped"}};
inline constexpr auto estate = "Grey estate";

class Asker {
 public:
  // `broker`: its port; 0: there is none.
  explicit Asker(std::uint16_t broker = 0);

  Response operator()(const std::string& method, const std::string& target, const std::string& body = {},
                      std::vector<std::pair<std::string, std::string>> headers = {});
  boost::json::value read(const std::string& target);
  Response tell(const std::string& event);
  [[nodiscard]] std::string vehicle(const char* reference = estate);
  [[nodiscard]] std::string piece(const char* panel);

  test::ScratchFolder folder;
  std::unique_ptr<test::WholeShop> shop;
  Services services;
};

// All of that name; more than one: it says so.
[[nodiscard]] std::string header(const Response& response, const std::string& name);
// The one of a list whose `key` is `name`; throws std::runtime_error where none is.
[[nodiscard]] boost::json::value named(const boost::json::value& all, const char* key, std::string_view name);

}  // namespace dryclock::http
