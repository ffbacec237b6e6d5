#include "record/handover.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "record/handed_over.hpp"
#include "record/sheet.hpp"
#include "record/text.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

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
std::string by(const Record& record, Time t) {
  return when(record, std::chrono::ceil<std::chrono::hours>(t));
}

std::string drying_until(const Record& record, const MilestoneView& milestone) {
  const auto& expected = milestone.expected;
  if (!expected.likely) {
    return "longer than three days";
  }
  const bool now = *expected.likely <= record.to + std::chrono::minutes{30};
  const std::string likely = now ? "perhaps dry by now" : "likely dry by " + by(record, *expected.likely);
  return likely + (expected.late ? ", very likely by " + by(record, *expected.late)
                                 : std::string{", perhaps some days later"});
}

std::string_view plain(models::ZoneKind zone) {
  switch (zone) {
    case models::ZoneKind::field:
      return "main area";
    case models::ZoneKind::edge:
      return "edges";
    case models::ZoneKind::recess:
      return "tight valleys";
    case models::ZoneKind::turn:
      return "edges turned round to the back";
  }
  return {};
}

void what_was_done(Sheet& sheet, const Record& record) {
  sheet.heading("What was done");
  std::vector<std::vector<Cell>> rows;
  for (const auto& piece : record.pieces) {
    const auto* now = shown(record, piece);
    if (now == nullptr) {
      continue;
    }
    const auto& milestone = now->milestones[dry_index];
    std::string steps = "film laid " + when_short(record, piece.summary.laid);
    for (const auto& [name, at] :
         {std::pair{"edges wrapped", piece.summary.wrapped}, std::pair{"trimmed", piece.summary.trimmed},
          std::pair{"part refitted", piece.summary.refitted}}) {
      if (at) {
        steps += fmt::format(", {} {}", name, when_short(record, *at));
      }
    }
    rows.push_back({{piece.panel_label},
                    {steps},
                    {dry(record, piece, milestone) ? std::string{"DRY by the estimate"}
                                                   : "STILL DRYING: " + drying_until(record, milestone)}});
  }
  if (rows.empty()) {
    sheet.paragraph("No film is on the vehicle.");
    return;
  }
  sheet.table({{"Part", 1.1}, {"Work", 2.3}, {"At the hand-over", 1.9}}, rows);
}

void what_to_avoid(Sheet& sheet, const Record& record, const Care& care) {
  sheet.heading("What to avoid, and until when");
  sheet.paragraph(
      "First of all, keep to the film maker's care and data sheet: where it asks for more, or for longer, it "
      "decides.");
  std::string until = "Until your next visit";
  if (care.all_dry) {
    until = "For the first days";
  } else if (care.until && !care.beyond) {
    until = "Until " + by(record, *care.until);
  }
  sheet.point(
      until +
      ": do not wash the vehicle, above all not with a pressure washer or in a machine; keep it out of "
      "rain and frost where you can.");
  sheet.point(
      until +
      ": do not press, rub, prick or peel the film, its edges or bubbles; keep fingers, cloths and tape off "
      "the edges.");
  sheet.point(
      "Until the recheck: no wax, polish, solvent or fuel on the film, and no jet of water at an edge.");
  if (!care.all_dry) {
    sheet.paragraph(
        "These times hold for air like that of the workshop. Water under film leaves more slowly where it is "
        "colder or more humid: at 10 \xC2\xB0"
        "C and 80 %RH some six times more slowly than at 21 \xC2\xB0"
        "C and 50 %RH.");
  }
}

