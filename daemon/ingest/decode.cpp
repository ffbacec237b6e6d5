#include "ingest/decode.hpp"

#include <fmt/format.h>

#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <boost/json/value.hpp>
#include <cmath>
#include <optional>
#include <string_view>

#include "base/result.hpp"
#include "domain/names.hpp"
#include "domain/quantities.hpp"
#include "domain/shown.hpp"
#include "ingest/number.hpp"
#include "ingest/topic_filter.hpp"
#include "wire/announced_json.hpp"
#include "wire/event_json.hpp"
#include "wire/learnt_json.hpp"
#include "wire/setup_json.hpp"

namespace dryclock::ingest {
namespace {

namespace json = boost::json;

constexpr std::size_t deepest = 32;
constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
constexpr Time earliest_source_time = std::chrono::sys_days{std::chrono::year{2000} / 1 / 1};
constexpr Time latest_source_time = std::chrono::sys_days{std::chrono::year{2100} / 1 / 1};

template <class T>
using Found = Result<T, Reject>;

// What was found, short enough for a log line.
std::string shown(std::string_view text) {
  constexpr std::size_t most = 60;
  std::string line;
  for (const char c : text.substr(0, most)) {
    line += static_cast<unsigned char>(c) < 0x20 ? '?' : c;
  }
  return text.size() > most ? line + "..." : line;
}

std::string mapping_name(const SensorMapping& mapping) {
  return fmt::format("sensor {}, {}", mapping.sensor, name_of(mapping.quantity));
}

Reject refuse(RejectReason why, const SensorMapping& mapping, std::string_view what) {
  return {why, fmt::format("{}: {}", mapping_name(mapping), what)};
}

Found<double> number_from_text(std::string_view text, const SensorMapping& mapping) {
  const auto number = number_in(text);
  if (!number) {
    return refuse(number.error(), mapping, fmt::format("found \"{}\"", shown(text)));
  }
  return *number;
}

// Sensors that quote their numbers are common; a quoted number is a number.
Found<double> number_from_json(const json::value& value, const SensorMapping& mapping) {
  Result<double, RejectReason> number = RejectReason::not_a_number;
  if (value.is_string()) {
    number = number_in(value.get_string());
  } else if (value.is_number()) {
    number = value.to_number<double>();
  }
  if (number && !std::isfinite(*number)) {  // what the parser makes of 1e400
    number = RejectReason::not_finite;
  }
  if (!number) {
    return refuse(number.error(), mapping,
                  fmt::format("{} holds {}", mapping.pointer, shown(json::serialize(value))));
  }
  return *number;
}

const json::value* find(const json::value& document, std::string_view pointer) {
  boost::system::error_code error;
  return document.find_pointer(pointer, error);
}

Found<Time> time_from_json(const json::value& document, const SensorMapping& mapping) {
  const auto bad = [&](std::string_view what) {
    return refuse(RejectReason::bad_time, mapping, fmt::format("{} {}", mapping.time_pointer, what));
  };
  const json::value* found = find(document, mapping.time_pointer);
  if (found == nullptr) {
    return bad("is not in the payload");
  }
  Time at{};
  if (found->is_string()) {
    const auto read = parse_rfc3339(found->get_string());
    if (!read) {
      return bad(fmt::format("holds \"{}\": {}", shown(found->get_string()), read.error().what));
    }
    at = *read;
  } else if (found->is_number()) {
    const double number = found->to_number<double>();
    const auto read = instant_in(number);
    if (!read) {
      return bad(fmt::format("holds {}", number));
    }
    at = *read;
  } else {
    return bad(fmt::format("holds {}", shown(json::serialize(*found))));
  }
  if (at < earliest_source_time || at >= latest_source_time) {
    return bad(fmt::format("tells {}: the sensor's clock is not set", to_rfc3339(at)));
  }
  return at;
}

Found<Reading> reading(const RawMessage& message, const SensorMapping& mapping, double raw,
                       std::optional<Time> source_time) {
  Reading out;
  out.sensor = mapping.sensor;
  out.bay = mapping.bay;
  out.quantity = mapping.quantity;
  out.at = source_time.value_or(message.received_at);
  out.source_time = source_time.has_value();
  out.raw = raw;
  out.value = converted(raw, mapping);
  out.dup = message.dup;
  out.retained = message.retained;
  if (!std::isfinite(out.value)) {
    return refuse(RejectReason::not_finite, mapping, "slope and offset lead beyond any number");
  }
  return out;
}

// A payload is parsed once, however many mappings look into it, and only if one of them asks.
class Document {
 public:
  explicit Document(std::string_view payload) : payload_(payload) {}

  // Null where the payload is no JSON; `problem` then says why.
  const json::value* get() {
    if (!tried_) {
      tried_ = true;
      parse();
    }
    return value_ ? &*value_ : nullptr;
  }
  [[nodiscard]] const std::string& problem() const { return problem_; }

