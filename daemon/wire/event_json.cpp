#include "wire/event_json.hpp"

#include "domain/event_fields.hpp"
#include "wire/field_reader.hpp"
#include "wire/field_writer.hpp"

namespace dryclock::wire {

Result<Event> parse_event(std::string_view text, Time entered) {
  Event event;
  event.at = entered;
  event.entered = entered;
  return read_as(Form::told, text, std::move(event));
}

std::string to_json(const Event& event) {
  return written(event);
}

}  // namespace dryclock::wire
