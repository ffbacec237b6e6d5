#include <algorithm>

#include "record/pages.hpp"
#include "record/text.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

using wording::Words;

constexpr Font small{7.5, false, 0.0};

// A word of this page.
std::string said(const Words& words, std::string_view key, const std::vector<Value>& values = {}) {
  return words.say("record." + std::string{key}, values);
}

bool early(const Record& record, const StepEstimate& step) {
  return step.probability && !was_ready(step, record.announce_level);
}

// An estimate that is older than this says when it was made.
constexpr std::chrono::minutes said_for{2};

Value short_time(const Words& words, Time t) {
  return say::text("at", when_short(words, t));
}
Value share_of(const Words& words, double share) {
  return say::text("share", percent(words, share));
}

// What was worked out again, where it is another value than was said then.
void again(const Words& words, const StepEstimate& step, Cell& cell) {
  if (differs(step)) {
    cell.push_back(
        said(words, "step-again", {step.again ? share_of(words, *step.again) : say::text("share", "-")}));
    cell.push_back(step.again_announced
                       ? said(words, "step-ready", {short_time(words, *step.again_announced)})
                       : said(words, "step-not-ready"));
  }
}

// The last step of that name: its time, what the estimate said, and whether that was early, in words.
Cell step_cell(const Record& record, const PieceRecord& piece, std::string_view name) {
  const auto& words = *record.words;
  const StepEstimate* found = nullptr;
  for (const auto& step : piece.steps) {
    if (step.step == name) {
      found = &step;
    }
  }
  if (found == nullptr) {
    return {"-"};
  }
  Cell cell{when_short(words, found->at)};
  if (!found->probability) {
    cell.push_back(said(words, "step-unknown"));
  } else {
    cell.push_back(
        said(words, found->kept ? "step-said" : "step-worked-out", {share_of(words, *found->probability)}));
    if (found->kept && found->at - *found->kept > said_for) {
      cell.push_back(said(words, "step-said-at", {short_time(words, *found->kept)}));
    }
    if (found->announced) {
      cell.push_back(said(words, "step-ready", {short_time(words, *found->announced)}));
    } else if (early(record, *found)) {
      cell.push_back(said(words, "step-early"));
    }
  }
  again(words, *found, cell);
  return cell;
}

std::vector<Value> piece_values(const PieceRecord& piece) {
  return {say::text("piece", piece.panel_label), say::text("number", std::to_string(piece.summary.id))};
}

Cell piece_cell(const Words& words, const PieceRecord& piece) {
  Cell cell{said(words, "piece-number", piece_values(piece))};
  if (piece.summary.removed) {
    cell.push_back(said(words, "pulled-off"));
  } else if (piece.summary.replaced_by) {
    cell.push_back(
        said(words, "laid-again", {say::text("number", std::to_string(*piece.summary.replaced_by))}));
  }
  return cell;
}

std::string release_estimate(const Record& record, double share) {
  const auto& words = *record.words;
  std::vector<Value> values{share_of(words, share), say::text("version", record.version)};
  if (!record.release_again) {
    return said(words, "estimate-worked-out", values);
  }
  if (!differs(*record.release_again, share)) {
    return said(words, "estimate-kept", values);
  }
  values.push_back(say::text("again", percent(words, *record.release_again)));
  return said(words, "estimate-again", values);
}

void release_facts(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  if (!record.released) {
    sheet.fact(said(words, "released"),
               said(words, "not-released", {share_of(words, record.at_end.release_probability)}));
    return;
  }
  sheet.fact(said(words, "released"), words.when(*record.released));
  if (record.release_probability) {
    sheet.fact(said(words, "estimate"), release_estimate(record, *record.release_probability));
  }
  sheet.fact(said(words, "advised"), record.advised.empty() ? said(words, "nothing-noted") : record.advised);
}

void facts(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.fact(said(words, "vehicle"), said(words, "vehicle-number",
                                          {say::text("vehicle", record.reference),
                                           say::text("number", std::to_string(record.vehicle))}));
  for (const auto& [name, text] : personal_facts(record)) {
    sheet.fact(name, text);
  }
  if (record.forgotten) {
    sheet.fact(said(words, "personal"), said(words, "erased", {say::time("at", *record.forgotten)}));
  }
  if (!record.shop.empty()) {
    sheet.fact(said(words, "shop"), record.shop);
  }
  std::vector<std::string> stays;
  for (const auto& stay : record.stays) {
    stays.push_back(said(words, "stay", {say::text("bay", stay.bay), say::time("from", stay.from)}));
  }
  sheet.fact(said(words, "stays"), listed(words, stays));
  if (record.hand_over) {
    sheet.fact(said(words, "hand-over"), words.when(*record.hand_over));
  }
  release_facts(sheet, record);
  sheet.fact(said(words, "covers"),
             said(words, "covered",
                  {say::time("from", record.from), say::time("to", record.to),
                   say::text("first", std::to_string(record.first_row)),
                   say::text("last", std::to_string(record.last_row)), say::time("newest", record.as_of)}));
  sheet.fact(said(words, "checkpoint"),
             record.checkpoint ? *record.checkpoint
                               : said(words, "no-checkpoint", {say::fact("why", record.unsealed)}));
  sheet.fact(said(words, "made-by"), program(record));
}

