#include "record/pdf.hpp"

#include "record/pages.hpp"
#include "record/sheet.hpp"

namespace dryclock::record {

Result<std::string> pdf(const Record& record, Paper paper) {
  const std::string title = "Drying record " + record.reference;
  const Metadata metadata{title, record.shop,
                          "Wet-applied protective film: conditions and estimates while drying",
                          "dryclock " + record.version, record.as_of};
  const std::string foot = "An estimate is advice. Times are local, zone " + record.zone.name() + ".";
  return Sheet::document(paper, metadata, title, foot, [&](Sheet& sheet) {
    summary_page(sheet, record);
    event_pages(sheet, record);
    alert_pages(sheet, record);
    disclosure_pages(sheet, record);
    plot_pages(sheet, record);
    closing_pages(sheet, record);
  });
}

}  // namespace dryclock::record
