// The daemon's answers (domain/answers.hpp and the views in them) as JSON, both ways. The shapes stand beside
// the views, once: visit_fields. A new answer is instantiated in answer_json.cpp and described in schema.cpp.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "domain/answers.hpp"
#include "domain/sensor_search.hpp"

namespace dryclock::wire {

template <class Answer>
[[nodiscard]] std::string to_json(const Answer& answer);

// Problem: not JSON, or a field that is missing or of another kind (`where`: JSON pointer): daemon and client
// are of different versions then. Fields beside those that are known are passed over.
template <class Answer>
[[nodiscard]] Result<Answer> read_answer(std::string_view json);

// An alert as it was sent, by this or an earlier program. Problem: it is none.
[[nodiscard]] Result<AlertSummary> read_alert(std::string_view json);

// A fact as a table keeps it. Problem: it is none.
[[nodiscard]] Result<Fact> read_fact(std::string_view json);

}  // namespace dryclock::wire
