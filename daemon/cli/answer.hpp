// The daemon's answers, as its views.
#pragma once

#include <stdexcept>
#include <string_view>

#include "wire/answer_json.hpp"

namespace dryclock::cli {

// std::runtime_error, naming the field: it is not what was agreed.
template <class Answer>
[[nodiscard]] Answer understood(std::string_view json) {
  auto answer = wire::read_answer<Answer>(json);
  if (!answer) {
    throw std::runtime_error("the daemon's answer is not understood: " + to_string(answer.error()) +
                             "; are daemon and client of one version?");
  }
  return *std::move(answer);
}

}  // namespace dryclock::cli
