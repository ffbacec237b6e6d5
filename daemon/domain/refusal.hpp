// Why an event is not taken: what is so, and which field of the event says otherwise.
#pragma once

#include <stdexcept>
#include <string>

#include "base/result.hpp"
#include "domain/fact.hpp"

namespace dryclock {

struct Refusal {
  Fact what;
  std::string where;  // JSON pointer
};
using Allowed = Result<void, Refusal>;

// Called by Result::value() on a refusal: a bug in the caller, who had to ask first.
[[noreturn]] inline void throw_exception_from_error(const Refusal& refusal, const boost::source_location&) {
  throw std::runtime_error(refusal.where + ": " + refusal.what.key);
}

}  // namespace dryclock
