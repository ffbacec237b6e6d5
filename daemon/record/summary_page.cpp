#include <fmt/format.h>

#include <algorithm>

#include "base/plain_words.hpp"
#include "domain/names.hpp"
#include "record/pages.hpp"
#include "record/text.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

bool early(const Record& record, const StepEstimate& step) {
  return step.probability && !was_ready(step, record.announce_level);
}

// An estimate that is older than this says when it was made.
constexpr std::chrono::minutes said_for{2};

// What was worked out again, where it is another value than was said then.
void again(const Record& record, const StepEstimate& step, Cell& cell) {
  if (differs(step)) {
    cell.push_back("worked out again: " + (step.again ? percent(*step.again, 1) : std::string{"-"}));
    cell.push_back(step.again_announced ? "ready since " + when_short(record, *step.again_announced)
                                        : std::string{"not called ready"});
  }
}

// The last step of that name: its time, what the estimate said, and whether that was early, in words.
Cell step_cell(const Record& record, const PieceRecord& piece, std::string_view name) {
  const StepEstimate* found = nullptr;
  for (const auto& step : piece.steps) {
    if (step.step == name) {
      found = &step;
    }
  }
  if (found == nullptr) {
    return {"-"};
  }
  Cell cell{when_short(record, found->at)};
  if (!found->probability) {
    cell.emplace_back("entered later");
  } else {
    cell.push_back((found->kept ? "est. " : "worked out: ") + percent(*found->probability, 1));
    if (found->kept && found->at - *found->kept > said_for) {
      cell.push_back("said " + when_short(record, *found->kept));
    }
    if (found->announced) {
      cell.push_back("ready since");
      cell.push_back(when_short(record, *found->announced));
    } else if (early(record, *found)) {
      cell.emplace_back("EARLY");
    }
  }
  again(record, *found, cell);
  return cell;
}

Cell piece_cell(const PieceRecord& piece) {
  Cell cell{fmt::format("{} (piece {})", piece.panel_label, piece.summary.id)};
  if (piece.summary.removed) {
    cell.emplace_back("PULLED OFF");
  } else if (piece.summary.replaced_by) {
    cell.push_back(fmt::format("LAID AGAIN as {}", *piece.summary.replaced_by));
  }
  return cell;
}

std::string release_again(const Record& record) {
  if (!record.release_again) {
    return ", worked out by version " + record.version;
  }
  return differs(*record.release_again, *record.release_probability)
             ? fmt::format("; worked out again by version {}: {}", record.version,
                           percent(*record.release_again, 1))
             : std::string{};
}

void facts(Sheet& sheet, const Record& record) {
  sheet.fact("Vehicle", fmt::format("{} (number {})", record.reference, record.vehicle));
  for (const auto& [name, text] : personal_facts(record)) {
    sheet.fact(name, text);
  }
  if (record.forgotten) {
    sheet.fact("Plate, customer", "erased on " + when(record, *record.forgotten));
  }
  if (!record.shop.empty()) {
    sheet.fact("Shop", record.shop);
  }
  std::string bays;
  for (const auto& stay : record.stays) {
    bays += fmt::format("{}{} from {}", bays.empty() ? "" : "; ", stay.bay, when(record, stay.from));
  }
  sheet.fact("Stood in bay", bays);
  if (record.hand_over) {
    sheet.fact("Hand-over agreed", when(record, *record.hand_over));
  }
  if (record.released) {
    sheet.fact("Released", when(record, *record.released));
    if (record.release_probability) {
      sheet.fact("Estimate then", percent(*record.release_probability, 1) + " that it was release-ready" +
                                      release_again(record));
    }
    sheet.fact("Customer was told", record.advised.empty() ? "nothing is noted" : record.advised);
  } else {
    sheet.fact("Released", fmt::format("not yet; {} that it is release-ready at the end of this record",
                                       percent(record.at_end.release_probability, 1)));
  }
  sheet.fact(
      "This record covers",
      fmt::format("{} to {}; journal rows {} to {}, as of {}", when(record, record.from),
                  when(record, record.to), record.first_row, record.last_row, when(record, record.as_of)));
  sheet.fact("Checkpoint", record.checkpoint ? *record.checkpoint : "none: " + record.unsealed);
  sheet.fact("Made by", "dryclock " + record.version);
}

