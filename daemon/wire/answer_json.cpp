#include "wire/answer_json.hpp"

#include "domain/setup_fields.hpp"
#include "wire/field_reader.hpp"
#include "wire/field_writer.hpp"

namespace dryclock::wire {

template <class Answer>
std::string to_json(const Answer& answer) {
  return written(answer);
}

template <class Answer>
Result<Answer> read_answer(std::string_view json) {
  return read_as<Answer>(Form::answer, json);
}

namespace {

// Programs before facts sent sentences. Takes one out of what was sent; it is said as it was told.
Fact taken_sentence(json::value& sent, std::string_view name) {
  auto* object = sent.if_object();
  auto* field = object == nullptr ? nullptr : object->if_contains(name);
  if (field == nullptr || !field->is_string()) {
    return {};
  }
  std::string told{std::string_view{field->get_string()}};
  object->erase(name);
  return told.empty() ? Fact{} : Fact{"alerts.as-told", {say::text("text", told)}, told};
}

}  // namespace

Result<AlertSummary> read_alert(std::string_view json) {
  auto sent = parsed_json(json);
  if (!sent) {
    return sent.error();
  }
  AlertSummary told;
  told.what = taken_sentence(*sent, "text");
  told.advice = taken_sentence(*sent, "advice");
  auto alert = read_value<AlertSummary>(Form::row, *sent, std::move(told));
  if (alert && alert->id.empty()) {
    return Problem{"must name an alert", "/id"};
  }
  return alert;
}

Result<Fact> read_fact(std::string_view json) {
  return read_as<Fact>(Form::row, json);
}

template std::string to_json(const Fact&);
template std::string to_json(const Board&);
template std::string to_json(const VehicleSummary&);
template std::string to_json(const CatalogueView&);
template std::string to_json(const AirAnswer&);
template std::string to_json(const AirAheadAnswer&);
template std::string to_json(const HistoryAnswer&);
template std::string to_json(const AlertsAnswer&);
template std::string to_json(const EventsAnswer&);
template std::string to_json(const Accepted&);
template std::string to_json(const HandedOverAnswer&);
template std::string to_json(const DeedTaken&);
template std::string to_json(const SearchAnswer&);
template std::string to_json(const Channels&);
template std::string to_json(const ChannelTest&);
template std::string to_json(const Health&);
template std::string to_json(const Permission&);
template std::string to_json(const Personal&);
template std::string to_json(const RecheckReport&);
template std::string to_json(const SensorsAnswer&);
template std::string to_json(const SensorSearch&);
template std::string to_json(const CouponsAnswer&);
template std::string to_json(const LearnedView&);
template std::string to_json(const PlatesAnswer&);
template std::string to_json(const ProblemDetails&);
template std::string to_json(const AlertSummary&);
template std::string to_json(const VehicleNews&);

template Result<Board> read_answer(std::string_view);
template Result<VehicleSummary> read_answer(std::string_view);
template Result<CatalogueView> read_answer(std::string_view);
template Result<AirAnswer> read_answer(std::string_view);
template Result<AirAheadAnswer> read_answer(std::string_view);
template Result<HistoryAnswer> read_answer(std::string_view);
template Result<AlertsAnswer> read_answer(std::string_view);
template Result<EventsAnswer> read_answer(std::string_view);
template Result<Accepted> read_answer(std::string_view);
template Result<HandedOverAnswer> read_answer(std::string_view);
template Result<DeedTaken> read_answer(std::string_view);
template Result<SearchAnswer> read_answer(std::string_view);
template Result<Channels> read_answer(std::string_view);
template Result<ChannelTest> read_answer(std::string_view);
template Result<Health> read_answer(std::string_view);
template Result<Permission> read_answer(std::string_view);
template Result<Personal> read_answer(std::string_view);
template Result<RecheckReport> read_answer(std::string_view);
template Result<SensorsAnswer> read_answer(std::string_view);
template Result<SensorSearch> read_answer(std::string_view);
template Result<CouponsAnswer> read_answer(std::string_view);
template Result<LearnedView> read_answer(std::string_view);
template Result<PlatesAnswer> read_answer(std::string_view);
template Result<ProblemDetails> read_answer(std::string_view);

}  // namespace dryclock::wire
