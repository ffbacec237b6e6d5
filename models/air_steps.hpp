// A history of air, cut into steps short enough for the modes, with the panel's temperature following it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>

#include "models/catalogue.hpp"
#include "models/panel_heat.hpp"

namespace dryclock::models {

// One step for Simpson's rule: three moments of the air, and the panel's temperatures beside it, which it may
// not hold. [C, s]
struct AirStep {
  Surroundings begin, middle, end;
  double begin_c = 0.0, middle_c = 0.0, end_c = 0.0;
  double seconds = 0.0;
};

class AirSteps {
 public:
  using Take = std::function<void(const AirStep&)>;

  // From this moment; the sheet and what stands behind it at the temperature that is measured, or else at
  // `panel`.
  AirSteps(const PanelThermal& thermal, Celsius panel, const Surroundings& now);

  // One interval of linear air, in as many steps as it needs.
  void interval(const Surroundings& from, const Surroundings& to, Seconds duration, const Take& take);
  // The first readings, `spacing` apart, as one step of at most `longest`, see models/air_block.hpp. How many
  // intervals; 0: they need finer steps, and nothing has been done.
  std::size_t block(std::span<const Surroundings> points, Seconds spacing, Seconds longest, const Take& take);
  // All readings, `spacing` apart: in blocks of at most `longest`, from reading to reading where the air is
  // not steady enough for them.
  void through(std::span<const Surroundings> points, Seconds spacing, Seconds longest, const Take& take);

  [[nodiscard]] double panel_c() const { return panel_.sheet_c; }  // after the last step
  [[nodiscard]] std::uint8_t validity() const { return validity_; }

 private:
  void flag_panel(const Surroundings& air);

  PanelThermal thermal_;
  PanelState panel_;
  std::uint8_t validity_ = valid;
};

}  // namespace dryclock::models
