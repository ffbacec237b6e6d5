#include "http/fake_shop.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "domain/names.hpp"
#include "http/fake_drying.hpp"
#include "wire/event_json.hpp"

namespace dryclock::fake {
namespace {

using models::Milestone;
using models::ZoneKind;
using std::chrono::hours;
using std::chrono::minutes;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

Catalogue invented_catalogue() {
  Catalogue catalogue;
  models::FilmStack stack;
  stack.layers.push_back({"adhesive", models::Metres{40e-6}, models::Permeability{3e-14}, 4.5});
  stack.layers.push_back({"film", models::Metres{150e-6}, models::Permeability{5e-14}, 17.0});
  catalogue.films = {{"baseline", "150 um, with topcoat", stack}, {"plain", "150 um, no topcoat", stack}};
  catalogue.solutions = {{"slip", "Slip: water with a little surfactant", {0.0}},
                         {"tack-10", "Tack: 10 % isopropyl alcohol by volume", {0.08}}};
  const std::vector flat{ZoneKind::field, ZoneKind::edge};
  const std::vector deep{ZoneKind::field, ZoneKind::edge, ZoneKind::recess};
  catalogue.panels = {{"bonnet", "Bonnet", "Hood", 1.9, {}, flat},
                      {"front-bumper", "Front bumper", "Front bumper", 1.6, {}, deep},
                      {"front-wing-left", "Front wing, left", "Fender, left", 0.8, {}, flat},
                      {"front-wing-right", "Front wing, right", "Fender, right", 0.8, {}, flat},
                      {"mirror-left", "Mirror, left", "Mirror, left", 0.12, {}, deep},
                      {"headlamp-left", "Headlamp, left", "Headlight, left", 0.2, {}, flat},
                      {"boot-lid", "Boot lid", "Trunk lid", 1.1, {}, flat}};
  catalogue.templates = {
      {"full-front",
       "full front",
       "full front",
       {{"front-bumper", 1, 1}, {"bonnet", 1, 1}, {"front-wing-left", 1, 1}, {"front-wing-right", 1, 1}}},
      {"front-bumper-only", "front bumper only", "front bumper only", {{"front-bumper", 1, 1}}}};
  for (auto& zone : catalogue.water) {
    zone = {{{1, 3, 8}, {3, 6, 12}, {6, 12, 25}}};
  }
  return catalogue;
}

// A day's swing with the heater off at night.
AirPoint air_at(Time at) {
  const double hour = std::fmod(static_cast<double>(to_unix_ms(at)) / 3.6e6, 24.0);
  AirPoint point;
  point.at = at;
  point.air_c = 18.0 + 4.0 * std::sin((hour - 9.0) / 24.0 * 2 * M_PI);
  point.rh_pct = 55.0 - 12.0 * std::sin((hour - 9.0) / 24.0 * 2 * M_PI);
  point.panel_c = point.air_c - 0.6;
  point.air_speed = nan;
  point.dew_point_c = point.air_c - (100.0 - point.rh_pct) / 5.0;
  point.pace = 0.75 + 0.3 * std::sin((hour - 9.0) / 24.0 * 2 * M_PI);
  point.bridged = hour > 3.0 && hour < 3.7;
  return point;
}

BaySummary bay_at(const std::string& name, Time now, bool measured) {
  BaySummary bay;
  bay.name = name;
  if (measured) {
    const auto point = air_at(now);
    bay.air_c = std::round(point.air_c * 10) / 10;
    bay.rh_pct = std::round(point.rh_pct * 10) / 10;
    bay.dew_point_c = point.dew_point_c;
    bay.vapour_density_gm3 = 8.4;
    bay.pace = point.pace;
    bay.as_of = now;
    SensorSummary sensor{name + "-wall", name, Quantity::air_temperature, bay.air_c, now, Verdict::ok, {}};
    sensor.counts[0] = 1200;
    bay.sensors.push_back(sensor);
  }
  return bay;
}

}  // namespace

Shop::Shop(const Clock& clock)
    : clock_(clock), sensors_(clock), opened_(clock.now() - hours{30}), catalogue_(invented_catalogue()) {
  tell(fmt::format(R"({{"what":"vehicle-in","reference":"Grey estate","bay":"front","hand_over":"{}"}})",
                   to_rfc3339(clock.now() + hours{26})),
       opened_);
  tell(R"({"what":"lay","vehicle":1,"panel":"bonnet","film":"baseline","solution":"slip"})",
       opened_ + hours{6});
  tell(
      R"({"what":"lay","vehicle":1,"panel":"front-bumper","film":"baseline","solution":"tack-10","zones":["field","edge","recess"]})",
      opened_ + hours{21});
  tell(R"({"what":"edge-wrapped","piece":2})", opened_ + hours{25});
  tell(
      R"({"what":"lay","vehicle":1,"panel":"mirror-left","film":"baseline","solution":"slip","wetness":"wet"})",
      opened_ + hours{27});
  tell(R"({"what":"vehicle-in","reference":"White van","bay":"back"})", opened_ + hours{28});
  AlertSummary cold;
  cold.id = "pace-low/front";
  cold.rule = AlertRule::pace_low;
  cold.subject = "front";
  cold.level = AlertLevel::warning;
  cold.raised = clock.now() - minutes{40};
  cold.text = "Bay front dries at pace 0.62; tonight's hand-over needs 0.80.";
  cold.advice = "Heat the bay to 21 C, or agree a later hand-over.";
  alerts_.push_back(cold);
  // Left 16 days ago; and one that is not due yet.
  const auto left = [&](VehicleId id, const char* reference, int days_ago) {
    const Time released = clock.now() - hours{24 * days_ago};
    handed_over_.push_back({id,
                            reference,
                            released,
                            released + hours{24 * 14},
                            released + hours{24 * 21},
                            {{id + 1, "bonnet", 1, 1, {}, {}}, {id + 2, "mirror-left", 1, 1, {}, {}}}});
  };
  left(904, "Blue hatchback", 3);
  left(901, "Green saloon", 16);
}

// As it left: all dry, one step early.
Result<VehicleSummary> Shop::past(VehicleId id) const {
  for (const auto& gone : handed_over_) {
    if (gone.vehicle != id) {
      continue;
    }
    VehicleSummary vehicle;
    vehicle.id = id;
    vehicle.reference = gone.reference;
    vehicle.bay = "front";
    vehicle.released = gone.released;
    vehicle.arrived = gone.released - hours{60};
    for (const auto& piece : gone.pieces) {
      PieceSummary summary;
      summary.id = piece.id;
      summary.panel = piece.panel;
      summary.film = "baseline";
      summary.solution = "slip";
      summary.laid = vehicle.arrived + hours{2};
      summary.state.zones = {zone_after(ZoneKind::field, 50), zone_after(ZoneKind::edge, 50)};
      bring_up_to(summary, gone.released);
      vehicle.pieces.push_back(std::move(summary));
    }
    vehicle.pieces.back().notes.tension = "round the lower corner";
    vehicle.pieces.front().early_steps.push_back({id + 3, "trimmed", 0.7, "edge 0.4 g/m2 (up to 1.1)"});
    return vehicle;
  }
  return Problem{fmt::format("no vehicle {}", id), "vehicle"};
}

void Shop::tell(const std::string& json, Time at) {
  auto event = wire::parse_event(json, at).value();
  event.seq = static_cast<Seq>(journal_.size()) + 1;
  (void)apply(event).value();
  journal_.push_back(std::move(event));
}

PieceSummary* Shop::find_piece(PieceId id) {
  for (auto& vehicle : vehicles_) {
    for (auto& piece : vehicle.pieces) {
      if (piece.id == id) {
        return &piece;
      }
    }
  }
  return nullptr;
}

VehicleSummary* Shop::find_vehicle(VehicleId id) {
  const auto found = std::find_if(vehicles_.begin(), vehicles_.end(),
                                  [&](const VehicleSummary& one) { return one.id == id; });
  return found == vehicles_.end() ? nullptr : &*found;
}

Result<void> Shop::apply(const Event& event) {
  if (const auto* in = std::get_if<VehicleIn>(&event.detail)) {
    VehicleSummary vehicle;
    vehicle.id = event.seq;
    vehicle.reference = in->reference;
    vehicle.bay = in->bay;
    vehicle.arrived = event.at;
    vehicle.hand_over = in->hand_over;
    vehicles_.push_back(vehicle);
    return {};
  }
  if (const auto* lay = std::get_if<Lay>(&event.detail)) {
    auto* vehicle = find_vehicle(lay->vehicle);
    if (vehicle == nullptr) {
      return Problem{fmt::format("no vehicle {}", lay->vehicle), "/vehicle"};
    }
    PieceSummary piece;
    piece.id = event.seq;
    piece.panel = lay->panel;
    piece.part = lay->part;
    piece.parts = lay->parts;
    piece.film = lay->film.empty() ? "baseline" : lay->film;
    piece.solution = lay->solution.empty() ? "slip" : lay->solution;
    piece.wetness = lay->wetness;
    piece.laid = event.at;
    piece.replaces = lay->replaces;
    for (const auto kind : lay->zones.empty() ? std::vector{ZoneKind::field, ZoneKind::edge} : lay->zones) {
      piece.state.zones.push_back(zone_after(kind, 0));
    }
    if (lay->replaces) {
      if (auto* old = find_piece(*lay->replaces)) {
        old->replaced_by = event.seq;
      }
    }
    std::erase(vehicle->to_lay, PlannedPiece{lay->panel, lay->part, lay->parts});
    vehicle->pieces.push_back(piece);
    return {};
  }
  if (const auto* planned = std::get_if<Planned>(&event.detail)) {
    if (auto* vehicle = find_vehicle(planned->vehicle)) {
      vehicle->to_lay.clear();
      for (const PlannedPiece& piece : planned->pieces) {
        const bool first = vehicle->to_lay.empty();
        vehicle->to_lay.push_back({piece,
                                   first ? std::optional{event.at + std::chrono::hours{2}} : std::nullopt,
                                   first ? 0.95 : 0.4});
      }
      return {};
    }
    return Problem{fmt::format("no vehicle {}", planned->vehicle), "/vehicle"};
  }
  if (const auto* rechecked = std::get_if<Rechecked>(&event.detail)) {
    for (auto& vehicle : handed_over_) {
      for (auto& piece : vehicle.pieces) {
        if (piece.id == rechecked->piece) {
          piece.rechecked = event.at;
          piece.finding = rechecked->finding;
        }
      }
    }
    return {};
  }
  if (const auto* released = std::get_if<Released>(&event.detail)) {
    if (auto* vehicle = find_vehicle(released->vehicle)) {
      vehicle->released = event.at;
      return {};
    }
    return Problem{fmt::format("no vehicle {}", released->vehicle), "/vehicle"};
  }
  if (const auto* seen = std::get_if<AlertAcknowledged>(&event.detail)) {
    for (auto& alert : alerts_) {
      if (alert.id == seen->alert) {
        alert.acknowledged = event.at;
      }
    }
    return {};
  }
  const auto mark = [&](PieceId id, std::optional<Time> PieceSummary::*when, Milestone asks,
                        std::string_view step) -> Result<void> {
    auto* piece = find_piece(id);
    if (piece == nullptr) {
      return Problem{fmt::format("no piece {}", id), "/piece"};
    }
    bring_up_to(*piece, event.at);
    piece->*when = event.at;
    const auto& milestone = piece->milestones[static_cast<std::size_t>(asks)];
    if (!milestone.announced) {
      piece->early_steps.push_back({event.seq, std::string{step}, milestone.probability, milestone.held_by});
    }
    return {};
  };
  if (const auto* wrapped = std::get_if<EdgeWrapped>(&event.detail)) {
    return mark(wrapped->piece, &PieceSummary::wrapped, Milestone::wrap_ready, "edge-wrapped");
  }
  if (const auto* trimmed = std::get_if<Trimmed>(&event.detail)) {
    return mark(trimmed->piece, &PieceSummary::trimmed, Milestone::trim_ready, "trimmed");
  }
  if (const auto* refitted = std::get_if<Refitted>(&event.detail)) {
    return mark(refitted->piece, &PieceSummary::refitted, Milestone::refit_ready, "refitted");
  }
  if (const auto* pulled = std::get_if<PieceRemoved>(&event.detail)) {
    if (auto* piece = find_piece(pulled->piece)) {
      piece->removed = event.at;
      return {};
    }
    return Problem{fmt::format("no piece {}", pulled->piece), "/piece"};
  }
  sensors_.apply(event);
  return {};  // anything else is kept, and changes nothing in this shop
}

http::SubmitAnswer Shop::submit(const std::string& json) {
  if (refused_with_ != 0) {
    return http::Refused{refused_with_, {"the disk refuses", {}}};
  }
  const auto split = wire::split_personal(json);
  auto parsed = split ? wire::parse_event(split->json, clock_.now()) : Result<Event>{split.error()};
  if (!parsed) {
    return http::Refused{400, parsed.error()};
  }
  Event event = parsed.value();
  for (const auto& known : journal_) {
    if (!event.key.empty() && known.key == event.key) {
      return http::Accepted{known.seq, wire::to_json(known), true};
    }
  }
  event.seq = static_cast<Seq>(journal_.size()) + 1;
  if (const auto applied = apply(event); !applied) {
    return http::Refused{409, applied.error()};
  }
  if (const auto* forgotten = std::get_if<Forgotten>(&event.detail)) {
    personal_.erase(forgotten->vehicle);
  }
  for (const auto& [field, text] :
       {std::pair{"plate", split->plate}, std::pair{"customer", split->customer}}) {
    if (!text.empty()) {
      personal_[event.seq].push_back({field, std::string(32, 's'), text});
    }
  }
  journal_.push_back(event);
  return http::Accepted{event.seq, wire::to_json(event), false};
}

Board Shop::board() const {
  Board board;
  board.now = clock_.now();
  board.applied = static_cast<Seq>(journal_.size());
  board.bays = {bay_at("front", board.now, true), bay_at("back", board.now, false)};
  for (auto vehicle : vehicles_) {
    bring_up_to(vehicle, board.now);
    board.vehicles.push_back(std::move(vehicle));
  }
  board.alerts = alerts_;
  board.counters.events = journal_.size();
  return board;
}

Result<std::vector<AirPoint>> Shop::air(const std::string& bay, Time from, Time to) const {
  if (bay != "front" && bay != "back") {
    return Problem{fmt::format("no bay '{}'", bay), "name"};
  }
  std::vector<AirPoint> points;
  for (Time at = std::chrono::floor<minutes>(from) + minutes{1}; at <= to && bay == "front";
       at += minutes{1}) {
    points.push_back(air_at(at));
  }
  return points;
}

Result<std::vector<HistoryPoint>> Shop::history(PieceId id) const {
  for (const auto& vehicle : vehicles_) {
    for (const auto& piece : vehicle.pieces) {
      if (piece.id == id) {
        std::vector<HistoryPoint> points;
        for (Time at = piece.laid; at <= clock_.now(); at += minutes{30}) {
          HistoryPoint point{at, {}, air_at(at).pace};
          for (const auto& zone : piece.state.zones) {
            const auto then = zone_after(zone.kind, seconds_between(piece.laid, at) / 3600);
            point.zones.push_back({then.kind, then.water, then.excess, then.bond});
          }
          points.push_back(point);
        }
        return points;
      }
    }
  }
  return Problem{fmt::format("no piece {}", id), "id"};
}

http::Services Shop::services(std::function<void()> on_change) {
  http::Services services;
  services.now = [this] { return clock_.now(); };
  services.site = [this] { return site_; };
  services.board = [this] { return board(); };
  services.catalogue = [this] { return catalogue_; };
  services.health = [this] {
    return http::Health{"0.1.0",
                        opened_,
                        {{"database", refused_with_ == 0, "in memory"}, {"broker", true, "none"}},
                        Space{12'000'000, 3'000'000, 50'000'000'000, 9'000, 1'500'000, 91.26}};
  };
  services.air = [this](const std::string& bay, Time from, Time to) { return air(bay, from, to); };
  services.piece_history = [this](PieceId piece) { return history(piece); };
  services.events = [this](VehicleId vehicle) {
    std::vector<std::string> all;
    for (const auto& event : journal_) {
      const auto* lay = std::get_if<Lay>(&event.detail);
      if (vehicle == 0 || event.seq == vehicle || (lay != nullptr && lay->vehicle == vehicle)) {
        all.push_back(wire::to_json(event));
      }
    }
    return all;
  };
  services.alert_history = [this](Time, Time) -> Result<std::vector<AlertSummary>> { return alerts_; };
  services.submit = [this, on_change = std::move(on_change)](const std::string& json, const auto& answer) {
    const auto taken = submit(json);
    answer(taken);
    if (taken && !taken.value().repeated) {
      on_change();
    }
  };
  services.personal = [this](VehicleId vehicle) -> Result<std::vector<PersonalText>> {
    const auto found = personal_.find(vehicle);
    return found == personal_.end() ? std::vector<PersonalText>{} : found->second;
  };
  services.channels = [] {
    return http::Channels{{{"mqtt", "mqtt", AlertLevel::news}, {"phone", "webhook", AlertLevel::warning}},
                          "22:00-06:30"};
  };
  services.test_channel = [](const std::string& name, const auto& answer) {
    if (name == "mqtt") {
      answer({});
    } else if (name == "phone") {
      answer(Problem{"answered with status 401", "https://push.example/bay"});
    } else {
      answer(Problem{"no channel '" + name + "'", "channel"});
    }
  };
  services.handed_over = [this](const auto& answer) { answer(handed_over_); };
  services.past_vehicle = [this](VehicleId vehicle, const auto& answer) { answer(past(vehicle)); };
  services.rechecks = [](const auto& answer) {
    answer(RecheckReport{.vehicles = 14,
                         .pending = 0,
                         .few_below = 10,
                         .groups = {{"all", "all", 41, 5, 0.0532, 0.2554, false},
                                    {"trim", "90-100 %", 30, 1, 0.0059, 0.1667, false},
                                    {"trim", "0-50 %", 7, 4, 0.2505, 0.8418, true},
                                    {"zone", "recess", 19, 4, 0.0851, 0.4333, false},
                                    {"panel", "bonnet", 12, 0, 0.0, 0.2425, false}}});
  };
  services.record = [](const http::RecordRequest& asked, const auto& answer) {
    if (asked.vehicle == 3) {
      answer(Problem{"the database cannot be read", "dryclock.db"});
    } else if (asked.vehicle != 1) {
      answer(Problem{"no vehicle", "vehicle"});
    } else {
      answer(http::RecordAnswer{boost::system::in_place_value, std::to_string(static_cast<int>(asked.form)) +
                                                                   (asked.letter ? " letter" : " a4")});
    }
  };
  sensors_.add_services(services);
  return services;
}

}  // namespace dryclock::fake
