// The views of domain/view.hpp as JSON: field names as there, enumerations by the words of domain/names.hpp,
// instants as RFC 3339 in UTC, what is absent or not a number as null.
#pragma once

#include <string>
#include <vector>

#include "domain/setup.hpp"
#include "domain/view.hpp"
#include "http/json_writer.hpp"
#include "http/services.hpp"

namespace dryclock::http {

void write(JsonWriter& json, const Board& board);
void write(JsonWriter& json, const VehicleSummary& vehicle);
void write(JsonWriter& json, const AlertSummary& alert);
void write(JsonWriter& json, const AirPoint& point);
void write(JsonWriter& json, const HistoryPoint& point);
void write(JsonWriter& json, const HandedOver& vehicle);
void write(JsonWriter& json, const Channels& channels);
void write(JsonWriter& json, const Health& health);
void write(JsonWriter& json, const Site& site);
void write(JsonWriter& json, const RecheckReport& report);
// `site` goes with it: which words of the catalogue to show.
// `measured`: what coupon tests of this shop gave.
void write(JsonWriter& json, const Catalogue& catalogue, const Site& site,
           const std::vector<MeasuredFilm>& measured);

template <class T>
void write(JsonWriter& json, const std::vector<T>& list) {
  json.begin_array();
  for (const T& item : list) {
    write(json, item);
  }
  json.end_array();
}

template <class T>
void write_field(JsonWriter& json, std::string_view name, const T& item) {
  json.key(name);
  write(json, item);
}

template <class T>
[[nodiscard]] std::string to_json(const T& item) {
  JsonWriter json;
  write(json, item);
  return std::move(json).text();
}

}  // namespace dryclock::http
