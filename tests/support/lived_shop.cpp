#include "support/lived_shop.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "support/scratch_folder.hpp"

namespace dryclock::test {
namespace {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;

constexpr double warm_c = 21.0, warm_rh_pct = 45.0;
constexpr double cold_c = 17.2, cold_rh_pct = 50.0;

// Five hours in the shop.
void comes_and_goes(WholeShop& shop, const std::string& reference, Time released) {
  shop.stays_until(released - hours{5});
  const auto vehicle =
      shop.does(fmt::format(R"({{"what":"vehicle-in","reference":"{}","bay":"front"}})", reference));
  shop.airs_until(released - hours{4}, warm_c, warm_rh_pct);
  const auto bonnet = shop.does(fmt::format(R"({{"what":"lay","vehicle":{},"panel":"bonnet"}})", vehicle));
  shop.does(fmt::format(
      R"({{"what":"lay","vehicle":{},"panel":"mirror","tension":"round the lower corner"}})", vehicle));
  shop.airs_until(released - minutes{90}, warm_c, warm_rh_pct);
  shop.does(fmt::format(R"({{"what":"trimmed","piece":{}}})", bonnet));
  shop.airs_until(released, warm_c, warm_rh_pct);
  shop.does(fmt::format(R"({{"what":"released","vehicle":{},"advised":"keep it dry"}})", vehicle));
}

// One that the readings before and after speak against.
void spikes(WholeShop& shop, Time t) {
  shop.airs_until(t, warm_c, warm_rh_pct);
  shop.stays_until(t + minutes{1});
  shop.hears("sensors/front", fmt::format(R"({{"t":{},"h":99.0}})", warm_c));
  shop.airs_until(t + minutes{2}, warm_c, warm_rh_pct);
}

void lives(WholeShop& shop) {
  const Time now = saturday_morning();
  const Time friday = now - hours{24};
  comes_and_goes(shop, "Green saloon", now - days{16});
  comes_and_goes(shop, "Blue hatchback", now - days{3});

  shop.stays_until(friday - hours{1});
  const auto estate = shop.does(
      fmt::format(R"({{"what":"vehicle-in","reference":"Grey estate","bay":"front","hand_over":"{}"}})",
                  to_rfc3339(now + hours{26})));
  const auto lay = [&](const std::string& more) {
    return shop.does(fmt::format(R"({{"what":"lay","vehicle":{},{}}})", estate, more));
  };
  shop.airs_until(friday, warm_c, warm_rh_pct);
  const auto bonnet = lay(R"("panel":"bonnet","film":"baseline","solution":"slip","wetness":"dry-pulled")");
  shop.airs_until(friday + hours{15}, warm_c, warm_rh_pct);
  lay(R"("panel":"front-bumper","film":"baseline","solution":"tack-10","wetness":"dry-pulled","zones":["field","edge","recess"])");
  spikes(shop, friday + hours{17});
  spikes(shop, friday + hours{18});
  shop.airs_until(friday + hours{19}, warm_c, warm_rh_pct);
  shop.does(fmt::format(R"({{"what":"edge-wrapped","piece":{}}})", bonnet));
  shop.airs_until(friday + hours{21}, warm_c, warm_rh_pct);
  lay(R"("panel":"mirror","film":"baseline","solution":"slip","wetness":"dry-pulled","zones":["field","edge"])");
  shop.airs_until(friday + hours{22}, warm_c, warm_rh_pct);
  shop.does(R"({"what":"vehicle-in","reference":"White van","bay":"back"})");
  shop.airs_until(friday + hours{22} + minutes{20}, warm_c, warm_rh_pct);
  shop.airs_until(now, cold_c, cold_rh_pct);
  shop.looks_ahead();
}

class Lived {
 public:
  Lived() {
    WholeShop shop(folder_.path(), {.now = saturday_morning() - days{17}});
    lives(shop);
  }
  [[nodiscard]] const std::filesystem::path& folder() const { return folder_.path(); }

 private:
  ScratchFolder folder_;
};

}  // namespace

Time saturday_morning() {
  return parse_rfc3339("2026-03-07T06:40:00Z").value();
}

std::unique_ptr<WholeShop> lived_shop(const std::filesystem::path& folder, WholeShopOptions options) {
  static const Lived lived;
  std::filesystem::copy(lived.folder(), folder, std::filesystem::copy_options::recursive);
  options.now = saturday_morning();
  auto shop = std::make_unique<WholeShop>(folder, std::move(options));
  shop->looks_ahead();
  auto& parts = shop->parts();
  parts.watch.look_at_disk(*parts.reader, parts.core.dates(), parts.sealer->bytes());  // as every ten minutes
  return shop;
}

VehicleId vehicle_in(WholeShop& shop, const std::string& reference) {
  const auto board = shop.parts().core.engine().board();
  const auto found = std::ranges::find(board.vehicles, reference, &VehicleSummary::reference);
  if (found == board.vehicles.end()) {
    throw std::runtime_error("no vehicle " + reference);
  }
  return found->id;
}

PieceId piece_in(WholeShop& shop, const std::string& reference, const std::string& panel) {
  const auto board = shop.parts().core.engine().board();
  for (const auto& vehicle : board.vehicles) {
    const auto found = std::ranges::find(vehicle.pieces, panel, &PieceSummary::panel);
    if (vehicle.reference == reference && found != vehicle.pieces.end()) {
      return found->id;
    }
  }
  throw std::runtime_error("no " + panel + " on " + reference);
}

}  // namespace dryclock::test