void piece_table(Sheet& sheet, const Record& record) {
  sheet.heading("Pieces");
  std::vector<std::vector<Cell>> rows;
  for (const auto& piece : record.pieces) {
    rows.push_back({piece_cell(piece),
                    {when_short(record, piece.summary.laid)},
                    step_cell(record, piece, "edge-wrapped"),
                    step_cell(record, piece, "trimmed"),
                    step_cell(record, piece, "refitted"),
                    step_cell(record, piece, "released")});
  }
  if (rows.empty()) {
    sheet.paragraph("No film is laid.");
    return;
  }
  sheet.table({{"Piece", 1.9},
               {"Laid", 1.0},
               {"Edges wrapped", 1.15},
               {"Trimmed", 1.1},
               {"Refitted", 1.1},
               {"Released", 1.1}},
              rows);
  sheet.paragraph(
      fmt::format(
          "est.: what the page said just before the step (told later: last until then), that the piece was "
          "ready for it at that moment "
          "(wrap-ready, trim-ready, refit-ready; at the release: dry), as the log kept it then. ready since: "
          "when the program had called it ready, at a level of {}; moister film in warmer or drier air later "
          "takes the estimate back, not the call. EARLY: it had not. worked out again: by version {} with "
          "the settings and all that is known at the end of this record, where that is another value; "
          "worked out: likewise, with what was known then, where the log keeps none from then. Of a step "
          "done twice the last is shown; the list of events has all.",
          percent(record.announce_level, 1), record.version),
      {7.5, false, 0.0});
}

void early_steps(Sheet& sheet, const Record& record) {
  std::vector<std::string> found;
  for (const auto& piece : record.pieces) {
    for (const auto& step : piece.steps) {
      if (early(record, step)) {
        found.push_back(
            fmt::format("{}, {} on {}: {} by the estimate{}{}.", piece.panel_label, step_words(step.step),
                        when(record, step.at), percent(*step.probability, 1),
                        step.held_by.empty() ? "" : "; held back by ", typeset(record, step.held_by)));
      } else if (!step.probability) {
        found.push_back(
            fmt::format("{}, {} on {}: the piece was entered later, so that the estimate did not know "
                        "it at that time.",
                        piece.panel_label, step_words(step.step), when(record, step.at)));
      }
    }
  }
  if (!found.empty()) {
    sheet.heading("Steps before the estimate called the piece ready");
    for (const auto& text : found) {
      sheet.point(text);
    }
    sheet.paragraph(standard_hour, {7.5, false, 0.0});
  }
}

Cell with_sheet(const std::string& label, const std::string& data_sheet) {
  return data_sheet.empty() ? Cell{label, "no data sheet named"} : Cell{label, "data sheet: " + data_sheet};
}

// With what the shop measured of it, where it has.
Cell film_cell(const Record& record, const PieceRecord& piece) {
  auto cell = with_sheet(typeset(record, piece.film_label), piece.film_sheet);
  if (piece.measured) {
    const auto& film = piece.measured->film;
    cell.push_back(typeset(
        record, fmt::format("measured: {} m2 s Pa/kg, \xC2\xB1 {} %", number_in_print(film.resistance),
                            fixed(100.0 * film.relative_uncertainty, 1))));
  }
  return cell;
}

void film_table(Sheet& sheet, const Record& record) {
  if (record.pieces.empty()) {
    return;
  }
  sheet.heading("Film and solution");
  std::vector<std::vector<Cell>> rows;
  for (const auto& piece : record.pieces) {
    const auto& summary = piece.summary;
    std::string zones;
    for (const auto& zone : summary.state.zones) {
      zones += fmt::format("{}{}", zones.empty() ? "" : ", ", name_of(zone.kind));
    }
    Cell notes;
    for (const auto& [name, note] :
         {std::pair{"tension", summary.notes.tension}, std::pair{"relief cuts", summary.notes.relief_cuts},
          std::pair{"joins", summary.notes.joins}}) {
      if (!note.empty()) {
        notes.push_back(fmt::format("{}: {}", name, note));
      }
    }
    rows.push_back({{fmt::format("{} ({})", piece.panel_label, summary.id)},
                    film_cell(record, piece),
                    {piece.lot.empty() ? "not noted" : piece.lot},
                    with_sheet(piece.solution_label, piece.solution_sheet),
                    {std::string{in_words(summary.wetness)}},
                    {piece.area_m2 > 0.0 ? number(piece.area_m2) : "-"},
                    {zones.empty() ? "-" : zones},
                    notes.empty() ? Cell{"-"} : notes});
  }
  sheet.table({{"Piece", 1.4},
               {"Film", 1.5},
               {"Lot", 0.9},
               {"Solution", 1.5},
               {"Squeegee", 0.8},
               {"m\xC2\xB2", 0.6, true},
               {"Zones", 1.0},
               {"Noted", 1.2}},
              rows);
}

void rechecks(Sheet& sheet, const Record& record) {
  sheet.heading("Rechecks");
  bool any = false;
  for (const auto& event : record.events) {
    if (!event.superseded && std::holds_alternative<Rechecked>(event.event.detail)) {
      sheet.point(when(record, event.event.at) + ": " + told(record, event));
      any = true;
    }
  }
  if (!any) {
    sheet.paragraph("None is in the journal up to the last row of this record.");
  }
}

}  // namespace

void summary_page(Sheet& sheet, const Record& record) {
  sheet.title("Drying record: " + record.reference);
  facts(sheet, record);
  piece_table(sheet, record);
  early_steps(sheet, record);
  film_table(sheet, record);
  rechecks(sheet, record);
}

}  // namespace dryclock::record
