#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cli/answer.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "cli/show.hpp"
#include "domain/answers.hpp"

namespace dryclock::cli {
namespace {

std::vector<CouponView> coupons_of(Session& session) {
  return understood<CouponsAnswer>(session.daemon().get("/api/v1/coupons")).coupons;
}

std::string grams_text(double grams, const wording::Words& words) {
  return words.say("units.mass", {say::text("n", words.fixed(grams, 2))});
}

void show_coupon(const CouponView& coupon, const wording::Words& words) {
  const auto& laid = coupon.coupon;
  fmt::print("{}\n",
             words.say(laid.lot.empty() ? "client-sensors.coupon" : "client-sensors.coupon-of-lot",
                       {coupon_value(coupon.id), say::film("film", laid.film), say::text("lot", laid.lot),
                        say::text("bay", laid.bay), say::text("at", words.zone().date_clock(coupon.laid)),
                        say::count("weighings", coupon.weighings.size())}));
  for (const auto& weighing : coupon.weighings) {
    fmt::print("  {}  {}\n", words.zone().date_clock(weighing.at), grams_text(weighing.grams, words));
  }
  fmt::print("  {}\n",
             coupon.measured
                 ? words.say("client-sensors.coupon-stored",
                             {say::figure("resistance", Measure::resistance, coupon.measured->resistance),
                              say::text("uncertainty", words.share(coupon.measured->relative_uncertainty))})
                 : words.sentence(coupon.what));
}

void show_coupons(Session& session) {
  if (session.globals().json) {
    fmt::print("{}\n", session.daemon().get("/api/v1/coupons"));
    return;
  }
  const auto coupons = coupons_of(session);
  for (const auto& coupon : coupons) {
    show_coupon(coupon, session.words());
  }
  if (coupons.empty()) {
    fmt::print("{}\n", session.say("client-sensors.no-coupon"));
  }
}

void lay(Session& session, const CouponLaid& coupon) {
  const auto event = session.event(coupon);
  const auto answer = session.submit(event);
  if (session.globals().json) {
    fmt::print("{}\n", answer);
    return;
  }
  const auto id = coupon_value(understood<Accepted>(answer).seq);
  const auto& words = session.words();
  fmt::print("{}\n{}\n",
             words.say("client-sensors.coupon-laid",
                       {id, say::text("at", words.when(event.at, session.board().now))}),
             words.say("client-sensors.coupon-guide", {id}));
}

void store(Session& session, Seq id) {
  for (const auto& coupon : coupons_of(session)) {
    if (coupon.id != id) {
      continue;
    }
    if (!coupon.result) {
      throw Failure(ExitCode::refused, coupon.measured ? session.say("client-sensors.coupon-stored-already")
                                                       : session.words().sentence(coupon.what));
    }
    send(session, *coupon.result, [&](const wording::Words& words) {
      return words.say("client-sensors.coupon-kept", {say::text("what", words.sentence(coupon.what))});
    });
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
      action = show_coupons;
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
      send(s, given->weighed, [&](const wording::Words& words) {
        return words.say("client-sensors.coupon-weighed",
                         {coupon_value(given->weighed.coupon),
                          say::text("grams", grams_text(given->weighed.grams, words))});
      });
    };
  });

  auto* keep = coupon->add_subcommand("store", "Keep the result: it counts for what is laid from then on");
  keep->add_option("coupon", given->store, "Its number")->required();
  keep->callback([given, &action] { action = [given](Session& s) { store(s, given->store); }; });
}

}  // namespace dryclock::cli
