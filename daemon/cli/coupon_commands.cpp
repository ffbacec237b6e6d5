#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "base/plain_words.hpp"
#include "cli/answer.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "domain/answers.hpp"

namespace dryclock::cli {
namespace {

constexpr auto guide =
    R"(Weigh it now, and then about every hour over a day, beside the bay's sensor: dryclock coupon weigh {} GRAMS
The plate lies flat, film up, its edges sealed with tape. Weigh plate, water and film together, to 0.01 g, always on the same balance.
Those of the first three hours do not count, nor those when less than a quarter of the water is left.
When enough is known: dryclock coupon store {}
)";

std::vector<CouponView> coupons_of(Session& session) {
  return understood<CouponsAnswer>(session.daemon().get("/api/v1/coupons")).coupons;
}

void show(Session& session) {
  if (session.globals().json) {
    fmt::print("{}\n", session.daemon().get("/api/v1/coupons"));
    return;
  }
  const auto zone = session.zone();
  const auto coupons = coupons_of(session);
  for (const auto& coupon : coupons) {
    fmt::print("coupon {}: {}{} in {}, laid {}, {} weighings\n", coupon.id, coupon.coupon.film,
               coupon.coupon.lot.empty() ? "" : " lot " + coupon.coupon.lot, coupon.coupon.bay,
               zone.weekday_clock(coupon.laid), coupon.weighings.size());
    for (const auto& weighing : coupon.weighings) {
      fmt::print("  {}  {:.2f} g\n", zone.weekday_clock(weighing.at), weighing.grams);
    }
    if (coupon.measured) {
      fmt::print("  stored: {:.2g} m2 s Pa/kg within {}\n", coupon.measured->resistance,
                 percent(coupon.measured->relative_uncertainty));
    } else {
      fmt::print("  {}\n", coupon.text);
    }
  }
  if (coupons.empty()) {
    fmt::print("No coupon has been laid. Begin: dryclock coupon lay --film FILM --bay BAY\n");
  }
}

void lay(Session& session, const CouponLaid& coupon) {
  const auto event = session.event(coupon);
  const auto answer = session.daemon().submit(event);
  if (session.globals().json) {
    fmt::print("{}\n", answer);
    return;
  }
  const auto id = understood<Accepted>(answer).seq;
  fmt::print("Coupon {} laid, {}\n", id, session.zone().weekday_clock(event.at));
  fmt::print(guide, id, id);
}

void store(Session& session, Seq id) {
  for (const auto& coupon : coupons_of(session)) {
    if (coupon.id != id) {
      continue;
    }
    if (!coupon.result) {
      throw Failure(ExitCode::refused, coupon.measured ? "it is stored already" : coupon.text);
    }
    send(session, *coupon.result,
         coupon.text + " Pieces of it that are laid from now on are reckoned with that");
    return;
  }
  throw Failure(ExitCode::usage, fmt::format("no coupon {}", id));
}

}  // namespace

void add_coupon_commands(CLI::App& app, Action& action) {
  struct Given {
    CouponLaid laid;
    CouponWeighed weighed;
    Seq store = 0;
  };
  const auto given = std::make_shared<Given>();
  auto* coupon = app.add_subcommand(
      "coupon", "Measure what a film resists: a plate with film and a little water, weighed for a day");
  coupon->require_subcommand(0, 1);
  coupon->callback([&action, coupon] {
    if (coupon->get_subcommands().empty()) {
      action = show;
    }
  });

  auto* begin = coupon->add_subcommand("lay", "A plate has been laid: prints how to go on");
  begin->add_option("--film", given->laid.film, "The film's key in the catalogue")->required();
  begin->add_option("--lot", given->laid.lot, "Its roll's lot: the result then counts for that lot alone");
  begin->add_option("--bay", given->laid.bay, "Beside this bay's sensor")->required();
  begin->add_option("--area", given->laid.area_m2, "m2 of film with water under it")->capture_default_str();
  begin->add_option("--water", given->laid.water_grams, "Grams of water under it at the start")
      ->capture_default_str();
  begin->callback([given, &action] { action = [given](Session& s) { lay(s, given->laid); }; });

  auto* weigh = coupon->add_subcommand("weigh", "Tell a weighing; with --at one from before");
  weigh->add_option("coupon", given->weighed.coupon, "Its number")->required();
  weigh->add_option("grams", given->weighed.grams, "Plate, water and film together")->required();
  weigh->callback([given, &action] {
    action = [given](Session& s) {
      send(s, given->weighed,
           fmt::format("Coupon {}: {:.2f} g", given->weighed.coupon, given->weighed.grams));
    };
  });

  auto* keep = coupon->add_subcommand("store", "Keep the result: it counts for what is laid from then on");
  keep->add_option("coupon", given->store, "Its number")->required();
  keep->callback([given, &action] { action = [given](Session& s) { store(s, given->store); }; });
}

}  // namespace dryclock::cli