void piece_table(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(said(words, "pieces"));
  if (record.pieces.empty()) {
    sheet.paragraph(said(words, "no-film"));
    return;
  }
  std::vector<std::vector<Cell>> rows;
  for (const auto& piece : record.pieces) {
    rows.push_back({piece_cell(words, piece), {when_short(words, piece.summary.laid)}});
    for (const auto* step : {"edge-wrapped", "trimmed", "refitted", "released"}) {
      rows.back().push_back(step_cell(record, piece, step));
    }
  }
  const auto head = [&](const char* step) { return wording::capital(step_words(words, step)); };
  sheet.table({{said(words, "piece"), 1.9},
               {said(words, "laid"), 1.0},
               {head("edge-wrapped"), 1.15},
               {head("trimmed"), 1.1},
               {head("refitted"), 1.1},
               {head("released"), 1.1}},
              rows);
  sheet.paragraph(
      said(words, "pieces-note",
           {say::text("level", percent(words, record.announce_level)), say::text("version", record.version)}),
      small);
}

void early_steps(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  std::vector<std::string> found;
  for (const auto& piece : record.pieces) {
    for (const auto& step : piece.steps) {
      std::vector<Value> values{say::text("piece", piece.panel_label),
                                say::text("step", step_words(words, step.step)), say::time("at", step.at)};
      if (!step.probability) {
        found.push_back(said(words, "early-step-unknown", values));
      } else if (early(record, step)) {
        const auto limit = words.fact(step.held_by);
        values.push_back(share_of(words, *step.probability));
        values.push_back(say::text("limit", limit));
        found.push_back(said(words, limit.empty() ? "early-step" : "early-step-held", values));
      }
    }
  }
  if (!found.empty()) {
    sheet.heading(said(words, "early-steps"));
    for (const auto& text : found) {
      sheet.point(text);
    }
    sheet.paragraph(standard_hour(words), small);
  }
}

Cell with_sheet(const Words& words, const std::string& label, const std::string& data_sheet) {
  return {label, data_sheet.empty() ? said(words, "no-data-sheet")
                                    : said(words, "data-sheet", {say::text("name", data_sheet)})};
}

// With what the shop measured of it, where it has.
Cell film_cell(const Words& words, const PieceRecord& piece) {
  auto cell = with_sheet(words, piece.film_label, piece.film_sheet);
  if (piece.measured) {
    const auto& film = piece.measured->film;
    cell.push_back(said(words, "measured",
                        {say::text("resistance", exact(words, film.resistance)),
                         say::text("uncertainty", percent(words, film.relative_uncertainty))}));
  }
  return cell;
}

Cell notes_cell(const Words& words, const PieceNotes& notes) {
  Cell cell;
  for (const auto& [key, note] :
       {std::pair{"tension", notes.tension}, std::pair{"relief-cuts", notes.relief_cuts},
        std::pair{"joins", notes.joins}}) {
    if (!note.empty()) {
      cell.push_back(said(words, key, {say::text("note", note)}));
    }
  }
  return cell.empty() ? Cell{"-"} : cell;
}

void film_table(Sheet& sheet, const Record& record) {
  if (record.pieces.empty()) {
    return;
  }
  const auto& words = *record.words;
  sheet.heading(said(words, "film-and-solution"));
  std::vector<std::vector<Cell>> rows;
  for (const auto& piece : record.pieces) {
    const auto& summary = piece.summary;
    std::vector<std::string> zones;
    for (const auto& zone : summary.state.zones) {
      zones.push_back(words.word("zone", zone.kind));
    }
    rows.push_back({{said(words, "piece-number-short", piece_values(piece))},
                    film_cell(words, piece),
                    {piece.lot.empty() ? said(words, "not-noted") : piece.lot},
                    with_sheet(words, piece.solution_label, piece.solution_sheet),
                    {words.word("wetness", summary.wetness)},
                    {piece.area_m2 > 0.0 ? exact(words, piece.area_m2) : "-"},
                    {zones.empty() ? "-" : listed(words, zones)},
                    notes_cell(words, summary.notes)});
  }
  sheet.table({{said(words, "piece"), 1.4},
               {said(words, "film"), 1.5},
               {said(words, "lot"), 0.9},
               {said(words, "solution"), 1.5},
               {said(words, "squeegee"), 0.8},
               {"m\xC2\xB2", 0.6, true},
               {said(words, "zones"), 1.0},
               {said(words, "noted"), 1.2}},
              rows);
}

void rechecks(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(said(words, "rechecks"));
  bool any = false;
  for (const auto& event : record.events) {
    if (!event.superseded && std::holds_alternative<Rechecked>(event.event.detail)) {
      sheet.point(said(words, "recheck",
                       {say::time("at", event.event.at), say::text("what", event_words(record, event))}));
      any = true;
    }
  }
  if (!any) {
    sheet.paragraph(said(words, "no-recheck"));
  }
}

}  // namespace

void summary_page(Sheet& sheet, const Record& record) {
  sheet.title(record.words->say("record.title", {say::text("vehicle", record.reference)}));
  facts(sheet, record);
  piece_table(sheet, record);
  early_steps(sheet, record);
  film_table(sheet, record);
  rechecks(sheet, record);
}

}  // namespace dryclock::record
