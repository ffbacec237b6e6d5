#include "record/pdf.hpp"

#include "record/pages.hpp"
#include "record/sheet.hpp"
#include "record/wording.hpp"

namespace dryclock::record {

Result<std::string> pdf(const Record& record, Paper paper) {
  const auto& words = *record.words;
  const auto about = metadata(record, words.say("record.title", {say::text("vehicle", record.reference)}),
                              words.say("record.subject"));
  const auto foot = words.say("record.foot", {say::text("zone", words.zone().name())});
  return Sheet::document(paper, words, about, foot, [&](Sheet& sheet) {
    summary_page(sheet, record);
    event_pages(sheet, record);
    alert_pages(sheet, record);
    disclosure_pages(sheet, record);
    plot_pages(sheet, record);
    closing_pages(sheet, record);
  });
}

}  // namespace dryclock::record
