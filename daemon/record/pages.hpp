// The parts of the record's PDF, in their order.
#pragma once

#include "record/record.hpp"
#include "record/sheet.hpp"

namespace dryclock::record {

void summary_page(Sheet& sheet, const Record& record);      // who, when, the table of pieces
void plot_pages(Sheet& sheet, const Record& record);        // the air, each piece's water
void event_pages(Sheet& sheet, const Record& record);       // what was told
void alert_pages(Sheet& sheet, const Record& record);       // what was told without being asked
void disclosure_pages(Sheet& sheet, const Record& record);  // gaps, steps, readings not used, sensors
void closing_pages(Sheet& sheet, const Record& record);     // parameters, seal, cautions

}  // namespace dryclock::record
