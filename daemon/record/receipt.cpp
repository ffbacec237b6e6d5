#include "record/receipt.hpp"

#include <algorithm>

#include "record/sheet.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

using wording::Words;

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

void receipt_facts(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  if (!record.shop.empty()) {
    sheet.fact(words.say("record-receipt.taken-in-by"), record.shop);
  }
  sheet.fact(words.say("record.vehicle"),
             words.say("record.vehicle-number", {say::text("vehicle", record.reference),
                                                 say::text("number", std::to_string(record.vehicle))}));
  for (const auto& [name, text] : personal_facts(record)) {
    sheet.fact(name, text);
  }
  const auto* arrival = arrival_of(record);
  sheet.fact(words.say("record-receipt.came-in"), words.when(record.from));
  if (arrival != nullptr && !arrival->who.empty()) {
    sheet.fact(words.say("record-receipt.received-by"), arrival->who);
  }
  sheet.fact(words.say("record.hand-over"),
             record.hand_over ? words.when(*record.hand_over) : words.say("record-receipt.no-hand-over"));
}

void what_is_to_be_laid(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(words.say("record-receipt.to-lay"));
  const auto* arrival = arrival_of(record);
  const bool noted = arrival != nullptr && !arrival->note.empty();
  if (noted) {
    sheet.paragraph(arrival->note);
  }
  if (!record.to_lay.empty()) {
    sheet.paragraph(words.say("record-receipt.planned", {say::text("pieces", listed(words, record.to_lay))}));
  }
  std::vector<std::string> laid;
  for (const auto& piece : record.pieces) {
    if (is_on(piece)) {
      laid.push_back(words.say("record-receipt.piece",
                               {say::text("piece", piece.panel_label), say::text("film", piece.film_label)}));
    }
  }
  if (!laid.empty()) {
    sheet.paragraph(words.say("record-receipt.laid", {say::text("pieces", listed(words, laid))}));
  }
  for (int i = 0; i < writing_lines && !noted && record.to_lay.empty(); ++i) {
    ruled(sheet);
  }
}

void seal_number(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(words.say("record-receipt.seal"));
  if (!record.checkpoint) {
    sheet.paragraph(words.say("record-receipt.unsealed", {say::fact("why", record.unsealed)}));
    return;
  }
  checkpoint_facts(sheet, record);
  sheet.space(4.0);
  sheet.paragraph(words.say("record-receipt.keep"));
  for (const auto* key : {"record-receipt.doubt", "record-receipt.cut-off", "record-receipt.limits"}) {
    sheet.point(words.say(key));
  }
}

void signatures(Sheet& sheet, const Words& words) {
  constexpr double height = 44.0;
  constexpr double gap = 24.0;
  sheet.space(8.0);
  const Rect place = sheet.block(height);
  const double half = (place.width - gap) / 2.0;
  const double y = place.y + height - 14.0;
  for (const auto& [x, key] : {std::pair{place.x, "record-receipt.sign-shop"},
                               std::pair{place.x + half + gap, "record-receipt.sign-customer"}}) {
    sheet.canvas().line({x, y}, {x + half, y}, {0.5, 0.0, Dash::solid});
    sheet.canvas().text({x, y + 9.0}, words.say(key), {7.5, false, 0.3});
  }
}

}  // namespace

Result<std::string> receipt_pdf(const Record& record, Paper paper) {
  const auto& words = *record.words;
  const auto title = words.say("record-receipt.title", {say::text("vehicle", record.reference)});
  return Sheet::document(
      paper, words, metadata(record, title, words.say("record-receipt.subject")), sheet_foot(record),
      [&](Sheet& sheet) {
        sheet.title(title);
        receipt_facts(sheet, record);
        what_is_to_be_laid(sheet, record);
        seal_number(sheet, record);
        sheet.heading(words.say("record-handover.note"));
        sheet.point(words.say("record-receipt.agreed-time"));
        sheet.point(words.say("record-receipt.no-guarantee"));
        signatures(sheet, words);
      },
      Fit::one_page);
}

}  // namespace dryclock::record
