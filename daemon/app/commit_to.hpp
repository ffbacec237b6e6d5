// What tells who a customer is, on its way into the journal.
#pragma once

#include <vector>

#include "domain/event.hpp"
#include "domain/personal.hpp"
#include "wire/event_json.hpp"

namespace dryclock::app {

// The arrival keeps commitments alone; texts and salts are added to `kept`.
void commit_to(const wire::SubmittedEvent& given, VehicleIn& arrival, std::vector<PersonalText>& kept);

}  // namespace dryclock::app
