// Inside this folder errors travel as std::runtime_error; its doors turn them back into a Problem.
#pragma once

#include <stdexcept>
#include <utility>

#include "base/result.hpp"

namespace dryclock::seal {

// The value; throws std::runtime_error with the Problem's text where there is none.
template <class T>
[[nodiscard]] T taken(Result<T> result) {
  if (!result) {
    throw std::runtime_error(to_string(result.error()));
  }
  return std::move(result).value();
}

}  // namespace dryclock::seal
