#include "record/handover.hpp"

#include <algorithm>

#include "domain/milestones.hpp"
#include "domain/names.hpp"
#include "record/handed_over.hpp"
#include "record/sheet.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

using wording::Words;

using models::Milestone;

// As shown at the end of the record, with the outlook; null where the piece is no longer on.
const PieceSummary* shown(const Record& record, const PieceRecord& piece) {
  const auto found = std::ranges::find(record.at_end.pieces, piece.summary.id, &PieceSummary::id);
  return found == record.at_end.pieces.end() || !is_on(piece) ? nullptr : &*found;
}

const StepEstimate* release_of(const PieceRecord& piece) {
  const auto step = std::ranges::find(piece.steps, "released", &StepEstimate::step);
  return step == piece.steps.end() ? nullptr : &*step;
}

// As the page said at the release; where no row keeps that, as worked out.
bool ready(const Record& record, const PieceRecord& piece, const PieceSummary& now) {
  const auto* release = release_of(piece);
  if (release != nullptr && release->kept) {
    return was_ready(*release, record.announce_level);
  }
  const auto& milestone = milestone_of(now, Milestone::may_leave);
  return milestone.announced || milestone.probability >= record.announce_level;
}

bool by_word(const PieceRecord& piece, const PieceSummary& now) {
  const auto* release = release_of(piece);
  return release != nullptr && release->kept ? release->by_word
                                             : milestone_of(now, Milestone::may_leave).by_word;
}

// Zones in which liquid is likely.
std::vector<std::string> wet_zones(const Record& record, const PieceSummary& now) {
  std::vector<std::string> zones;
  for (const auto& zone : now.state.zones) {
    if (zone.wet_share.likely >= record.thresholds.gone_wet) {
      zones.push_back(record.words->say("record-handover.zone-" + std::string{name_of(zone.kind)}));
    }
  }
  return zones;
}

// For people no finer than an hour, and on the safe side.
Value by(std::string_view name, Time t) {
  return say::time(name, std::chrono::ceil<std::chrono::hours>(t));
}

std::string drying_until(const Record& record, const Spread& expected) {
  const auto& words = *record.words;
  if (!expected.likely) {
    return words.say("record-handover.drying-long");
  }
  const bool now = *expected.likely <= record.to + std::chrono::minutes{30};
  std::vector<Value> values{by("likely", *expected.likely)};
  if (!expected.late) {
    return words.say(now ? "record-handover.drying-now" : "record-handover.drying", values);
  }
  values.push_back(by("late", *expected.late));
  return words.say(now ? "record-handover.drying-now-late" : "record-handover.drying-late", values);
}

// Fit to leave; else still drying where liquid is likely, or what is wanted.
std::string at_hand_over(const Record& record, const PieceRecord& piece, const PieceSummary& now) {
  const auto& words = *record.words;
  if (ready(record, piece, now)) {
    return words.say(by_word(piece, now) ? "record-handover.ready-by-word" : "record-handover.ready");
  }
  if (!wet_zones(record, now).empty()) {
    return drying_until(record, milestone_of(now, Milestone::clear).expected);
  }
  const auto wanted = words.fact(milestone_of(now, Milestone::may_leave).held_by);
  return wanted.empty() ? words.say("record-handover.gaining")
                        : words.say("record-handover.gaining-wanted", {say::text("wanted", wanted)});
}

std::string work(const Words& words, const PieceSummary& piece) {
  std::vector<std::string> steps{
      words.say("record-handover.laid", {say::text("at", when_short(words, piece.laid))})};
  for (const auto& [step, at] :
       {std::pair{"edge-wrapped", piece.wrapped}, std::pair{"trimmed", piece.trimmed},
        std::pair{"refitted", piece.refitted}}) {
    if (at) {
      steps.push_back(words.say("record-handover.step", {say::text("step", step_words(words, step)),
                                                         say::text("at", when_short(words, *at))}));
    }
  }
  return listed(words, steps);
}

void what_was_done(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(words.say("record-handover.done"));
  std::vector<std::vector<Cell>> rows;
  for (const auto& piece : record.pieces) {
    const auto* now = shown(record, piece);
    if (now == nullptr) {
      continue;
    }
    rows.push_back({{piece.panel_label}, {work(words, piece.summary)}, {at_hand_over(record, piece, *now)}});
  }
  if (rows.empty()) {
    sheet.paragraph(words.say("record-handover.no-film"));
    return;
  }
  sheet.table({{words.say("record-handover.part"), 1.1},
               {words.say("record-handover.work"), 2.3},
               {words.say("record-handover.at-hand-over"), 1.9}},
              rows);
}

