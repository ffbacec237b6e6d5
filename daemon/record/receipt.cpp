#include "record/receipt.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "record/sheet.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

constexpr int writing_lines = 4;
constexpr double writing_height = 22.0;

const Event* arrival_of(const Record& record) {
  const auto found = std::ranges::find_if(record.events, [](const EventEntry& one) {
    return !one.superseded && std::holds_alternative<VehicleIn>(one.event.detail);
  });
  return found == record.events.end() ? nullptr : &found->event;
}

// A line to write on.
void ruled(Sheet& sheet) {
  const Rect line = sheet.block(writing_height);
  const double y = line.y + line.height - 2.0;
  sheet.canvas().line({line.x, y}, {line.x + line.width, y}, {0.5, 0.5, Dash::solid});
}

void facts(Sheet& sheet, const Record& record) {
  if (!record.shop.empty()) {
    sheet.fact("Taken in by", record.shop);
  }
  sheet.fact("Vehicle", fmt::format("{} (number {})", record.reference, record.vehicle));
  for (const auto& [name, text] : personal_facts(record)) {
    sheet.fact(name, text);
  }
  const auto* arrival = arrival_of(record);
  sheet.fact("Came in", when(record, record.from));
  if (arrival != nullptr && !arrival->who.empty()) {
    sheet.fact("Received by", arrival->who);
  }
  sheet.fact("Hand-over agreed",
             record.hand_over ? when(record, *record.hand_over) : "no time is agreed yet");
}

void what_is_to_be_laid(Sheet& sheet, const Record& record) {
  sheet.heading("What is to be laid");
  const auto* arrival = arrival_of(record);
  const bool noted = arrival != nullptr && !arrival->note.empty();
  if (noted) {
    sheet.paragraph(arrival->note);
  }
  std::string planned;
  for (const auto& words : record.to_lay) {
    planned += (planned.empty() ? "" : ", ") + words;
  }
  if (!planned.empty()) {
    sheet.paragraph("Planned: " + planned + ".");
  }
  std::string laid;
  for (const auto& piece : record.pieces) {
    if (is_on(piece)) {
      laid += fmt::format("{}{} ({})", laid.empty() ? "" : "; ", piece.panel_label,
                          typeset(record, piece.film_label));
    }
  }
  if (!laid.empty()) {
    sheet.paragraph("Laid when this sheet was made: " + laid + ".");
  }
  for (int i = 0; i < writing_lines && !noted && planned.empty(); ++i) {
    ruled(sheet);
  }
}

void seal_number(Sheet& sheet, const Record& record) {
  sheet.heading("The number that fixes the workshop's log");
  if (!record.checkpoint) {
    sheet.paragraph("This sheet carries no number: " + record.unsealed + ".");
    return;
  }
  sheet.fact("Checkpoint", fmt::format("{}, made {}", record.checkpoint_number,
                                       record.checkpoint_at ? when(record, *record.checkpoint_at) : "-"));
  sheet.fact("Its SHA-256", *record.checkpoint);
  sheet.fact("First key, SHA-256", record.key_sha256);
  sheet.space(4.0);
  sheet.paragraph(
      "Keep this sheet. The workshop logs the air in which the film dries, and every step, and seals that "
      "log every hour. The number above was made from all of it up to that moment.");
  sheet.point(
      "Should you doubt a record of this job later, ask for the record with data, unpack it, and let "
      "somebody you trust check its folder \"sealed\":  dryclock verify sealed --anchor (the number "
      "above).  The file VERIFY.txt in that folder tells how to do the same with common tools.");
  sheet.point(
      "A log whose end was cut off before this number, or that was made anew after this sheet was printed, "
      "does not hold this number.");
  sheet.point(
      "It fixes what was logged before it. What comes later is fixed by the number on the hand-over sheet. "
      "It does not show that an entry is true.");
}

void signatures(Sheet& sheet) {
  constexpr double height = 44.0;
  constexpr double gap = 24.0;
  sheet.space(8.0);
  const Rect place = sheet.block(height);
  const double half = (place.width - gap) / 2.0;
  const double y = place.y + height - 14.0;
  for (const auto& [x, text] :
       {std::pair{place.x, "Date, for the workshop"}, std::pair{place.x + half + gap, "Date, customer"}}) {
    sheet.canvas().line({x, y}, {x + half, y}, {0.5, 0.0, Dash::solid});
    sheet.canvas().text({x, y + 9.0}, text, {7.5, false, 0.3});
  }
}

}  // namespace

Result<std::string> receipt_pdf(const Record& record, Paper paper) {
  const std::string title = "Receipt: " + record.reference;
  const Metadata metadata{title, record.shop, "A vehicle left for wet-applied film",
                          "dryclock " + record.version, record.as_of};
  const std::string foot =
      "Times are local, zone " + record.zone.name() + ". Made by dryclock " + record.version + ".";
  return Sheet::document(
      paper, metadata, title, foot,
      [&](Sheet& sheet) {
        sheet.title(title);
        facts(sheet, record);
        what_is_to_be_laid(sheet, record);
        seal_number(sheet, record);
        sheet.heading("Please note");
        sheet.point(
            "The agreed time holds if the film dries as expected. Film must not be wrapped, trimmed or "
            "driven wet; a cold or damp night can move the hand-over, and we tell you as soon as we see it.");
        sheet.point("This sheet is a receipt for the vehicle. It is no guarantee and no legal promise.");
        signatures(sheet);
      },
      Fit::one_page);
}

}  // namespace dryclock::record
