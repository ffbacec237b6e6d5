#include "wire/setup_json.hpp"

#include "domain/setup_fields.hpp"
#include "wire/field_reader.hpp"
#include "wire/field_writer.hpp"

namespace dryclock::wire {
namespace {

// Rows of programs that spoke English alone: two words of truth told the dialect and the scale, `shop` the
// name.
void read_old_site(std::string_view text, Site& site) {
  const auto whole = json::parse({text.data(), text.size()});
  const auto find = [&](const char* pointer) {
    boost::system::error_code none;
    return whole.find_pointer(pointer, none);
  };
  const auto is_set = [&](const char* pointer) {
    const auto* found = find(pointer);
    return found != nullptr && found->is_bool() && found->get_bool();
  };
  if (const auto* name = find("/settings/site/shop"); name != nullptr && name->is_string()) {
    site.name = name->get_string();
  }
  if (is_set("/settings/catalogue/us_words")) {
    site.manner.language = Language::english_us;
  }
  if (is_set("/settings/site/fahrenheit")) {
    site.manner.temperature = TemperatureScale::fahrenheit;
  }
}

}  // namespace

std::string to_json(const Configured& configured) {
  return written(configured);
}

std::string to_json(const Setup& setup) {
  return written(setup);
}

std::string to_json(const Redated& redated) {
  return written(redated);
}

Result<Configured> read_configured(std::string_view text) {
  auto configured = read_as<Configured>(Form::row, text);
  if (configured) {
    read_old_site(text, configured->setup.site);
  }
  return configured;
}

Result<Redated> read_redated(std::string_view text) {
  auto redated = read_as<Redated>(Form::row, text);
  if (redated && redated->boot.empty()) {
    return Problem{"must name a boot", "/boot"};
  }
  return redated;
}

}  // namespace dryclock::wire