void what_to_avoid(Sheet& sheet, const Record& record, const Care& care) {
  const auto& words = *record.words;
  sheet.heading(words.say("record-handover.avoid"));
  sheet.paragraph(words.say("record-handover.data-sheet"));
  std::vector<Value> until{say::text("until", care.all_ready ? "days" : "visit")};
  if (care.until && !care.beyond) {
    until = {say::text("until", "time"), by("at", *care.until)};
  }
  if (care.full_strength) {
    sheet.paragraph(words.say("record-handover.full-strength", {by("at", *care.full_strength)}));
  }
  sheet.point(words.say("record-handover.no-wash", until));
  sheet.point(words.say("record-handover.no-touch", until));
  sheet.point(words.say("record-handover.no-wax"));
  if (!care.all_ready) {
    constexpr double cold_c = 10.0, damp_pct = 80.0;
    const auto usual = reference_air();
    sheet.paragraph(words.say("record-handover.air", {say::celsius("cold", cold_c),
                                                      say::humidity("damp", damp_pct), usual[0], usual[1]}));
  }
}

void how_it_looks(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(words.say("record-handover.looks"));
  bool any = false;
  for (const auto& piece : record.pieces) {
    const auto* now = shown(record, piece);
    if (now == nullptr) {
      continue;
    }
    const auto zones = wet_zones(record, *now);
    const auto name = say::text("piece", piece.panel_label);
    if (!zones.empty()) {
      sheet.point(words.say("record-handover.water-left", {name, say::text("zones", listed(words, zones))}));
    } else if (!ready(record, piece, *now)) {
      sheet.point(words.say("record-handover.bond-left", {name}));
    } else {
      continue;
    }
    any = true;
  }
  sheet.paragraph(words.say(any ? "record-handover.haze" : "record-handover.all-dry"));
}

void coming_back(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(words.say("record-handover.back"));
  sheet.paragraph(record.released ? words.say("record-handover.recheck",
                                              {say::text("from", day(words, *record.released + recheck_from)),
                                               say::text("to", day(words, *record.released + recheck_until))})
                                  : words.say("record-handover.recheck-later"));
  std::vector<std::string> look;
  for (const auto& piece : record.pieces) {
    const auto& notes = piece.summary.notes;
    if (is_on(piece) && !(notes.tension.empty() && notes.relief_cuts.empty() && notes.joins.empty())) {
      look.push_back(piece.panel_label);
    }
  }
  if (!look.empty()) {
    sheet.paragraph(words.say("record-handover.look-first", {say::text("pieces", listed(words, look))}));
  }
}

void handover_facts(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  if (!record.shop.empty()) {
    sheet.fact(words.say("record-handover.from"), record.shop);
  }
  for (const auto& [name, text] : personal_facts(record)) {
    sheet.fact(name, text);
  }
  sheet.fact(words.say("record-handover.handed-over"),
             record.released ? words.when(*record.released)
                             : words.say("record-handover.not-yet", {say::time("at", record.as_of)}));
  if (!record.advised.empty()) {
    sheet.fact(words.say("record-handover.advised"), record.advised);
  }
}

void please_note(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(words.say("record-handover.note"));
  sheet.point(words.say("record-handover.estimate"));
  sheet.point(words.say("record-handover.care"));
  if (record.checkpoint) {
    sheet.point(words.say("record-handover.keep"));
    checkpoint_facts(sheet, record);
  } else {
    sheet.point(words.say("record-handover.unsealed", {say::fact("why", record.unsealed)}));
  }
}

}  // namespace

Care care_of(const Record& record) {
  Care care;
  if (const auto& strong = record.at_end.full_strength; strong && *strong > record.to) {
    care.full_strength = care.until = strong;
  }
  for (const auto& piece : record.pieces) {
    const auto* now = shown(record, piece);
    if (now == nullptr || ready(record, piece, *now)) {
      continue;
    }
    care.all_ready = false;
    const auto& late = milestone_of(*now, Milestone::may_leave).expected.late;
    care.beyond = care.beyond || !late;
    if (late) {
      care.until = std::max(care.until.value_or(*late), *late);
    }
  }
  return care;
}

Result<std::string> handover_pdf(const Record& record, Paper paper) {
  const auto& words = *record.words;
  const auto title = words.say("record-handover.title", {say::text("vehicle", record.reference)});
  return Sheet::document(
      paper, words, metadata(record, title, words.say("record-handover.subject")), sheet_foot(record),
      [&](Sheet& sheet) {
        const Care care = care_of(record);
        sheet.title(title);
        handover_facts(sheet, record);
        what_was_done(sheet, record);
        what_to_avoid(sheet, record, care);
        how_it_looks(sheet, record);
        coming_back(sheet, record);
        please_note(sheet, record);
      },
      Fit::one_page);
}

}  // namespace dryclock::record