 private:
  void parse() {
    if (payload_.starts_with(byte_order_mark)) {
      problem_ = "starts with a byte order mark";
      return;
    }
    json::parse_options options;
    options.max_depth = deepest;
    boost::system::error_code error;
    json::value value = json::parse(payload_, error, {}, options);
    if (error) {
      problem_ = fmt::format("{}: \"{}\"", error.message(), shown(payload_));
      return;
    }
    value_ = std::move(value);
  }

  std::string_view payload_;
  bool tried_ = false;
  std::optional<json::value> value_;
  std::string problem_;
};

Found<Reading> read_one(const RawMessage& message, const SensorMapping& mapping, Document& document) {
  if (mapping.pointer.empty() && mapping.time_pointer.empty()) {
    const auto raw = number_from_text(message.payload, mapping);
    return raw ? reading(message, mapping, *raw, std::nullopt) : raw.error();
  }
  const json::value* root = document.get();
  if (root == nullptr) {
    return refuse(RejectReason::not_json, mapping, document.problem());
  }
  const json::value* field = find(*root, mapping.pointer);
  if (field == nullptr) {
    return refuse(RejectReason::no_such_field, mapping,
                  fmt::format("{} is not in {}", mapping.pointer, shown(message.payload)));
  }
  const auto raw = number_from_json(*field, mapping);
  if (!raw) {
    return raw.error();
  }
  if (mapping.time_pointer.empty()) {
    return reading(message, mapping, *raw, std::nullopt);
  }
  const auto at = time_from_json(*root, mapping);
  return at ? reading(message, mapping, *raw, *at) : at.error();
}

Decoded decode_message(const RawMessage& message, const Mappings& mappings) {
  Decoded out;
  Document document{message.payload};
  for (const auto& mapping : mappings) {
    if (!matches(mapping.topic, message.topic)) {
      continue;
    }
    if (message.cut || message.payload.size() > payload_limit) {
      out.rejects.push_back(refuse(RejectReason::too_large, mapping,
                                   fmt::format("more than the {} bytes that are allowed", payload_limit)));
      continue;
    }
    auto read = read_one(message, mapping, document);
    if (read) {
      out.readings.push_back(std::move(*read));
    } else {
      out.rejects.push_back(read.error());
    }
  }
  if (out.readings.empty() && out.rejects.empty()) {
    out.rejects.push_back(
        {RejectReason::unknown_topic, fmt::format("no sensor is set up for \"{}\"", shown(message.topic))});
  }
  return out;
}

Decoded decode_event(const JournalRow& row) {
  Decoded out;
  auto event = row.parsed ? Result<Event>{*row.parsed}
                          : wire::parse_event(row.message.payload, row.message.received_at);
  if (event) {
    out.event = std::move(*event);
    out.event->seq = row.seq;
    out.event->entered = row.message.received_at;
  } else {
    out.rejects.push_back({RejectReason::bad_event, to_string(event.error())});
  }
  return out;
}

Decoded decode_configured(const JournalRow& row) {
  Decoded out;
  if (auto settings = wire::read_configured(row.message.payload)) {
    out.configured = std::make_shared<const Configured>(std::move(*settings));
  } else {
    out.rejects.push_back({RejectReason::bad_event, to_string(settings.error())});
  }
  return out;
}

Decoded decode_redated(const JournalRow& row) {
  Decoded out;
  if (auto redated = wire::read_redated(row.message.payload)) {
    out.redated = std::move(*redated);
  } else {
    out.rejects.push_back({RejectReason::bad_event, to_string(redated.error())});
  }
  return out;
}

Decoded decode_announced(const JournalRow& row) {
  Decoded out;
  if (auto announced = wire::read_announced(shown_vehicle(row.message.topic), row.message.payload)) {
    out.announced = std::move(*announced);
  } else {
    out.rejects.push_back({RejectReason::bad_event, to_string(announced.error())});
  }
  return out;
}

Decoded decode_learnt(const JournalRow& row) {
  Decoded out;
  if (auto learnt = wire::read_learnt(shown_vehicle(row.message.topic), row.message.payload)) {
    out.learnt = std::move(*learnt);
  } else {
    out.rejects.push_back({RejectReason::bad_event, to_string(learnt.error())});
  }
  return out;
}

}  // namespace

Decoded decode(const JournalRow& row, const Mappings& mappings) {
  switch (row.kind) {
    case RowKind::message:
      return decode_message(row.message, mappings);
    case RowKind::event:
      return decode_event(row);
    case RowKind::configured:
      return decode_configured(row);
    case RowKind::redated:
      return decode_redated(row);
    case RowKind::announced:
      return decode_announced(row);
    case RowKind::learnt:
      return decode_learnt(row);
    case RowKind::started:
    case RowKind::tick:
    case RowKind::shown:
    case RowKind::clock_step:
      break;
  }
  return {};
}

}  // namespace dryclock::ingest
