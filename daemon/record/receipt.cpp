#include "record/receipt.hpp"

#include <algorithm>

#include "record/sheet.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

using wording::Words;

// A word of this sheet.
std::string said(const Words& words, std::string_view key, const std::vector<Value>& values = {}) {
  return words.say("record-receipt." + std::string{key}, values);
}

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
  const auto& words = *record.words;
  if (!record.shop.empty()) {
    sheet.fact(said(words, "taken-in-by"), record.shop);
  }
  sheet.fact(words.say("record.vehicle"),
             words.say("record.vehicle-number", {say::text("vehicle", record.reference),
                                                 say::text("number", std::to_string(record.vehicle))}));
  for (const auto& [name, text] : personal_facts(record)) {
    sheet.fact(name, text);
  }
  const auto* arrival = arrival_of(record);
  sheet.fact(said(words, "came-in"), words.when(record.from));
  if (arrival != nullptr && !arrival->who.empty()) {
    sheet.fact(said(words, "received-by"), arrival->who);
  }
  sheet.fact(words.say("record.hand-over"),
             record.hand_over ? words.when(*record.hand_over) : said(words, "no-hand-over"));
}

void what_is_to_be_laid(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(said(words, "to-lay"));
  const auto* arrival = arrival_of(record);
  const bool noted = arrival != nullptr && !arrival->note.empty();
  if (noted) {
    sheet.paragraph(arrival->note);
  }
  if (!record.to_lay.empty()) {
    sheet.paragraph(said(words, "planned", {say::text("pieces", listed(words, record.to_lay))}));
  }
  std::vector<std::string> laid;
  for (const auto& piece : record.pieces) {
    if (is_on(piece)) {
      laid.push_back(
          said(words, "piece", {say::text("piece", piece.panel_label), say::text("film", piece.film_label)}));
    }
  }
  if (!laid.empty()) {
    sheet.paragraph(said(words, "laid", {say::text("pieces", listed(words, laid))}));
  }
  for (int i = 0; i < writing_lines && !noted && record.to_lay.empty(); ++i) {
    ruled(sheet);
  }
}

void seal_number(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(said(words, "seal"));
  if (!record.checkpoint) {
    sheet.paragraph(said(words, "unsealed", {say::fact("why", record.unsealed)}));
    return;
  }
  checkpoint_facts(sheet, record);
  sheet.space(4.0);
  sheet.paragraph(said(words, "keep"));
  for (const auto* key : {"doubt", "cut-off", "limits"}) {
    sheet.point(said(words, key));
  }
}

void signatures(Sheet& sheet, const Words& words) {
  constexpr double height = 44.0;
  constexpr double gap = 24.0;
  sheet.space(8.0);
  const Rect place = sheet.block(height);
  const double half = (place.width - gap) / 2.0;
  const double y = place.y + height - 14.0;
  for (const auto& [x, key] :
       {std::pair{place.x, "sign-shop"}, std::pair{place.x + half + gap, "sign-customer"}}) {
    sheet.canvas().line({x, y}, {x + half, y}, {0.5, 0.0, Dash::solid});
    sheet.canvas().text({x, y + 9.0}, said(words, key), {7.5, false, 0.3});
  }
}

}  // namespace

Result<std::string> receipt_pdf(const Record& record, Paper paper) {
  const auto& words = *record.words;
  const auto title = said(words, "title", {say::text("vehicle", record.reference)});
  return Sheet::document(
      paper, words, metadata(record, title, said(words, "subject")), sheet_foot(record),
      [&](Sheet& sheet) {
        sheet.title(title);
        facts(sheet, record);
        what_is_to_be_laid(sheet, record);
        seal_number(sheet, record);
        sheet.heading(words.say("record-handover.note"));
        sheet.point(said(words, "agreed-time"));
        sheet.point(said(words, "no-guarantee"));
        signatures(sheet, words);
      },
      Fit::one_page);
}

}  // namespace dryclock::record
