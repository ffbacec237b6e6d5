// What is known of the devices whose readings a record rests on.
#pragma once

#include <vector>

#include "domain/sensor_view.hpp"
#include "record/record.hpp"

namespace dryclock::record {

// One for each device in `record.sensors`, in their order; `devices` as they are at the record's end.
[[nodiscard]] std::vector<SensorPaper> sensor_papers(const Record& record,
                                                     const std::vector<SensorView>& devices);

}  // namespace dryclock::record
