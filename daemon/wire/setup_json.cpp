#include "wire/setup_json.hpp"

#include "domain/setup_fields.hpp"
#include "wire/field_reader.hpp"
#include "wire/field_writer.hpp"

namespace dryclock::wire {
namespace {

// Rows of programs that spoke English alone: two words of truth told the dialect and the scale, `shop` the
// name.
void read_old_site(const json::value& whole, Site& site) {
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

// Rows of before the shop's hands were learnt gave the water of each zone as three ranges: it was what is in
// their middle. Where water stands in a recess they had no word for it: as wet.
void renew_water(json::value& whole) {
  boost::system::error_code none;
  auto* table = whole.find_pointer("/settings/catalogue/water", none);
  if (table == nullptr || !table->is_array()) {
    return;
  }
  for (auto& zone : table->get_array()) {
    auto* row = zone.if_array();
    if (row == nullptr || row->size() != models::wetnesses - 1) {
      continue;
    }
    for (auto& water : *row) {
      const auto* range = water.if_object();
      if (const auto* likely = range == nullptr ? nullptr : range->if_contains("likely")) {
        water = json::value(*likely);
      }
    }
    row->push_back(json::value(row->back()));
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
  auto whole = parsed_json(text);
  if (!whole) {
    return whole.error();
  }
  renew_water(*whole);
  auto configured = read_value<Configured>(Form::row, *whole);
  if (configured) {
    read_old_site(*whole, configured->setup.site);
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
