// What record and sheets say in the same words, beyond what the catalogue of messages and wording/ give.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "record/canvas.hpp"
#include "record/record.hpp"
#include "record/sheet.hpp"

namespace dryclock::record {

// "03-07 14:20", local: where the year is plain. No line breaks within it.
[[nodiscard]] std::string when_short(const wording::Words& words, Time t);
// "2026-03-07", local.
[[nodiscard]] std::string day(const wording::Words& words, Time t);

// 0.873 -> "87.3 %"; "-" for what is no number.
[[nodiscard]] std::string percent(const wording::Words& words, double share);
// A chance likewise; of what is hardly ever or nearly sure a bound: "under 0.1 %".
[[nodiscard]] std::string chance_text(const wording::Words& words, double share);
// The shortest that reads back the same: "0.143", "5 × 10⁻¹⁴".
[[nodiscard]] std::string exact(const wording::Words& words, double value);
// "bonnet, front bumper"
[[nodiscard]] std::string listed(const wording::Words& words, const std::vector<std::string>& all);

// "A standard hour dries as much as ..."
[[nodiscard]] std::string standard_hour(const wording::Words& words);
// The air whose pace is 1: {temperature} and {humidity}.
[[nodiscard]] std::vector<Value> reference_air();
// Of a StepEstimate: "edges wrapped".
[[nodiscard]] std::string step_words(const wording::Words& words, std::string_view step);

// Plate and customer as a sheet shows them: name and text.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> personal_facts(const Record& record);
// The program that made it: "dryclock 1.2.3".
[[nodiscard]] std::string program(const Record& record);
[[nodiscard]] Metadata metadata(const Record& record, std::string title, std::string subject);
// Of the sheets for the customer: their foot line, and what binds the shop itself. There is a checkpoint.
[[nodiscard]] std::string sheet_foot(const Record& record);
void checkpoint_facts(Sheet& sheet, const Record& record);

// "bonnet 1/2"; "piece 41" where it is not known.
[[nodiscard]] std::string piece_name(const Record& record, PieceId piece);
// "bonnet 1/2: laid again (was piece 12), film baseline, lot 7, as usual"
[[nodiscard]] std::string event_words(const Record& record, const EventEntry& event);
[[nodiscard]] bool is_on(const PieceRecord& piece);  // neither pulled nor laid again

}  // namespace dryclock::record
