#include "wire/event_json.hpp"

#include <fmt/format.h>

#include <concepts>

#include "domain/event_fields.hpp"
#include "wire/field_reader.hpp"
#include "wire/field_writer.hpp"
#include "wire/settled.hpp"

namespace dryclock::wire {
namespace {

Event entered_at(Time entered) {
  Event event;
  event.at = entered;
  event.entered = entered;
  return event;
}

bool is_about_a_piece(const EventDetail& detail) {
  return std::visit(
      []<class Detail>(const Detail&) {
        return std::same_as<Detail, Lay> || requires(Detail one) {
          one.piece;
        };
      },
      detail);
}

}  // namespace

Result<Event> parse_event(std::string_view text, Time entered) {
  return read_as(Form::submitted, text, entered_at(entered));
}

Result<SubmittedEvent> read_submitted(std::string_view text, Time entered) {
  Apart apart;
  auto event = read_as(Form::submitted, text, entered_at(entered), &apart);
  if (!event) {
    return event.error();
  }
  if (const auto* arrival = std::get_if<VehicleIn>(&event->detail)) {
    if (!arrival->plate_sha256.empty() || !arrival->customer_sha256.empty()) {
      return Problem{"is made by the daemon: send the text itself",
                     arrival->plate_sha256.empty() ? "/customer_sha256" : "/plate_sha256"};
    }
  }
  settle(event->detail);
  return SubmittedEvent{*std::move(event), apart["plate"], apart["customer"]};
}

Result<Deed> read_deed(std::string_view text, Time entered) {
  auto deed = read_as<Deed>(Form::submitted, text);
  if (!deed) {
    return deed.error();
  }
  if (deed->key.empty()) {
    return Problem{"must not be empty", "/key"};
  }
  if (deed->events.empty() == deed->undo.empty()) {
    return Problem{"either events, or a deed to undo", "/events"};
  }
  if (deed->undo.empty() && !(deed->who.empty() && deed->note.empty())) {
    return Problem{"each event has its own", deed->who.empty() ? "/note" : "/who"};
  }
  for (std::size_t i = 0; i < deed->events.size(); ++i) {
    Event& event = deed->events[i];
    if (!is_about_a_piece(event.detail)) {
      return Problem{"must be about a piece", fmt::format("/events/{}/what", i)};
    }
    event.at = event.at == Time{} ? entered : event.at;
    event.entered = entered;
    event.key = fmt::format("{}/{}", deed->key, i);
    event.deed = deed->key;
    settle(event.detail);
  }
  return deed;
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

std::string to_json(const Event& event) {
  return written(event);
}

}  // namespace dryclock::wire
