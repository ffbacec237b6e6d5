#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cli/answer.hpp"
#include "cli/commands.hpp"
#include "domain/answers.hpp"

namespace dryclock::cli {
namespace {

Value plate_value(Seq id) {
  return say::text("plate", std::to_string(id));
}

// "edge: clear, Sat 14:20"; where a look is asked for, what it would decide.
std::string strip_line(const PlateView& plate, const PlateStrip& strip, const wording::Words& words) {
  const auto zone = say::text("zone", words.word("zone", strip.kind));
  if (strip.look) {
    return words.say("client-sensors.plate-strip-look",
                     {zone, say::text("share", words.share(strip.tenth_chance.value_or(0.0)))});
  }
  const auto* last = last_look(plate.seen, strip.kind);
  return last == nullptr ? words.say("client-sensors.plate-strip", {zone})
                         : words.say("client-sensors.plate-strip-seen",
                                     {zone, say::text("sign", words.word("plate", last->sign)),
                                      say::text("at", words.zone().date_clock(last->at))});
}

void show_plate(const PlateView& plate, const wording::Words& words) {
  const auto& laid = plate.plate;
  fmt::print("{}\n",
             words.say(laid.lot.empty() ? "client-sensors.plate" : "client-sensors.plate-of-lot",
                       {plate_value(plate.id), say::film("film", laid.film), say::text("lot", laid.lot),
                        say::text("bay", laid.bay), say::text("at", words.zone().date_clock(plate.laid))}));
  for (const auto& strip : plate.zones) {
    fmt::print("  {}\n", strip_line(plate, strip, words));
  }
  fmt::print("  {}\n", words.sentence(plate.what));
}

void list(Session& session) {
  const auto answer = session.daemon().get("/api/v1/plates");
  if (session.globals().json) {
    fmt::print("{}\n", answer);
    return;
  }
  const auto plates = understood<PlatesAnswer>(answer).plates;
  for (const auto& plate : plates) {
    show_plate(plate, session.words());
  }
  if (plates.empty()) {
    fmt::print("{}\n", session.say("client-sensors.no-plate"));
  }
}

struct GivenPlate {
  PlateLaid laid;
  std::string wetness;
  std::vector<std::string> strips;
};

void lay(Session& session, GivenPlate given) {
  if (!given.wetness.empty()) {
    given.laid.wetness = word_of<models::Wetness>(given.wetness, "wetness");
  }
  for (const auto& strip : given.strips) {
    given.laid.strips.push_back(word_of<models::ZoneKind>(strip, "zone"));
  }
  const auto event = session.event(given.laid);
  const auto answer = session.submit(event);
  if (session.globals().json) {
    fmt::print("{}\n", answer);
    return;
  }
  const auto id = plate_value(understood<Accepted>(answer).seq);
  const auto& words = session.words();
  fmt::print("{}\n{}\n",
             words.say("client-sensors.plate-laid",
                       {id, say::text("at", words.when(event.at, session.board().now))}),
             words.say("client-sensors.plate-guide", {id}));
}

struct GivenLook {
  Seq plate = 0;
  std::string zone, sign;
};

void see(Session& session, const GivenLook& given) {
  const PlateSeen seen{given.plate, word_of<models::ZoneKind>(given.zone, "zone"),
                       word_of<PlateSign>(given.sign, "sign")};
  send(session, seen, [&](const wording::Words& words) {
    return words.say("client-sensors.plate-seen",
                     {plate_value(seen.plate), say::text("zone", words.word("zone", seen.zone)),
                      say::text("sign", words.word("plate", seen.sign))});
  });
}

}  // namespace

void add_plate_commands(CLI::App& app, Action& action) {
  auto* plate = app.add_subcommand(
      "plate", "Watch a clear plate with film on it dry: it teaches film and hands without a balance");
  plate->require_subcommand(0, 1);
  plate->callback([&action, plate] {
    if (plate->get_subcommands().empty()) {
      action = list;
    }
  });
  plate->add_subcommand("list", "The plates, and where a look decides most now")->callback([&action] {
    action = list;
  });

  const auto laid = std::make_shared<GivenPlate>();
  auto* begin = plate->add_subcommand("lay", "A plate has been laid: prints how to go on");
  begin->add_option("--film", laid->laid.film, "The film's key in the catalogue")->required();
  begin->add_option("--lot", laid->laid.lot, "Its roll's lot, as printed");
  begin->add_option("--bay", laid->laid.bay, "In this bay, beside its sensor")->required();
  begin->add_option("--solution", laid->laid.solution,
                    "The solution's key; the catalogue's first where left out");
  begin->add_option("--wetness", laid->wetness, "dry-pulled, usual, wet or pooled");
  begin->add_option("--strips", laid->strips, "edge, recess, field; an edge and a recess where left out");
  begin->callback([laid, &action] { action = [laid](Session& s) { lay(s, *laid); }; });

  const auto look = std::make_shared<GivenLook>();
  auto* seen = plate->add_subcommand("seen", "How much of a strip is wet; with --at a look from before");
  seen->add_option("plate", look->plate, "Its number")->required();
  seen->add_option("zone", look->zone, "The strip: edge, recess or field")->required();
  seen->add_option("sign", look->sign, "mostly-wet, half-wet, tenth-wet or none-wet")->required();
  seen->callback([look, &action] { action = [look](Session& s) { see(s, *look); }; });
}

}  // namespace dryclock::cli
