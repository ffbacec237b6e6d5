// Events as the page and the client send them, and as the journal keeps them.
//   {"what":"lay","at":"2026-03-01T14:20:00Z","who":"","note":"","key":"","vehicle":1,"panel":"bonnet", ...}
// `what` is one of event_names; the detail's fields stand beside it under their C++ names. `at` may be left
// out: it then happened when it was entered. A field at its default may be left out, where having none makes
// sense.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "domain/answers.hpp"

namespace dryclock::wire {

// `entered` is the time of receipt. Errors name the field as a JSON pointer in `where`: an unknown or missing
// field, a wrong type, a number out of range, a word that is not in the list.
[[nodiscard]] Result<Event> parse_event(std::string_view json, Time entered);

// What comes to the door: an event, and with an arrival "plate" and "customer", which are no part of it.
struct SubmittedEvent {
  Event event;
  std::string plate, customer;  // empty: not given
};
// The event is the one that its row will read back to, bit for bit (wire/settled.hpp). Errors as above, but
// what is said of plate and customer (texts of at most 200 bytes) never repeats what was sent; a commitment
// is refused, for only the daemon makes them.
[[nodiscard]] Result<SubmittedEvent> read_submitted(std::string_view json, Time entered);

// Several events told as one, each as parse_event has it; their keys and deed are made of the deed's own.
// Errors as above; also where it has no key, neither events nor undo, an event that is about no piece, or who
// and note without undo.
[[nodiscard]] Result<Deed> read_deed(std::string_view json, Time entered);

// The other way: what a client sends. Either may be empty.
[[nodiscard]] std::string with_personal(const std::string& event_json, const std::string& plate,
                                        const std::string& customer);

// One line. An event that has a number also shows `seq` and `entered`, which only the journal may give:
// parse_event refuses them, and reads everything else back to an equal event.
[[nodiscard]] std::string to_json(const Event& event);

}  // namespace dryclock::wire
