// Which vehicle an event speaks of: the one answer, for engine, seal and record.
#pragma once

#include "domain/event.hpp"

namespace dryclock {

// 0: none. `seq`: of the event itself. `owner`: gives the vehicle of an earlier event, 0 where there is none.
template <class Owner>
[[nodiscard]] VehicleId vehicle_of(const EventDetail& what, Seq seq, const Owner& owner) {
  return std::visit(
      [&](const auto& detail) -> VehicleId {
        using Detail = std::decay_t<decltype(detail)>;
        if constexpr (std::is_same_v<Detail, VehicleIn>) {
          return seq;
        } else if constexpr (std::is_same_v<Detail, Superseded>) {
          return owner(detail.event);
        } else if constexpr (std::is_same_v<Detail, AlertAcknowledged> || is_shop_event_kind<Detail>) {
          return 0;
        } else if constexpr (requires { detail.vehicle; }) {
          return detail.vehicle;
        } else {
          return owner(detail.piece);  // a piece's number is that of the event that laid it
        }
      },
      what);
}

}  // namespace dryclock
