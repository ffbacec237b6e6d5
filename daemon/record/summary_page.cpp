#include <algorithm>

#include "domain/names.hpp"
#include "record/pages.hpp"
#include "record/text.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

using wording::Words;

bool early(const Record& record, const StepEstimate& step) {
  return step.probability && !was_ready(step, record.announce_level);
}

// An estimate that is older than this says when it was made.
constexpr std::chrono::minutes said_for{2};

Value short_time(const Words& words, Time t) {
  return say::text("at", when_short(words, t));
}
Value share_of(const Words& words, double share) {
  return say::text("share", chance_text(words, share));
}

// What was worked out again, where it is another value than was said then.
void again(const Words& words, const StepEstimate& step, Cell& cell) {
  if (differs(step)) {
    cell.push_back(words.say("record.step-again",
                             {step.again ? share_of(words, *step.again) : say::text("share", "-")}));
    cell.push_back(step.again_announced
                       ? words.say("record.step-ready", {short_time(words, *step.again_announced)})
                       : words.say("record.step-not-ready"));
  }
}

// Whether it had been called ready, or worth a look; if not, whether it was wet still, or what was wanted.
void said(const Record& record, const StepEstimate& step, Cell& cell) {
  const auto& words = *record.words;
  if (step.announced) {
    cell.push_back(words.say(step.by_word ? "record.step-by-word" : "record.step-ready",
                             {short_time(words, *step.announced)}));
    return;
  }
  if (step.look) {
    cell.push_back(words.say("record.step-look", {short_time(words, *step.look)}));
  }
  if (early(record, step)) {
    const auto wanted = words.fact(step.held_by);
    cell.push_back(was_wet(step)    ? words.say("record.step-early")
                   : wanted.empty() ? words.say("record.step-not-ready")
                                    : wanted);
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
    cell.push_back(words.say("record.step-unknown"));
  } else {
    cell.push_back(words.say(found->kept ? "record.step-said" : "record.step-worked-out",
                             {share_of(words, *found->probability)}));
    if (found->kept && found->at - *found->kept > said_for) {
      cell.push_back(words.say("record.step-said-at", {short_time(words, *found->kept)}));
    }
    said(record, *found, cell);
  }
  again(words, *found, cell);
  return cell;
}

std::vector<Value> piece_values(const PieceRecord& piece) {
  return {say::text("piece", piece.panel_label), say::text("number", std::to_string(piece.summary.id))};
}

Cell piece_cell(const Words& words, const PieceRecord& piece) {
  Cell cell{words.say("record.piece-number", piece_values(piece))};
  if (piece.summary.removed) {
    cell.push_back(words.say("record.pulled-off"));
  } else if (piece.summary.replaced_by) {
    cell.push_back(
        words.say("record.laid-again", {say::text("number", std::to_string(*piece.summary.replaced_by))}));
  }
  return cell;
}

std::string release_estimate(const Record& record, double share) {
  const auto& words = *record.words;
  std::vector<Value> values{share_of(words, share), say::text("version", record.version)};
  if (!record.release_again) {
    return words.say("record.estimate-worked-out", values);
  }
  if (!differs(*record.release_again, share)) {
    return words.say("record.estimate-kept", values);
  }
  values.push_back(say::text("again", chance_text(words, *record.release_again)));
  return words.say("record.estimate-again", values);
}

void release_facts(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  if (!record.released) {
    sheet.fact(words.say("record.released"),
               words.say("record.not-released", {share_of(words, record.at_end.release_probability)}));
    return;
  }
  sheet.fact(words.say("record.released"), words.when(*record.released));
  if (record.release_probability) {
    sheet.fact(words.say("record.estimate"), release_estimate(record, *record.release_probability));
  }
  sheet.fact(words.say("record.advised"),
             record.advised.empty() ? words.say("record.nothing-noted") : record.advised);
}

void facts(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.fact(words.say("record.vehicle"),
             words.say("record.vehicle-number", {say::text("vehicle", record.reference),
                                                 say::text("number", std::to_string(record.vehicle))}));
  for (const auto& [name, text] : personal_facts(record)) {
    sheet.fact(name, text);
  }
  if (record.forgotten) {
    sheet.fact(words.say("record.personal"),
               words.say("record.erased", {say::time("at", *record.forgotten)}));
  }
  if (!record.shop.empty()) {
    sheet.fact(words.say("record.shop"), record.shop);
  }
  std::vector<std::string> stays;
  for (const auto& stay : record.stays) {
    stays.push_back(words.say("record.stay", {say::text("bay", stay.bay), say::time("from", stay.from)}));
  }
  sheet.fact(words.say("record.stays"), listed(words, stays));
  if (record.hand_over) {
    sheet.fact(words.say("record.hand-over"), words.when(*record.hand_over));
  }
  release_facts(sheet, record);
  sheet.fact(words.say("record.covers"),
             words.say("record.covered", {say::time("from", record.from), say::time("to", record.to),
                                          say::text("first", std::to_string(record.first_row)),
                                          say::text("last", std::to_string(record.last_row)),
                                          say::time("newest", record.as_of)}));
  sheet.fact(words.say("record.checkpoint"),
             record.checkpoint ? *record.checkpoint
                               : words.say("record.no-checkpoint", {say::fact("why", record.unsealed)}));
  sheet.fact(words.say("record.made-by"), program(record));
}

