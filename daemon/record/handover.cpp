#include "record/handover.hpp"

#include <algorithm>

#include "domain/names.hpp"
#include "record/handed_over.hpp"
#include "record/sheet.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

using wording::Words;

constexpr std::size_t dry_index = static_cast<std::size_t>(models::Milestone::dry);

// As shown at the end of the record, with the outlook; null where the piece is no longer on.
const PieceSummary* shown(const Record& record, const PieceRecord& piece) {
  const auto found = std::ranges::find(record.at_end.pieces, piece.summary.id, &PieceSummary::id);
  return found == record.at_end.pieces.end() || !is_on(piece) ? nullptr : &*found;
}

// As the page said at the release; where no row keeps that, as worked out.
bool dry(const Record& record, const PieceRecord& piece, const MilestoneView& milestone) {
  const auto step = std::ranges::find(piece.steps, "released", &StepEstimate::step);
  if (step != piece.steps.end() && step->kept) {
    return was_ready(*step, record.announce_level);
  }
  return milestone.announced || milestone.probability >= record.announce_level;
}

// For people no finer than an hour, and on the safe side.
Value by(std::string_view name, Time t) {
  return say::time(name, std::chrono::ceil<std::chrono::hours>(t));
}

std::string drying_until(const Record& record, const MilestoneView& milestone) {
  const auto& words = *record.words;
  const auto& expected = milestone.expected;
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
    const auto& milestone = now->milestones[dry_index];
    rows.push_back({{piece.panel_label},
                    {work(words, piece.summary)},
                    {dry(record, piece, milestone) ? words.say("record-handover.dry")
                                                   : drying_until(record, milestone)}});
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
  std::vector<Value> until{say::text("until", care.all_dry ? "days" : "visit")};
  if (!care.all_dry && care.until && !care.beyond) {
    until = {say::text("until", "time"), by("at", *care.until)};
  }
  sheet.point(words.say("record-handover.no-wash", until));
  sheet.point(words.say("record-handover.no-touch", until));
  sheet.point(words.say("record-handover.no-wax"));
  if (!care.all_dry) {
    constexpr double cold_c = 10.0, damp_pct = 80.0;
    const auto usual = reference_air();
    sheet.paragraph(words.say("record-handover.air", {say::celsius("cold", cold_c),
                                                      say::humidity("damp", damp_pct), usual[0], usual[1]}));
  }
}

void how_it_looks(Sheet& sheet, const Record& record, const Care& care) {
  const auto& words = *record.words;
  sheet.heading(words.say("record-handover.looks"));
  if (care.all_dry) {
    sheet.paragraph(words.say("record-handover.all-dry"));
    return;
  }
  for (const auto& piece : record.pieces) {
    const auto* now = shown(record, piece);
    if (now == nullptr || dry(record, piece, now->milestones[dry_index])) {
      continue;
    }
    std::vector<std::string> zones;
    for (const auto& zone : now->state.zones) {
      if (zone.dry_probability < record.announce_level) {
        zones.push_back(words.say("record-handover.zone-" + std::string{name_of(zone.kind)}));
      }
    }
    const auto name = say::text("piece", piece.panel_label);
    sheet.point(zones.empty() ? words.say("record-handover.bond-left", {name})
                              : words.say("record-handover.water-left",
                                          {name, say::text("zones", listed(words, zones))}));
  }
  sheet.paragraph(words.say("record-handover.haze"));
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

void facts(Sheet& sheet, const Record& record) {
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
  for (const auto& piece : record.pieces) {
    const auto* now = shown(record, piece);
    if (now == nullptr || dry(record, piece, now->milestones[dry_index])) {
      continue;
    }
    care.all_dry = false;
    const auto& late = now->milestones[dry_index].expected.late;
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
        facts(sheet, record);
        what_was_done(sheet, record);
        what_to_avoid(sheet, record, care);
        how_it_looks(sheet, record, care);
        coming_back(sheet, record);
        please_note(sheet, record);
      },
      Fit::one_page);
}

}  // namespace dryclock::record