void how_it_looks(Sheet& sheet, const Record& record, const Care& care) {
  sheet.heading("What is still drying, and how it will look");
  if (care.all_dry) {
    sheet.paragraph(
        "By the estimate nothing is left to dry. Should you see a haze or a small bubble of water, it "
        "usually goes by itself within days.");
    return;
  }
  for (const auto& piece : record.pieces) {
    const auto* now = shown(record, piece);
    if (now == nullptr || dry(record, piece, now->milestones[dry_index])) {
      continue;
    }
    std::string zones;
    for (const auto& zone : now->state.zones) {
      if (zone.dry_probability < record.announce_level) {
        zones += fmt::format("{}{}", zones.empty() ? "" : ", ", plain(zone.kind));
      }
    }
    sheet.point(piece.panel_label + (zones.empty()
                                         ? ": the adhesive has not reached its strength yet"
                                         : ": some water may still be under the film at its " + zones));
  }
  sheet.paragraph(
      "There the film may look hazy or milky, show fine streaks or small bubbles of clear water. That is "
      "the solution it was laid with; it leaves through the film and at the edges, from days to a few "
      "weeks. A bubble that stays, grows, or holds dirt, and an edge that lifts, should be shown to us.");
}

void coming_back(Sheet& sheet, const Record& record) {
  sheet.heading("When to come back");
  if (record.released) {
    sheet.paragraph(fmt::format(
        "Between {} and {} for a recheck of all edges (two to three weeks: common practice). Earlier, "
        "and at once, if an edge lifts.",
        day(record, *record.released + recheck_from), day(record, *record.released + recheck_until)));
  } else {
    sheet.paragraph(
        "Two to three weeks after the hand-over for a recheck of all edges (common practice). Earlier, and "
        "at once, if an edge lifts.");
  }
  std::string look;
  for (const auto& piece : record.pieces) {
    const auto& notes = piece.summary.notes;
    if (is_on(piece) && !(notes.tension.empty() && notes.relief_cuts.empty() && notes.joins.empty())) {
      look += (look.empty() ? "" : ", ") + piece.panel_label;
    }
  }
  if (!look.empty()) {
    sheet.paragraph("To be looked at first (joins, relief cuts, film under tension): " + look + ".");
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
  const std::string title = "Hand-over: " + record.reference;
  const Metadata metadata{title, record.shop, "Care of freshly laid film", "dryclock " + record.version,
                          record.as_of};
  const std::string foot =
      "Times are local, zone " + record.zone.name() + ". Made by dryclock " + record.version + ".";
  return Sheet::document(
      paper, metadata, title, foot,
      [&](Sheet& sheet) {
        const Care care = care_of(record);
        sheet.title(title);
        if (!record.shop.empty()) {
          sheet.fact("From", record.shop);
        }
        for (const auto& [name, text] : personal_facts(record)) {
          sheet.fact(name, text);
        }
        sheet.fact("Handed over", record.released ? when(record, *record.released)
                                                  : "not yet; as of " + when(record, record.as_of));
        if (!record.advised.empty()) {
          sheet.fact("You were told", record.advised);
        }
        what_was_done(sheet, record);
        what_to_avoid(sheet, record, care);
        how_it_looks(sheet, record, care);
        coming_back(sheet, record);
        sheet.heading("Please note");
        sheet.point(
            "Drying was estimated from the temperature and humidity of the workshop. An estimate is "
            "advice; it is not a measurement, and this sheet is no guarantee and no legal promise.");
        sheet.point(
            "Solvents and cleaners: keep to their safety data sheets. Film near airbags, driver-assistance "
            "sensors or high-voltage parts: have work done by qualified people, by the vehicle maker's "
            "procedure.");
        if (record.checkpoint) {
          sheet.point("Keep this sheet. The numbers below fix the workshop's log of this job as it was:");
          sheet.fact("Checkpoint",
                     fmt::format("{}, made {}", record.checkpoint_number,
                                 record.checkpoint_at ? when(record, *record.checkpoint_at) : "-"));
          sheet.fact("Its SHA-256", *record.checkpoint);
          sheet.fact("First key, SHA-256", record.key_sha256);
        } else {
          sheet.point("The workshop's log of this job has no sealed checkpoint on this sheet: " +
                      record.unsealed + ".");
        }
      },
      Fit::one_page);
}

}  // namespace dryclock::record
