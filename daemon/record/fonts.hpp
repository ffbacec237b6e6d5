// The font libraries keep what they have read until they are told that it is over.
#pragma once

namespace dryclock::record {

// Once, at the end of a program, when no thread sets a page any more: none can be set after it.
void release_fonts();

}  // namespace dryclock::record
