// Result<T>: a value, or a Problem. GCC 12 has no std::expected; Boost's result has the same shape.
#pragma once

#include <boost/system/result.hpp>
#include <stdexcept>

#include "base/problem.hpp"

namespace dryclock {

template <class T, class E = Problem>
using Result = boost::system::result<T, E>;

// Called by Result::value() on an error: a bug in the caller, who had to ask first.
[[noreturn]] inline void throw_exception_from_error(const Problem& problem, const boost::source_location&) {
  throw std::runtime_error(to_string(problem));
}

}  // namespace dryclock
