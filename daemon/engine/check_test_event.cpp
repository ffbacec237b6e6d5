#include "engine/check_test_event.hpp"

#include <algorithm>

#include "domain/plate_view.hpp"
#include "engine/facts.hpp"
#include "engine/refusals.hpp"

namespace dryclock::engine {
namespace {

class TestChecker {
 public:
  TestChecker(const Event& event, const Shop& shop, const std::vector<BaySetup>& bays)
      : event_(event), shop_(shop), bays_(bays) {}

  Allowed operator()(const CouponLaid& laid) const {
    const auto wrong = film(laid.film);
    return wrong ? indoors(laid.bay, "refusals.coupon-outside") : wrong;
  }
  Allowed operator()(const CouponWeighed& weighed) const { return of_coupon<CouponLaid>(weighed.coupon); }
  Allowed operator()(const FilmMeasured& measured) const { return film(measured.film); }
  Allowed operator()(const PlateLaid& plate) const {
    if (auto wrong = film(plate.film); !wrong) {
      return wrong;
    }
    if (auto wrong = known_solution(shop_.catalogue(), plate.solution); !wrong) {
      return wrong;
    }
    for (const auto strip : plate.strips) {
      if (strip == models::ZoneKind::turn) {
        return Refusal{{"refusals.plate-turned"}, "/strips"};
      }
      if (std::ranges::count(plate.strips, strip) > 1) {
        return Refusal{{"refusals.strip-twice", {zone_value(strip)}}, "/strips"};
      }
    }
    return indoors(plate.bay, "refusals.plate-outside");
  }
  Allowed operator()(const PlateSeen& seen) const {
    const auto* event = standing(seen.plate);
    const auto* plate = event == nullptr ? nullptr : std::get_if<PlateLaid>(&event->detail);
    if (plate == nullptr) {
      return Refusal{{"refusals.no-plate", {numbered("plate", seen.plate)}}, "/plate"};
    }
    const auto strips = strips_of(*plate);
    if (std::ranges::find(strips, seen.zone) == strips.end()) {
      return Refusal{{"refusals.no-strip", {numbered("plate", seen.plate), zone_value(seen.zone)}}, "/zone"};
    }
    if (event_.at >= event->at + longest_plate) {
      return Refusal{{"refusals.plate-over", {numbered("plate", seen.plate)}}, "/at"};
    }
    return not_before(event->at, event_, "refusals.plate-later", numbered("plate", seen.plate));
  }
  Allowed operator()(const BondCouponLaid& laid) const {
    if (auto wrong = film(laid.film); !wrong) {
      return wrong;
    }
    const auto wrong = indoors(laid.bay, "refusals.coupon-outside");
    return wrong && !laid.solution.empty() ? known_solution(shop_.catalogue(), laid.solution) : wrong;
  }
  Allowed operator()(const BondCouponPulled& pulled) const {
    return of_coupon<BondCouponLaid>(pulled.coupon);
  }
  Allowed operator()(const BondMeasured& measured) const { return film(measured.film); }
  template <class Other>  // of no test
  Allowed operator()(const Other& /*detail*/) const {
    return {};
  }

 private:
  // Beside a sensor.
  [[nodiscard]] Allowed indoors(const std::string& bay, const char* not_outside) const {
    return bay == outside ? Allowed{Refusal{{not_outside}, "/bay"}} : known_bay(bays_, bay, true);
  }
  template <class Laid>
  [[nodiscard]] Allowed of_coupon(Seq coupon) const {
    const auto* laid = standing(coupon);
    if (laid == nullptr || !std::holds_alternative<Laid>(laid->detail)) {
      return Refusal{{"refusals.no-coupon", {numbered("coupon", coupon)}}, "/coupon"};
    }
    return not_before(laid->at, event_, "refusals.coupon-later", numbered("coupon", coupon));
  }
  // No key stands for the first on a vehicle; here it has to be told.
  [[nodiscard]] Allowed film(const std::string& key) const {
    return key.empty() ? Allowed{no_film(shop_.catalogue(), key)} : known_film(shop_.catalogue(), key);
  }
  // Null where it was superseded, or never was.
  [[nodiscard]] const Event* standing(Seq seq) const {
    return shop_.superseded(seq) ? nullptr : shop_.event(seq);
  }

  const Event& event_;
  const Shop& shop_;
  const std::vector<BaySetup>& bays_;
};

}  // namespace

Allowed check_test_event(const Event& event, const Shop& shop, const std::vector<BaySetup>& bays) {
  return std::visit(TestChecker{event, shop, bays}, event.detail);
}

}  // namespace dryclock::engine
