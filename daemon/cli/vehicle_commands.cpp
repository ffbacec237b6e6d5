#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>

#include "cli/answer.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "cli/naming.hpp"
#include "cli/show.hpp"
#include "cli/temperature.hpp"
#include "domain/event_fields.hpp"

namespace dryclock::cli {
namespace {

struct GivenVehicle {
  std::string vehicle, reference, bay, hand_over, panel, advised, on, plate, customer, set;
  double heat = 0.0, area = 0.0, tool = 0.0;
  std::string piece, zone;  // that a lamp lights
  bool handed_over = false;
};

void bring_in(Session& session, const GivenVehicle& given) {
  VehicleIn in;
  in.reference = given.reference;
  in.bay = given.bay;
  if (in.bay.empty()) {
    const auto& bays = session.board().bays;
    if (bays.size() != 1) {
      std::string names;
      for (const auto& bay : bays) {
        names += " " + bay.name;
      }
      throw Failure(ExitCode::usage, "say which bay with --bay:" + names);
    }
    in.bay = bays.front().name;
  }
  if (!given.hand_over.empty()) {
    in.hand_over = session.time(given.hand_over, "--hand-over");
  }
  if (!given.panel.empty()) {
    const auto celsius = parse_temperature(given.panel);
    if (!celsius) {
      throw Failure(ExitCode::usage, "--panel: " + celsius.error().what);
    }
    in.panel_c = *celsius;
  }
  send(session, in,
       done(in.hand_over ? "client.in-bay-until" : "client.in-bay",
            {say::text("vehicle", in.reference), say::text("bay", in.bay),
             say::text("hand_over", in.hand_over ? session.zone().date_clock(*in.hand_over) : "")}),
       given.plate, given.customer);
}

void agree(Session& session, const GivenVehicle& given) {
  const auto& vehicle = find_vehicle(session.board(), given.vehicle);
  HandOverAgreed agreed{vehicle.id, std::nullopt};
  if (given.hand_over == "none") {
    send(session, agreed, done("client.no-hand-over", {say::text("vehicle", vehicle.reference)}));
    return;
  }
  agreed.hand_over = session.time(given.hand_over, "hand-over");
  send(session, agreed,
       done("client.hand-over", {say::text("vehicle", vehicle.reference),
                                 say::text("at", session.zone().date_clock(*agreed.hand_over))}));
}

void release(Session& session, const GivenVehicle& given) {
  const auto& vehicle = find_vehicle(session.board(), given.vehicle);
  // Early is the customer's choice, but not without being told.
  if (!vehicle.release_ready && given.advised.empty()) {
    const auto& words = session.words();
    const auto why = words.fact(vehicle.held_by);
    throw Failure(ExitCode::usage,
                  words.say(why.empty() ? "client.not-release-ready" : "client.not-release-ready-for",
                            {say::text("vehicle", vehicle.reference),
                             say::text("chance", show_chance(vehicle.release_probability, words)),
                             say::text("held_by", why)}));
  }
  send(session, Released{vehicle.id, given.advised},
       done("client.released", {say::text("vehicle", vehicle.reference)}));
}

void show(Session& session, const GivenVehicle& given) {
  const auto id = find_any_vehicle(session, given.vehicle);
  const bool here =
      std::ranges::any_of(session.board().vehicles, [&](const VehicleSummary& one) { return one.id == id; });
  const auto answer =
      session.daemon().get(fmt::format("/api/v1/{}/{}", here ? "vehicles" : "handed-over", id));
  if (session.globals().json) {
    fmt::print("{}\n", answer);
  } else {
    const auto vehicle = understood<VehicleSummary>(answer);
    fmt::print("{}", show_vehicle(vehicle, session.board().now, session.words()));
    const auto kept =
        understood<Personal>(session.daemon().get(fmt::format("/api/v1/vehicles/{}/personal", vehicle.id)));
    if (kept.plate) {
      fmt::print("{}\n", session.say("client.plate", {say::text("plate", *kept.plate)}));
    }
    if (kept.customer) {
      fmt::print("{}\n", session.say("client.customer", {say::text("customer", *kept.customer)}));
    }
  }
}

void list(Session& session, const GivenVehicle& given) {
  if (given.handed_over) {
    list_handed_over(session);
  } else if (session.globals().json) {
    fmt::print("{}\n", session.daemon().get("/api/v1/board"));
  } else {
    fmt::print("{}", show_vehicles(session.board(), session.words()));
  }
}

void plan(Session& session, const GivenVehicle& given) {
  const auto& vehicle = find_vehicle(session.board(), given.vehicle);
  if (given.set == "none") {
    send(session, Planned{vehicle.id, {}},
         done("client.nothing-planned", {say::text("vehicle", vehicle.reference)}));
    return;
  }
  const auto& templates = session.shop().templates;
  auto found = std::ranges::find_if(templates, [&](const TemplateEntry& entry) {
    return !given.set.empty() &&
           (entry.label_uk == given.set || entry.label_us == given.set || entry.label_de == given.set);
  });
  if (found == templates.end()) {
    std::vector<std::string_view> keys;
    keys.reserve(templates.size());
    for (const auto& entry : templates) {
      keys.emplace_back(entry.key);
    }
    found = templates.begin() + static_cast<std::ptrdiff_t>(index_of(given.set, "template", keys));
  }
  send(session, Planned{vehicle.id, found->pieces}, [&](const wording::Words& words) {
    return words.say("client.planned",
                     {say::text("vehicle", vehicle.reference), say::count("pieces", found->pieces.size()),
                      say::text("set", wording::label_of(*found, words.manner().language))});
  });
}

void move(Session& session, const GivenVehicle& given) {
  const auto& vehicle = find_vehicle(session.board(), given.vehicle);
  send(session, VehicleMoved{vehicle.id, given.bay},
       done("client.moved", {say::text("vehicle", vehicle.reference), say::text("bay", given.bay)}));
}

void lamp(Session& session, const GivenVehicle& given) {
  const bool on = index_of(given.on, "state of a lamp", {"off", "on"}) == 1;
  if (on && given.heat <= 0.0) {
    throw Failure(ExitCode::usage,
                  "say how much heat the panels take up with --heat [W/m2]; full sun is about 700");
  }
  LampSwitched switched;
  switched.on = on;
  if (on) {
    switched.heat_w_m2 = given.heat;
    switched.area_m2 = given.area;
    switched.tool_w = given.tool;
  }
  if (on && !given.zone.empty()) {
    switched.zone = word_of<models::ZoneKind>(given.zone, "zone");
  }
  if (given.piece.empty()) {
    const auto& vehicle = find_vehicle(session.board(), given.vehicle);
    switched.vehicle = vehicle.id;
    send(session, switched,
         done(on ? "client.lamp-on" : "client.lamp-off", {say::text("vehicle", vehicle.reference)}));
    return;
  }
  const auto found = find_piece(session.board(), session.shop(), session.names(), given.piece, given.vehicle);
  switched.vehicle = found.vehicle->id;
  switched.piece = found.piece->id;
  send(session, switched, [&](const wording::Words& words) {
    const auto piece = on_vehicle(words, piece_label(words, *found.piece), found.vehicle->reference);
    return words.say(on ? "client.lamp-on" : "client.lamp-off", {say::text("vehicle", piece)});
  });
}

}  // namespace

void add_vehicle_commands(CLI::App& app, Action& action) {
  const auto given = std::make_shared<GivenVehicle>();
  const auto choose = [given, &action](void (*what)(Session&, const GivenVehicle&)) {
    return [given, &action, what] { action = [given, what](Session& s) { what(s, *given); }; };
  };
  constexpr auto which = "Its reference or number";

  auto* vehicle =
      app.add_subcommand("vehicle", "Bring a vehicle in, show it, move it, agree its hand-over, release it");
  vehicle->require_subcommand(1);
  vehicle->fallthrough();

  auto* in = vehicle->add_subcommand("in", "A vehicle comes in");
  in->add_option("reference", given->reference, "Of your choice; better not a customer's name")->required();
  in->add_option("--bay", given->bay, "Where it stands; may be left out where there is one bay");
  in->add_option("--hand-over", given->hand_over, "Agreed time: 17:30 (today) or \"2026-03-02 17:30\"");
  in->add_option("--panel", given->panel, "It came in cold: its panels' temperature, 4C or 39F");
  in->add_option("--plate", given->plate,
                 "Number plate: kept apart, never sealed; dryclock forget erases it");
  in->add_option("--customer", given->customer, "The customer's name: as --plate");
  in->callback(choose(bring_in));

  auto* all = vehicle->add_subcommand("list", "All vehicles");
  all->add_flag("--handed-over", given->handed_over,
                "Those that left in the last 60 days, and when each is due for its recheck");
  all->callback(choose(list));

  auto* one = vehicle->add_subcommand("show", "One vehicle: every piece, zone and step");
  one->add_option("vehicle", given->vehicle, "Its reference or number, also of one that has left");
  one->callback(choose(show));

  auto* set =
      vehicle->add_subcommand("plan", "What is to be laid on it: the board then shows what is missing");
  set->add_option("vehicle", given->vehicle, which)->required();
  set->add_option("template", given->set, "A set of pieces from panels.toml, by its key or words; or none")
      ->required();
  set->callback(choose(plan));

  auto* to = vehicle->add_subcommand("move", "It stands in another bay now");
  to->add_option("vehicle", given->vehicle, which)->required();
  to->add_option("bay", given->bay, "Name of the bay, or outside")->required();
  to->callback(choose(move));

  auto* agreed = vehicle->add_subcommand("hand-over", "Agree the time of hand-over");
  agreed->add_option("vehicle", given->vehicle, which)->required();
  agreed->add_option("time", given->hand_over, "17:30 (today), \"2026-03-02 17:30\", or none")->required();
  agreed->callback(choose(agree));

  auto* gone = vehicle->add_subcommand("release", "Hand the vehicle over");
  gone->add_option("vehicle", given->vehicle, which)->required();
  gone->add_option(
      "--advised", given->advised,
      "What the customer was told about what is still wet; needed where it is not release-ready");
  gone->callback(choose(release));

  auto* heat = app.add_subcommand("lamp", "A lamp, or the sun, on a whole vehicle or a part of one piece");
  heat->add_option("state", given->on, "on or off")->required();
  heat->add_option("--heat", given->heat, "Taken up by the panels [W/m2]")->check(CLI::Range(0.0, 5000.0));
  heat->add_option("--piece", given->piece, "It lights this piece alone: \"bonnet\", \"sill 2\"");
  heat->add_option("--zone", given->zone, "Of that piece; all of it where left out");
  heat->add_option("--area", given->area, "Lit, of that [m2]; all of it where left out")
      ->check(CLI::Range(0.0, heated_area_bounds.most));
  heat->add_option("--tool", given->tool, "What the lamp draws [W]: it never gives more than half of that")
      ->check(CLI::Range(0.0, lamp_bounds.most));
  heat->add_option("-v,--vehicle", given->vehicle, which);
  heat->callback(choose(lamp));
}

}  // namespace dryclock::cli
