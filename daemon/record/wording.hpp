// What record and hand-over sheet say in the same words.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "record/record.hpp"

namespace dryclock::record {

// "Sat 2026-03-07 14:20", local.
[[nodiscard]] std::string when(const Record& record, Time t);
// "03-07 14:20", local: where the year is plain.
[[nodiscard]] std::string when_short(const Record& record, Time t);
// "2026-03-07", local.
[[nodiscard]] std::string day(const Record& record, Time t);

[[nodiscard]] std::string_view degree(const Record& record);          // "°C" or "°F"
[[nodiscard]] double in_scale(const Record& record, double celsius);  // on the shop's scale

// A sentence or a unit of the program's, set for people: temperatures on the shop's scale, "°C", "m²", "µm".
[[nodiscard]] std::string typeset(const Record& record, std::string_view sentence);

// Keys of the machine files, as people say them: "air temperature", "°C", "pulled dry", "clock ahead of
// ours".
[[nodiscard]] std::string_view in_words(Quantity quantity);
[[nodiscard]] std::string_view in_words(Unit unit);
[[nodiscard]] std::string_view in_words(models::Wetness wetness);
[[nodiscard]] std::string_view in_words(Verdict verdict);
[[nodiscard]] std::string_view in_words(RejectReason reason);
// Of a StepEstimate's or an EarlyStep's step: "edges wrapped".
[[nodiscard]] std::string_view step_words(std::string_view step);
// What a start of the program told, {"version":...,"clock":...}, in words.
[[nodiscard]] std::string start_words(const DaemonStart& start);

// Plate and customer as a sheet shows them: name and text.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> personal_facts(const Record& record);

// "bonnet 1/2"; "piece 41" where it is not known.
[[nodiscard]] std::string piece_name(const Record& record, PieceId piece);
// "bonnet 1/2 laid again; film baseline, lot 7"
[[nodiscard]] std::string told(const Record& record, const EventEntry& event);
[[nodiscard]] bool is_on(const PieceRecord& piece);  // neither pulled nor laid again

inline constexpr std::string_view standard_hour =
    "A standard hour dries as much as an hour of air at 21 \xC2\xB0"
    "C and 50 %RH: at a pace of 0.5 it takes two hours.";

// The cautions that the product always carries.
[[nodiscard]] const std::vector<std::string_view>& cautions();

}  // namespace dryclock::record
