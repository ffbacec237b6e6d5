#include "engine/plate_registry.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "domain/names.hpp"
#include "domain/outlook.hpp"
#include "engine/minutes.hpp"
#include "engine/piece_spec.hpp"
#include "models/piece_reach.hpp"

namespace dryclock::engine {
namespace {

constexpr Millis left_alone = std::chrono::hours{1};    // a strip that somebody has just looked at
constexpr Millis just_laid = std::chrono::minutes{15};  // a sensor may not have told of the air since
constexpr double worked_out_every = 600.0;              // s of a plate's course
constexpr double even = 0.5;                            // chance at which an answer decides most
constexpr double square_mm = 1e-6;                      // m2
constexpr int decimals = 6;                             // of a course: as its row gives it back

// The shares of a strip that are told apart: a tenth of it is wet at most; none to speak of.
constexpr models::Thresholds told_apart{.gone_wet = 0.10, .clear_wet = 0.03};

// 3 mm of polycarbonate, free on both sides; heat capacity and transfer as in config/panels.toml.
const models::PanelThermal clear_plate{
    .heat_capacity = 1200.0 * 1200.0 * 0.003, .transfer = models::HeatTransfer{8.0}, .sides = 2.0};

models::Sign sign_of(PlateSign sign) {
  switch (sign) {
    case PlateSign::mostly_wet:
      return models::Sign::mostly_wet;
    case PlateSign::half_wet:
      return models::Sign::half_wet;
    case PlateSign::tenth_wet:
      return models::Sign::tenth_wet;
    case PlateSign::none_wet:
      break;
  }
  return models::Sign::none_wet;
}

models::LaidSpec spec_of(const PlateLaid& plate, Time laid, const Shop& shop) {
  Lay lay;
  lay.film = plate.film;
  lay.lot = plate.lot;
  lay.solution = plate.solution;
  lay.wetness = plate.wetness;
  lay.zones = plate.strips;
  models::LaidSpec spec = laid_spec(lay, laid, shop.catalogue(), shop.measures());
  spec.panel = clear_plate;
  return spec;
}

bool worth_a_look(const PlateStrip& strip, const PlateLook* last, Time now) {
  if (last != nullptr && (last->sign == PlateSign::none_wet || now - last->at < left_alone)) {
    return false;
  }
  const bool tenth_seen = last != nullptr && last->sign == PlateSign::tenth_wet;
  return (tenth_seen ? strip.clear_chance : strip.tenth_chance).value_or(0.0) >= even;
}

Fact what_of(const PlateView& view, bool measured) {
  const auto film = say::film("film", view.plate.film);
  if (view.known) {
    return {view.over ? "plates.known" : "plates.known-so-far", {film}};
  }
  if (view.over && !seen_to_its_end(view.plate, view.seen)) {
    return {"plates.given-up",
            {say::count("days", std::chrono::duration_cast<std::chrono::days>(longest_plate).count())}};
  }
  if (!measured) {
    return {"plates.no-air", {say::text("bay", view.plate.bay)}};
  }
  return {std::ranges::any_of(view.zones, &PlateStrip::look) ? "plates.look-now" : "plates.look-later"};
}

}  // namespace

bool PlateRegistry::Plate::over(Time now) const {
  return now - plan.arrived >= longest_plate || seen_to_its_end(laid, looks);
}

bool PlateRegistry::Plate::known() const {
  return counted >= static_cast<std::size_t>(looks_to_know) || (counted > 0 && seen_to_its_end(laid, looks));
}

const models::LaidPiece* PlateRegistry::Plate::piece() const {
  const auto* found = track.piece(plan.id);
  return found == nullptr || !found->piece ? nullptr : &*found->piece;
}

PlateRegistry::Plate PlateRegistry::laid(const Event& event, const PlateLaid& plate, const Shop& shop) {
  Plate out;
  out.laid = plate;
  out.laid.strips = strips_of(plate);
  out.plan.valid = true;
  out.plan.id = event.seq;
  out.plan.arrived = event.at;
  out.plan.from = ceil_minute(event.at);
  out.plan.ended = out.plan.from + longest_plate;
  out.plan.stays = {{out.plan.from, plate.bay}};
  PiecePlan piece;
  piece.id = event.seq;
  piece.laid = event.at;
  piece.from = out.plan.from;
  piece.spec = spec_of(out.laid, event.at, shop);
  out.plan.pieces.push_back(std::move(piece));
  out.track = VehicleTrack{clear_plate};
  const auto* measured = counts_for(shop.measures().all(), plate.film, plate.lot, event.at);
  out.measurement = measured == nullptr ? 0 : measured->event;
  return out;
}

void PlateRegistry::rebuild(const Shop& shop) {
  const auto before = std::exchange(plates_, {});
  for (const auto& event : shop.of_the_shop()) {
    if (const auto* plate = std::get_if<PlateLaid>(&event.detail)) {
      Plate now = laid(event, *plate, shop);
      if (const auto then = before.find(event.seq);
          then != before.end() && then->second.plan.pieces.front().spec == now.plan.pieces.front().spec) {
        now.track = then->second.track;  // as it went so far: the same film in the same air
      } else {
        chances_.erase(event.seq);
      }
      plates_.insert_or_assign(event.seq, std::move(now));
    } else if (const auto* seen = std::get_if<PlateSeen>(&event.detail)) {
      if (const auto found = plates_.find(seen->plate); found != plates_.end()) {
        found->second.looks.push_back({event.seq, event.at, seen->zone, seen->sign});
        if (seen->course && seen->course->drunk_g_m2.size() == models::members) {
          found->second.courses.emplace(event.seq, *seen->course);
        }
      }
    }
  }
  lessons_.clear();
  for (auto& [id, plate] : plates_) {
    std::ranges::stable_sort(plate.looks, {}, &PlateLook::at);
    auto seen = evidence(plate, shop.learns_since());
    if (plate.counted > 0) {
      lessons_.push_back({id, plate.laid.film, plate.measurement, plate.laid.strips, std::move(seen)});
    }
  }
  if (lessons_.size() > plates_remembered) {
    lessons_.erase(lessons_.begin(), lessons_.end() - static_cast<std::ptrdiff_t>(plates_remembered));
  }
}

// Of what was seen from `since` on.
models::PieceEvidence PlateRegistry::evidence(Plate& plate, Time since) {
  models::PieceEvidence out;
  plate.counted = 0;
  for (const auto& zone : plate.plan.pieces.front().spec.zones) {
    models::ZoneEvidence strip;
    strip.usual = zone.usual.value();
    strip.margin = models::margin_at_lay(zone);
    for (const auto& look : plate.looks) {
      const auto course = plate.courses.find(look.event);
      if (look.zone != zone.kind || look.at < since || course == plate.courses.end()) {
        continue;
      }
      models::Seen seen;
      seen.sign = sign_of(look.sign);
      seen.seconds = seconds_between(plate.plan.from, ceil_minute(look.at));
      std::ranges::copy(course->second.drunk_g_m2, seen.drunk.begin());
      seen.front_squared = course->second.front_mm2 * square_mm;
      models::add(strip, seen);
    }
    plate.counted += strip.seen.size();
    out.zones.push_back(std::move(strip));
  }
  return out;
}

void PlateRegistry::integrate(Time until, const Bays& bays) {
  for (auto& [id, plate] : plates_) {
    if (!plate.over(until)) {
      plate.track.integrate(plate.plan, bays, until, VehicleTrack::Beyond::wait);
    }
  }
}

std::optional<Time> PlateRegistry::oldest_needed(Time now) const {
  std::optional<Time> oldest;
  for (const auto& [id, plate] : plates_) {
    if (!plate.over(now) && (!oldest || plate.plan.from < *oldest)) {
      oldest = plate.plan.from;
    }
  }
  return oldest;
}

std::optional<PlateCourse> PlateRegistry::course(const PlateSeen& seen, Time at, const Bays& bays) const {
  const auto found = plates_.find(seen.plate);
  if (found == plates_.end()) {
    return std::nullopt;
  }
  Plate then = found->second;
  const Time until = ceil_minute(at);
  if (then.track.integrated() && *then.track.integrated() > until) {
    then.track = VehicleTrack{clear_plate};  // told late: once more from its laying
  }
  then.track.integrate(then.plan, bays, until, VehicleTrack::Beyond::hold);
  const auto* piece = then.piece();
  const auto strip = std::ranges::find(then.laid.strips, seen.zone);
  if (piece == nullptr || strip == then.laid.strips.end()) {
    return std::nullopt;
  }
  const auto& trace = piece->trace(static_cast<std::size_t>(strip - then.laid.strips.begin()));
  const auto& point = trace[trace.size() - 1];
  PlateCourse course;
  for (const double drunk : point.drunk) {
    course.drunk_g_m2.push_back(rounded_to(drunk, decimals));
  }
  course.front_mm2 = rounded_to(point.front_squared / square_mm, decimals);
  return course;
}

std::set<std::string> PlateRegistry::known_films() const {
  std::set<std::string> films;
  for (const auto& [id, plate] : plates_) {
    if (plate.known()) {
      films.insert(plate.laid.film);
    }
  }
  return films;
}

const std::vector<PlateStrip>* PlateRegistry::chances(
    const Plate& plate, const std::shared_ptr<const models::ShopBelief>& belief) {
  const auto* piece = plate.piece();
  if (piece == nullptr) {
    return nullptr;
  }
  const auto point = point_at(*piece, std::floor(piece->seconds() / worked_out_every) * worked_out_every);
  const double seconds = piece->trace(0)[point].seconds;
  auto& known = chances_[plate.plan.id];
  if (known.belief != belief || known.seconds != seconds) {
    known = {seconds, belief, {}};
    const auto key = belief_key(plate.laid.film, plate.measurement);
    models::PieceReach reach{*piece, told_apart, belief->levels(key)};
    const auto nodes = belief->nodes(key);
    for (std::size_t zone = 0; zone < piece->zones().size(); ++zone) {
      known.strips.push_back({piece->zones()[zone].kind,
                              reach.zone_chance(models::Milestone::liquid_gone, zone, point, nodes),
                              reach.zone_chance(models::Milestone::clear, zone, point, nodes), false});
    }
  }
  return &known.strips;
}

std::vector<PlateView> PlateRegistry::views(Time now,
                                            const std::shared_ptr<const models::ShopBelief>& belief) {
  std::vector<PlateView> out;
  for (const auto& [id, plate] : plates_) {
    PlateView view;
    view.id = id;
    view.laid = plate.plan.arrived;
    view.plate = plate.laid;
    view.seen = plate.looks;
    view.known = plate.known();
    view.over = plate.over(now);
    const auto* strips = view.over ? nullptr : chances(plate, belief);
    if (strips != nullptr) {
      view.zones = *strips;
    } else {
      for (const auto kind : plate.laid.strips) {
        view.zones.push_back({kind, {}, {}, false});
      }
    }
    for (auto& strip : view.zones) {
      strip.look = worth_a_look(strip, last_look(plate.looks, strip.kind), now);
    }
    view.what = what_of(view, strips != nullptr || now - view.laid <= just_laid);
    out.push_back(std::move(view));
  }
  return out;
}

}  // namespace dryclock::engine