void piece_table(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(words.say("record.pieces"));
  if (record.pieces.empty()) {
    sheet.paragraph(words.say("record.no-film"));
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
  sheet.table({{words.say("record.piece"), 1.9},
               {words.say("record.laid"), 1.0},
               {head("edge-wrapped"), 1.15},
               {head("trimmed"), 1.1},
               {head("refitted"), 1.1},
               {head("released"), 1.1}},
              rows);
  sheet.paragraph(words.say("record.pieces-note", {say::text("level", percent(words, record.announce_level)),
                                                   say::text("version", record.version)}),
                  small);
}

std::string word_of(const Words& words, const SaidThen& said) {
  return words.say(said.word == Word::taken_back ? "record.said-taken-back"
                   : said.word == Word::look     ? "record.said-look"
                   : said.by_word                ? "record.said-by-word"
                                                 : "record.said-ready");
}

// What was said, in the order in which it was.
void announcements(Sheet& sheet, const Record& record) {
  if (record.announcements.empty()) {
    return;
  }
  const auto& words = *record.words;
  sheet.heading(words.say("record.announcements"));
  std::vector<std::vector<Cell>> rows;
  for (const auto& said : record.announcements) {
    rows.push_back({{when_short(words, said.at)},
                    {said.piece == 0 ? words.say("record.vehicle") : piece_name(record, said.piece)},
                    {words.say("record.milestone-" + std::string{name_of(said.which)})},
                    {word_of(words, said)},
                    {said.probability ? chance_text(words, *said.probability) : "-"},
                    {std::to_string(said.row)}});
  }
  sheet.table({{words.say("record.said-at"), 1.0},
               {words.say("record.piece"), 1.6},
               {words.say("record.said-of"), 1.3},
               {words.say("record.said"), 1.3},
               {words.say("record.chance"), 0.8, true},
               {words.say("record.said-row"), 0.7, true}},
              rows);
  sheet.paragraph(
      words.say("record.announcements-note", {say::text("level", percent(words, record.announce_level))}),
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
        found.push_back(words.say("record.early-step-unknown", values));
      } else if (early(record, step)) {
        const auto limit = words.fact(step.held_by);
        values.push_back(share_of(words, *step.probability));
        values.push_back(say::text("limit", limit));
        found.push_back(words.say(limit.empty() ? "record.early-step" : "record.early-step-held", values));
      }
    }
  }
  if (!found.empty()) {
    sheet.heading(words.say("record.early-steps"));
    for (const auto& text : found) {
      sheet.point(text);
    }
    sheet.paragraph(standard_hour(words), small);
  }
}

Cell with_sheet(const Words& words, const std::string& label, const std::string& data_sheet) {
  return {label, data_sheet.empty() ? words.say("record.no-data-sheet")
                                    : words.say("record.data-sheet", {say::text("name", data_sheet)})};
}

// With what the shop measured of it, where it has.
Cell film_cell(const Words& words, const PieceRecord& piece) {
  auto cell = with_sheet(words, piece.film_label, piece.film_sheet);
  if (piece.measured) {
    const auto& film = piece.measured->film;
    cell.push_back(
        words.say("record.measured", {say::text("resistance", exact(words, film.resistance)),
                                      say::text("uncertainty", percent(words, film.relative_uncertainty))}));
  }
  return cell;
}

Cell notes_cell(const Words& words, const PieceNotes& notes) {
  Cell cell;
  for (const auto& [key, note] :
       {std::pair{"record.tension", notes.tension}, std::pair{"record.relief-cuts", notes.relief_cuts},
        std::pair{"record.joins", notes.joins}}) {
    if (!note.empty()) {
      cell.push_back(words.say(key, {say::text("note", note)}));
    }
  }
  return cell.empty() ? Cell{"-"} : cell;
}

void film_table(Sheet& sheet, const Record& record) {
  if (record.pieces.empty()) {
    return;
  }
  const auto& words = *record.words;
  sheet.heading(words.say("record.film-and-solution"));
  std::vector<std::vector<Cell>> rows;
  for (const auto& piece : record.pieces) {
    const auto& summary = piece.summary;
    std::vector<std::string> zones;
    for (const auto zone : zones_of(piece)) {
      zones.push_back(words.word("zone", zone));
    }
    rows.push_back({{words.say("record.piece-number-short", piece_values(piece))},
                    film_cell(words, piece),
                    {piece.lot.empty() ? words.say("record.not-noted") : piece.lot},
                    with_sheet(words, piece.solution_label, piece.solution_sheet),
                    {words.word("wetness", summary.wetness)},
                    {piece.area_m2 > 0.0 ? exact(words, piece.area_m2) : "-"},
                    {zones.empty() ? "-" : listed(words, zones)},
                    notes_cell(words, summary.notes)});
  }
  sheet.table({{words.say("record.piece"), 1.4},
               {words.say("record.film"), 1.4},
               {words.say("record.lot"), 0.9},
               {words.say("record.solution"), 1.5},
               {words.say("record.squeegee"), 0.9},
               {"m\xC2\xB2", 0.6, true},
               {words.say("record.zones"), 1.0},
               {words.say("record.noted"), 1.2}},
              rows);
}

void rechecks(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(words.say("record.rechecks"));
  bool any = false;
  for (const auto& event : record.events) {
    if (!event.superseded && std::holds_alternative<Rechecked>(event.event.detail)) {
      sheet.point(words.say("record.recheck", {say::time("at", event.event.at),
                                               say::text("what", event_words(record, event))}));
      any = true;
    }
  }
  if (!any) {
    sheet.paragraph(words.say("record.no-recheck"));
  }
}

}  // namespace

void summary_page(Sheet& sheet, const Record& record) {
  sheet.title(record.words->say("record.title", {say::text("vehicle", record.reference)}));
  facts(sheet, record);
  piece_table(sheet, record);
  early_steps(sheet, record);
  announcements(sheet, record);
  film_table(sheet, record);
  rechecks(sheet, record);
}

}  // namespace dryclock::record
