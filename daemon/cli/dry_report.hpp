// What `dryclock dry` prints: for people, as JSON (layout in README.md, Case files), as CSV.
#pragma once

#include <string>

#include "cli/dry_case.hpp"
#include "cli/dry_run.hpp"
#include "wording/words.hpp"

namespace dryclock::cli {

[[nodiscard]] std::string text_report(const DryCase& dry, const DryResult& result,
                                      const wording::Words& words);
[[nodiscard]] std::string json_report(const DryCase& dry, const DryResult& result);
// The series: hours,water_g_m2,excess_g_m2,bond,air_c,rh_pct,panel_c,pace.
[[nodiscard]] std::string csv_report(const DryResult& result);

}  // namespace dryclock::cli
