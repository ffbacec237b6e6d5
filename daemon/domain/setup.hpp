// The configuration in the terms of the engine and the decoder, as `configured` rows tell it to them.
#pragma once

#include <array>
#include <map>
#include <string>
#include <vector>

#include "domain/event.hpp"
#include "domain/manner.hpp"
#include "domain/types.hpp"
#include "models/catalogue.hpp"
#include "models/milestone.hpp"

namespace dryclock {

// What the shop is called, and how times and temperatures are told there.
struct Site {
  std::string name;
  std::string time_zone;  // IANA name; empty: the machine's
  Manner manner{};
};

struct BaySetup {
  std::string name;
  // Alerts; absent: off.
  std::optional<double> cold_below_c, damp_above_pct;
  std::optional<double> volume_m3;  // of its air; absent: no bound of the solvent's vapour
  bool heated = false;              // to a temperature that is held: its outlook begins surer
  bool gone = false;  // no longer in the settings: what stands or was measured there stays readable
};

// What the settings say of a device beside how it is read; either may be empty.
struct SensorAbout {
  std::string sensor, model, place;
};

struct FilmEntry {
  std::string key, label_uk, label_us, label_de;  // the last two may be empty: the first stands for them
  models::FilmStack stack;
  std::string data_sheet{};  // which one its user goes by: title, number, date; may be empty
  bool gone = false;         // no longer in the catalogue: readable, and laid no more
};
struct SolutionEntry {
  std::string key, label_uk, label_us, label_de;  // the last two may be empty: the first stands for them
  models::Solution solution;
  std::string data_sheet{};  // safety data sheet or recipe; may be empty
  bool gone = false;         // no longer in the catalogue: readable, and laid no more
};
struct PanelEntry {
  std::string key, label_uk, label_us, label_de;  // the last may be empty: the first stands for it
  double area_m2 = 0.0;
  models::PanelThermal thermal;
  std::vector<models::ZoneKind> zones;
  // Those of it that a vehicle has; empty: there is one. Absent in settings of before sides were told: then
  // each part of a panel covers all of it.
  std::optional<std::vector<Side>> sides{};
  // The steps that are done on it, of wrap_ready, trim_ready and refit_ready.
  std::vector<models::Milestone> steps{models::Milestone::wrap_ready, models::Milestone::trim_ready,
                                       models::Milestone::refit_ready};
  bool gone = false;  // no longer in the catalogue: readable, and laid no more
};

// A usual set of pieces, to plan a vehicle with.
struct TemplateEntry {
  std::string key, label_uk, label_us, label_de;  // the last may be empty: the first stands for it
  std::vector<PlannedPiece> pieces;               // in the order of the work
};

// Water right after the squeegee [g/m2], by zone and by how it was pulled: what usual hands leave. Its spread
// is the shop's: models/shop_levels.hpp.
using WaterTable = std::array<std::array<double, models::wetnesses>, models::zone_kinds>;

struct Catalogue {
  std::vector<FilmEntry> films;  // the first of each is the default
  std::vector<SolutionEntry> solutions;
  std::vector<PanelEntry> panels;
  std::vector<TemplateEntry> templates;  // may be empty
  WaterTable water{};
};

struct ScreenLimits {
  double air_min_c = -30, air_max_c = 60, panel_min_c = -30, panel_max_c = 110;
  double air_jump_c_per_min = 5,
         rh_jump_pct_per_min = 30;              // a step beyond this is a spike until it is confirmed
  int spike_confirmations = 3;                  // so many in a row near each other: it was real
  Millis stuck_after = std::chrono::hours{6};   // the very same value for that long
  Millis skew_limit = std::chrono::minutes{5};  // source clock ahead of ours
};

struct AlertSettings {
  Millis dwell = std::chrono::minutes{10};  // a condition must last this long
  Millis silent_after = std::chrono::minutes{15};
  double cold_hysteresis_c = 1.0, damp_hysteresis_pct = 3.0;
  double dew_margin_k = 3.0;                      // ISO 8502-4
  Millis slip_margin = std::chrono::minutes{15};  // estimate later than agreed by more than this
  double sprayed_g_m2 =
      300.0;  // of solution on panel and film; most of it is pushed out again, and evaporates too
};

struct Setup {
  Site site{};
  std::vector<BaySetup> bays;
  std::vector<SensorMapping> mappings;
  std::vector<SensorAbout> sensors{};
  Catalogue catalogue;
  models::Thresholds thresholds;
  ScreenLimits screen;
  AlertSettings alerts;
  double announce_level = 0.90;                  // probability at which a milestone is announced
  Millis least_indoor = std::chrono::hours{24};  // after the last piece, before release
  Millis bridge_after =
      std::chrono::minutes{30};  // silence longer than this is a gap: the slower end is assumed
};

}  // namespace dryclock
