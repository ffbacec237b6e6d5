#include "wire/personal_event.hpp"

#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <boost/json/value.hpp>

namespace dryclock::wire {
namespace {

namespace json = boost::json;

constexpr std::size_t longest_text = 200;  // bytes

// Takes the field off; false: it is there, and no text that can be kept.
bool take(json::object& object, std::string_view field, std::string& into) {
  const auto* found = object.if_contains(field);
  if (found == nullptr) {
    return true;
  }
  const bool is_text = found->is_string() && found->get_string().size() <= longest_text;
  if (is_text) {
    into = std::string{std::string_view{found->get_string()}};
  }
  const bool fits = is_text || found->is_null();
  object.erase(field);
  return fits;
}

}  // namespace

Result<SplitEvent> split_personal(std::string_view text) {
  boost::system::error_code error;
  json::value document = json::parse(text, error);
  if (error || !document.is_object()) {
    return SplitEvent{std::string{text}, {}, {}};
  }
  auto& object = document.get_object();
  for (const char* field : {"plate_sha256", "customer_sha256"}) {
    if (object.contains(field)) {
      return Problem{"is made by the daemon: send the text itself", std::string{"/"} + field};
    }
  }
  const auto* what = object.if_contains("what");
  const bool arrival = what != nullptr && what->is_string() && what->get_string() == "vehicle-in";
  if (!arrival || !(object.contains("plate") || object.contains("customer"))) {
    return SplitEvent{std::string{text}, {}, {}};
  }
  SplitEvent split;
  if (!take(object, "plate", split.plate)) {
    return Problem{"must be a text of at most 200 bytes", "/plate"};
  }
  if (!take(object, "customer", split.customer)) {
    return Problem{"must be a text of at most 200 bytes", "/customer"};
  }
  split.json = json::serialize(document);
  return split;
}

std::string with_personal(const std::string& event_json, const std::string& plate,
                          const std::string& customer) {
  auto document = json::parse(event_json);
  auto& object = document.as_object();
  if (!plate.empty()) {
    object["plate"] = plate;
  }
  if (!customer.empty()) {
    object["customer"] = customer;
  }
  return json::serialize(document);
}

}  // namespace dryclock::wire
