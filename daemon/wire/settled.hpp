// Numbers as a journal row gives them back. Boost.JSON may read a number of 16 or 17 digits as the double
// next to the one that was written; one of at most 15 it reads exactly (its digits and the power of ten are
// exact doubles then). So numbers are cut to that at the door, and an event that travels with its row is, bit
// for bit, the one that a replay reads from it.
#pragma once

#include "domain/event.hpp"

namespace dryclock::wire {

// To 15 significant digits; what is closer to 0 than 1e-7, in the unit of any field, to 0.
void settle(EventDetail& detail);

}  // namespace dryclock::wire
