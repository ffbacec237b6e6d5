// What is known of the devices whose readings a record rests on.
#pragma once

#include <vector>

#include "domain/setup.hpp"
#include "record/record.hpp"

namespace dryclock::record {

// One for each device in `record.sensors`, in their order.
[[nodiscard]] std::vector<SensorPaper> sensor_papers(const Record& record, const Setup& setup);

}  // namespace dryclock::record
