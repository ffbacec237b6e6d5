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

std::vector<BondCouponView> bond_coupons_of(Session& session) {
  return understood<CouponsAnswer>(session.daemon().get("/api/v1/coupons")).bond_coupons;
}

std::string peel_text(double peel, const wording::Words& words) {
  return words.number(peel, 2);
}

void show_coupon(const BondCouponView& coupon, const wording::Words& words) {
  const auto& laid = coupon.coupon;
  fmt::print("{}\n",
             words.say(laid.lot.empty() ? "client-sensors.bond" : "client-sensors.bond-of-lot",
                       {coupon_value(coupon.id), say::film("film", laid.film), say::text("lot", laid.lot),
                        say::text("bay", laid.bay), say::text("at", words.zone().date_clock(coupon.laid)),
                        say::count("strips", coupon.pulls.size())}));
  for (const auto& pull : coupon.pulls) {
    fmt::print("  {}  {}\n", words.zone().date_clock(pull.at), peel_text(pull.peel, words));
  }
  const auto what = words.sentence(coupon.what);
  fmt::print("  {}\n",
             coupon.measured ? words.say("client-sensors.bond-stored", {say::text("what", what)}) : what);
}

void show_bonds(Session& session) {
  if (session.globals().json) {
    fmt::print("{}\n", session.daemon().get("/api/v1/coupons"));
    return;
  }
  const auto coupons = bond_coupons_of(session);
  for (const auto& coupon : coupons) {
    show_coupon(coupon, session.words());
  }
  if (coupons.empty()) {
    fmt::print("{}\n", session.say("client-sensors.no-bond"));
  }
}

void lay(Session& session, const BondCouponLaid& coupon) {
  const auto event = session.event(coupon);
  const auto answer = session.submit(event);
  if (session.globals().json) {
    fmt::print("{}\n", answer);
    return;
  }
  const auto id = coupon_value(understood<Accepted>(answer).seq);
  const auto& words = session.words();
  fmt::print(
      "{}\n{}\n",
      words.say("client-sensors.bond-laid", {id, say::text("at", words.when(event.at, session.board().now))}),
      words.say("client-sensors.bond-guide", {id}));
}

void store_bond(Session& session, Seq id) {
  for (const auto& coupon : bond_coupons_of(session)) {
    if (coupon.id != id) {
      continue;
    }
    if (coupon.measured) {
      throw Failure(ExitCode::refused, session.say("client-sensors.coupon-stored-already"));
    }
    if (!coupon.result) {
      throw Failure(ExitCode::refused, session.words().sentence(coupon.what));
    }
    send(session, *coupon.result, [&](const wording::Words& words) {
      return words.say("client-sensors.bond-kept", {say::text("what", words.sentence(coupon.what))});
    });
    return;
  }
  throw Failure(ExitCode::usage, fmt::format("no bond coupon {}", id));
}

}  // namespace

void add_bond_commands(CLI::App& app, Action& action) {
  struct Given {
    BondCouponLaid laid;
    BondCouponPulled pulled;
    Seq store = 0;
  };
  const auto given = std::make_shared<Given>();
  auto* bond = app.add_subcommand(
      "bond", "Measure how fast a film bonds: strips laid dry, and pulled off one by one over three days");
  bond->require_subcommand(0, 1);
  bond->callback([&action, bond] {
    if (bond->get_subcommands().empty()) {
      action = show_bonds;
    }
  });

  auto* begin = bond->add_subcommand("lay", "Strips have been laid: prints how to go on");
  begin->add_option("--film", given->laid.film, "The film's key in the catalogue")->required();
  begin->add_option("--lot", given->laid.lot, "Its roll's lot");
  begin->add_option("--bay", given->laid.bay, "Beside this bay's sensor")->required();
  begin->add_option("--solution", given->laid.solution, "Key of a solution, if they were not laid dry");
  begin->callback([given, &action] { action = [given](Session& s) { lay(s, given->laid); }; });

  auto* pull = bond->add_subcommand("pull", "A strip was pulled off now; with --at, before");
  pull->add_option("coupon", given->pulled.coupon, "Its number")->required();
  pull->add_option("peel", given->pulled.peel, "What it took: N per 25 mm, or any unit that stays the same")
      ->required();
  pull->callback([given, &action] {
    action = [given](Session& s) {
      send(s, given->pulled, [&](const wording::Words& words) {
        return words.say(
            "client-sensors.bond-pulled",
            {coupon_value(given->pulled.coupon), say::text("peel", peel_text(given->pulled.peel, words))});
      });
    };
  });

  auto* keep = bond->add_subcommand("store", "Keep what the strips show: it counts from then on");
  keep->add_option("coupon", given->store, "Its number")->required();
  keep->callback([given, &action] { action = [given](Session& s) { store_bond(s, given->store); }; });
}

}  // namespace dryclock::cli
