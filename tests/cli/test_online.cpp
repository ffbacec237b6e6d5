// The built program against the daemon in the test's process: support/lived_shop.hpp says what it has lived
// through.
#include <doctest/doctest.h>
#include <fmt/core.h>

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>
#include <chrono>
#include <filesystem>
#include <memory>
#include <thread>

#include "cli/run_against.hpp"
#include "support/config_files.hpp"
#include "support/full_disk.hpp"
#include "support/lived_shop.hpp"
#include "support/mosquitto.hpp"

using dryclock::test::FullDisk;
using dryclock::test::has;
using dryclock::test::run_against;
using dryclock::test::RunningShop;
using dryclock::test::ScratchFolder;
using dryclock::test::write;

TEST_CASE("the board, one vehicle, status, alerts, air and events are shown") {
  const RunningShop shop;
  const auto board = run_against(shop, "");
  CAPTURE(board.out);
  CHECK(board.code == 0);
  CHECK(has(board, "Grey estate"));
  CHECK(has(board, "bay-cold/front"));
  CHECK(has(board, "front:  air 17.2 °C  50 %RH"));
  const auto first = board.out.find("Grey estate");  // what follows looks ahead, and is looked at anew
  CHECK(run_against(shop, "board").out.substr(0, first) == board.out.substr(0, first));
  CHECK(has(run_against(shop, "vehicle show 'Grey estate'"), "held back by"));
  CHECK(has(run_against(shop, "vehicle list"), "White van"));
  CHECK(has(run_against(shop, "status"), "dryclockd"));
  CHECK(has(run_against(shop, "alerts"), "Look at the heater"));
  CHECK(has(run_against(shop, "air front --every 60"), "dew point"));
  CHECK(has(run_against(shop, "outlook front --hours 8"), " to "));
  CHECK(has(run_against(shop, "events"), "edge-wrapped"));
}

TEST_CASE("what the installer does is taken, and shows") {
  const RunningShop shop;
  const auto laid = run_against(shop, "lay bonnet -v 'White van' --wetness wet --at 06:30 --who AB");
  CAPTURE(laid.out);
  CHECK(laid.code == 0);
  CHECK(has(laid, "laid on White van"));
  CHECK(has(laid, "wet, Sat 06:30 (event "));
  const auto tack = run_against(shop, "relay hood -v 'White van' --solution tack-10");
  CAPTURE(tack.out);
  CHECK(tack.code == 0);
  CHECK(has(tack, "flammable vapour"));
  const auto wrapped = run_against(shop, "wrap bonnet -v 'White van'");
  CHECK(wrapped.code == 0);
  CHECK(has(wrapped, "Look and feel before cutting"));
  CHECK(run_against(shop, "inspect bonnet field hazy -v 'White van'").code == 0);
  const auto heated =
      run_against(shop, "heat bonnet heat-gun 55C 3 -v 'White van' --zone edge --area 0.2 --tool 1500");
  CAPTURE(heated.out);
  CHECK(has(heated, "edge heated to 55 °C for 3 min"));
  const auto events = run_against(shop, "events");
  CAPTURE(events.out);
  CHECK(has(events, "zone edge, area 0.2 m², tool 1,500 W"));
  CHECK(
      has(run_against(shop, "heat bonnet heat-gun 55C 3 -v 'White van' --zone corner"), "There are: field"));
  CHECK(run_against(shop, "heat bonnet heat-gun 55C 3 -v 'White van' --tool 9").code == 2);
  const auto lit = run_against(
      shop, "lamp on --heat 400 --piece bonnet --zone edge --area 0.8 --tool 1500 -v 'White van'");
  CAPTURE(lit.out);
  CHECK(lit.code == 0);
  CHECK(has(lit, "switched on"));
  CHECK(has(run_against(shop, "events"), "heat 400 W/m²"));
  CHECK(run_against(shop, "lamp off --piece bonnet -v 'White van'").code == 0);
  CHECK(run_against(shop, "lamp on --heat 400 --zone edge -v 'White van'").code == 1);  // of which piece
  CHECK(has(run_against(shop, "vehicle in demo-2 --bay front --hand-over '2026-03-08 17:00' --panel 39F"),
            "demo-2 is in bay front, hand-over 2026-03-08 17:00"));
  CHECK(run_against(shop, "vehicle hand-over demo-2 none").code == 0);
  CHECK(run_against(shop, "note 'scratch on the sill' -v demo-2").code == 0);
}

TEST_CASE("a step that nobody will do is not waited for, until somebody will after all") {
  const RunningShop shop;
  CHECK(run_against(shop, "lay bonnet -v 'White van' --wetness pooled --at 06:30").code == 0);
  CHECK(has(run_against(shop, "not-needed bonnet refit -v 'White van'"),
            "bonnet on White van need not be refitted, Sat"));
  CHECK(has(run_against(shop, "vehicle show 'White van'"), "not needed: refit-ready"));
  CHECK(has(run_against(shop, "not-needed bonnet refit -v 'White van' --after-all"),
            "bonnet on White van is to be refitted after all, Sat"));
  CHECK_FALSE(has(run_against(shop, "vehicle show 'White van'"), "not needed"));
  const auto wrong = run_against(shop, "not-needed bonnet polish -v 'White van'");
  CHECK(wrong.code == 2);
  CHECK(has(wrong, "There are: wrap"));
}

TEST_CASE("what the shop has shown, and learning anew") {
  const RunningShop shop;
  CHECK(run_against(shop, "lay bonnet -v 'White van' --at 05:00").code == 0);
  CHECK(run_against(shop, "inspect bonnet edge wet -v 'White van' --at 06:30").code == 0);
  const auto learned = run_against(shop, "learned");
  CAPTURE(learned.out);
  CHECK(learned.code == 0);
  CHECK(has(learned, "times the usual water"));
  CHECK(has(learned, "edge: "));
  CHECK(has(run_against(shop, "learned --json"), R"("water":{"low":)"));
  CHECK(run_against(shop, "learned --anew 2031-01-01").code == 1);
  CHECK(run_against(shop, "learned --anew soon").code == 2);
  CHECK(has(run_against(shop, "learned --anew '2026-03-07 06:35'"), "no longer counts"));
  CHECK(has(run_against(shop, "learned"), "Nothing that was seen counts yet"));
  CHECK(has(run_against(shop, "events"), "learn-anew"));
}

TEST_CASE("in German: the board, what was done, alerts, and the question before what cannot be undone") {
  const RunningShop shop;
  const auto german = [&](const std::string& words) { return run_against(shop, "--language de " + words); };
  const auto board = german("");
  CAPTURE(board.out);
  CHECK(board.code == 0);
  CHECK(has(board, "front:  Luft 17,2 °C  50 % r. F."));
  CHECK(has(board, "Übergabe vereinbart"));
  CHECK(has(german("alerts"), "Nach der Heizung sehen, Tore schließen."));
  CHECK(has(german("status"), "dryclockd"));
  CHECK(has(german("events"), "Kanten umgelegt"));
  CHECK(has(german("air front --every 60"), "Taupunkt"));
  CHECK(has(german("vehicle show 'Grey estate'"), "zurückgehalten durch"));
  CHECK(has(german("lay bonnet -v 'White van' --wetness wet --at 06:30"),
            "an White van verlegt, 150 µm, mit Deckschicht, "));
  const auto wrapped = german("wrap bonnet -v 'White van'");
  CAPTURE(wrapped.out);
  CHECK(has(wrapped, "an White van: Kanten umgelegt, Sa"));
  CHECK(has(wrapped, "Nach der Schätzung war es noch nicht bereit zum Umlegen der Kanten ("));
  CHECK(has(wrapped, "Vor dem Schneiden hinsehen und fühlen"));
  CHECK(has(german("vehicle release 'Grey estate'"), "nicht bereit zur Übergabe ("));
  CHECK(has(german("vehicle list --handed-over"), "NACHKONTROLLE FÄLLIG"));
  // Bonnet of the estate: laid on Friday at 06:40; an hour on in Berlin.
  const auto before = german("--zone Europe/Berlin trim bonnet -v 'Grey estate' --at '2026-03-06 07:10'");
  CHECK(before.code == 1);
  CHECK(before.out == "dryclock: Motorhaube wurde erst am Fr. 6. März 07:40 verlegt (/at)\n");
  CHECK(run_against(shop, "vehicle in demo-3 --bay front --plate 'DEMO 1'").code == 0);
  const ScratchFolder folder;
  const auto kept = german("forget demo-3 < " + write(folder, "english", "yes\n").string());
  CHECK(kept.code == 1);
  CHECK(has(kept, "Zum Bestätigen ja eingeben: dryclock: Es wurde nichts gelöscht"));
  CHECK(has(german("forget demo-3 < " + write(folder, "german", "ja\n").string()), "gelöscht, Sa"));
}

TEST_CASE("the shop's language is spoken where none is asked for; what machines read stays as it is") {
  const RunningShop shop({}, 0, "de");
  const auto board = run_against(shop, "");
  CAPTURE(board.out);
  CHECK(has(board, "Taupunkt"));
  CHECK(has(board, "bereit zur Übergabe"));
  CHECK(has(run_against(shop, "--language en-US"), "dew point"));
  CHECK(has(run_against(shop, "note 'x' -v 'White van'"), "Notiert zu White van, Sa"));
  CHECK(has(run_against(shop, "wrap nothing -v 'White van'"), "no piece \"nothing\" is laid"));
  CHECK(run_against(shop, "--json sensors").out == run_against(shop, "--json --language en-GB sensors").out);
}

TEST_CASE("plate and customer are shown, and erased when the answer is yes") {
  const RunningShop shop;
  CHECK(run_against(shop, "vehicle in demo-3 --bay front --plate 'DEMO 1' --customer 'N. N.'").code == 0);
  CHECK(has(run_against(shop, "vehicle show demo-3"), "Plate: DEMO 1\nCustomer: N. N.\n"));
  CHECK(has(run_against(shop, "events"), "demo-3"));
  CHECK_FALSE(has(run_against(shop, "events"), "DEMO 1"));
  const auto kept = run_against(shop, "forget demo-3 </dev/null");
  CHECK(kept.code == 1);
  CHECK(has(kept, "nothing was erased"));
  CHECK(has(run_against(shop, "forget demo-3 --yes"), "erased"));
  CHECK_FALSE(has(run_against(shop, "vehicle show demo-3"), "DEMO 1"));
  CHECK(run_against(shop, "forget demo-3 --yes").code == 1);
}

TEST_CASE("what the rechecks say is a table that calls too few too few") {
  const RunningShop shop;
  CHECK(has(run_against(shop, "rechecks"), "No vehicle was looked at again yet"));
  CHECK(run_against(shop, "recheck bonnet lifting -v 'Green saloon'").code == 0);
  CHECK(run_against(shop, "recheck mirror sound -v 'Green saloon'").code == 0);
  CHECK(run_against(shop, "recheck bonnet sound -v 'Blue hatchback'").code == 0);
  const auto said = run_against(shop, "rechecks");
  CAPTURE(said.out);
  CHECK(said.code == 0);
  CHECK(has(said, "2 vehicles were looked at again."));
  CHECK(has(said, "trimmed at 0-50 %"));  // hours after it was laid
  // Wilson's score interval of 1 in 2, by hand: (0.5 + z2/4 +- z sqrt(1/8 + z2/16)) / (1 + z2/2), z = 1.96,
  // is 0.5 +- 0.405.
  CHECK(has(said, "1 of 2"));
  CHECK(has(said, "50 % (9 to 91 %)"));
  CHECK(has(said, "too few to tell"));
  CHECK(has(said, "bonnet"));
  CHECK(has(run_against(shop, "rechecks --json"), R"("few_below":10)"));
}

TEST_CASE("record and hand-over sheet are saved, under a name of their own or the given one") {
  const RunningShop shop;
  const auto to_output = [&](const std::string& words) { return run_against(shop, words + " --out -").out; };
  const auto record = to_output("record 'Grey estate'");
  CHECK(record.starts_with("%PDF-"));
  CHECK(record.find("595.2") != std::string::npos);  // A4, ISO 216: 210 mm are 595.28 points
  const auto letter = to_output("record 'Grey estate' --paper letter");
  CHECK(letter.find("0 0 612 792") != std::string::npos);  // 8.5 by 11 inches
  CHECK(to_output("record 'Grey estate' --zip").starts_with("PK"));
  CHECK(to_output("handover 'Grey estate'").starts_with("%PDF-"));
  CHECK(to_output("receipt 'Grey estate'").starts_with("%PDF-"));
  CHECK(to_output("record 'Grey estate' --language de").find("/Title (Trocknungsprotokoll: Grey estate)") !=
        std::string::npos);
  CHECK(to_output("--language de receipt 'Grey estate'").find("/Title (Annahmeschein: Grey estate)") !=
        std::string::npos);
  // A number is asked for as it stands: the vehicle may have left the board.
  CHECK(has(run_against(shop, "record 99999 --out -"), "no vehicle"));
  CHECK(run_against(shop, "record 99999 --out -").code == 1);
  CHECK(run_against(shop, "record 'Grey estate' --paper a3").code == 2);
  CHECK(run_against(shop, "record 'Grey estate' --out /no/such/folder/it.pdf").code == 4);
  const ScratchFolder folder;
  const auto path = (folder / "it.pdf").string();
  const auto saved = run_against(shop, "handover 'Grey estate' --out " + path);
  CHECK(has(saved, path + ": " + std::to_string(std::filesystem::file_size(path)) + " bytes"));
}

TEST_CASE("a vehicle is planned by a template's key or words, and shows what is still to lay") {
  const RunningShop shop;
  const auto planned = run_against(shop, "vehicle plan 'White van' 'full front'");
  CAPTURE(planned.out);
  CHECK(planned.code == 0);
  // What config/panels.toml has in it.
  CHECK(has(planned, "White van: 8 pieces planned (full front)"));
  CHECK(has(run_against(shop, ""), "  still to lay: front bumper, bonnet, "));
  CHECK(run_against(shop, "lay bonnet -v 'White van'").code == 0);
  const auto left = run_against(shop, "vehicle show 'White van'");
  CHECK(has(left, "  still to lay: front bumper, "));
  CHECK_FALSE(has(left, "front bumper, bonnet"));
  CHECK(run_against(shop, "vehicle plan 'White van' none").code == 0);
  CHECK_FALSE(has(run_against(shop, ""), "still to lay"));
  const auto wrong = run_against(shop, "vehicle plan 'White van' full-frnt");
  CHECK(wrong.code == 2);
  CHECK(has(wrong, "did you mean \"full-front\"?"));
}

TEST_CASE("vehicles that have left are listed, and their pieces rechecked") {
  const RunningShop shop;
  const auto list = run_against(shop, "vehicle list --handed-over");
  CAPTURE(list.out);
  CHECK(list.code == 0);
  CHECK(has(list, "Green saloon"));
  CHECK(has(list, "RECHECK DUE"));
  CHECK(has(list, "not due yet"));
  CHECK(has(run_against(shop, "recheck bonnet sound -v 'Green saloon'"),
            "bonnet on Green saloon rechecked: sound"));
  CHECK(has(run_against(shop, "recheck mirror lifting --zone edge -v 'Green saloon'"),
            "mirror on Green saloon rechecked: lifting at its edge"));
  CHECK(has(run_against(shop, "recheck mirror lifting --zone corner -v 'Green saloon'"), "There are: field"));
  CHECK(has(run_against(shop, "vehicle list --handed-over"), "  rechecked\n"));
  const auto which = run_against(shop, "recheck bonnet sound");
  CHECK(which.code == 2);
  CHECK(has(which, "  bonnet on Green saloon"));
  CHECK(run_against(shop, "recheck mirror shiny -v 'Green saloon'").code == 2);
  CHECK(run_against(shop, "recheck mirror -v 'Green saloon'").code == 2);
}

TEST_CASE("a channel is tested: delivered, or why not") {
  const dryclock::test::Mosquitto broker;
  RunningShop shop({}, broker.port());
  shop.on_core([](auto& whole) { whole.turns_until([&] { return whole.parts().client->connected(); }); });
  const auto all = run_against(shop, "alerts test");
  CAPTURE(all.out);
  CHECK(all.code == 1);
  CHECK(has(all, "mqtt: delivered\n"));
  CHECK(has(all, "phone: not delivered: http://127.0.0.1:9/p: "));
  CHECK(has(all, "no alert would arrive by: phone"));
  CHECK(run_against(shop, "alerts test mqtt").code == 0);
  CHECK(has(run_against(shop, "alerts test pigeon"), "no channel 'pigeon'"));
  CHECK(has(run_against(shop, "alerts"), "Look at the heater"));  // without "test": as before
}

TEST_CASE("a zone that this machine does not know stops words, before anything is sent, and no --json") {
  const RunningShop shop;
  const auto before = run_against(shop, "events --json").out;
  const auto said = run_against(shop, "--zone Nowhere/Lost note x -v 'White van'");
  CHECK(said.code == 2);
  CHECK(has(said, "no time zone 'Nowhere/Lost'"));
  CHECK(run_against(shop, "events --json").out == before);
  for (const auto* deed :
       {"note x -v 'White van'", "inspect bonnet field hazy -v 'Grey estate'", "open bonnet -v 'Grey estate'",
        "lay bonnet -v 'White van'", "vehicle in demo-4 --bay front", "vehicle hand-over demo-4 none",
        "recheck bonnet sound -v 'Green saloon'", "lamp on --heat 500 -v demo-4"}) {
    const auto ran = run_against(shop, std::string{"--json --zone Nowhere/Lost "} + deed);
    CAPTURE(ran.out);
    CHECK(ran.code == 0);
    CHECK(has(ran, "\"what\":"));
  }
}

TEST_CASE("--json gives the daemon's own answers") {
  const RunningShop shop;
  CHECK(has(run_against(shop, "--json"), "{\"now\":"));
  CHECK(has(run_against(shop, "open bonnet --json -v 'Grey estate'"), "\"what\":\"edge-opened\""));
}

TEST_CASE("with --json there is one JSON value, and no words beside it") {
  const dryclock::test::Mosquitto broker;
  RunningShop shop({}, broker.port());
  shop.on_core([](auto& whole) { whole.turns_until([&] { return whole.parts().client->connected(); }); });
  const auto value = [&](const std::string& words) {
    const auto ran = run_against(shop, "--json " + words);
    CAPTURE(ran.out);
    CHECK(ran.code == 0);
    boost::system::error_code error;
    auto parsed = boost::json::parse(ran.out, error);
    CHECK_FALSE(error);
    return parsed;
  };
  const auto tests = value("alerts test mqtt").at("tests");
  REQUIRE(tests.as_array().size() == 1);
  CHECK(tests.at(0).at("channel") == "mqtt");
  CHECK(tests.at(0).at("delivered") == true);
  // A channel that fails is told on standard error as well.
  CHECK(value("alerts test 2> /dev/null; true").at("tests").as_array().size() == 2);
  const ScratchFolder folder;
  const auto path = (folder / "it.pdf").string();
  const auto saved = value("receipt 'Grey estate' --out " + path);
  CHECK(saved.at("file") == boost::json::string_view{path});
  CHECK(saved.at("bytes") == std::filesystem::file_size(path));
  CHECK(value("sensors check front-wall").at("sensor") == "front-wall");
  CHECK(value("vehicle in demo-5 --bay front --plate 'DEMO 5'").at("event").at("reference") == "demo-5");
  const auto yes = write(folder, "yes", "yes\n").string();
  CHECK(value("forget demo-5 < " + yes + " 2> /dev/null; true").at("event").at("what") == "forgotten");
  // What is refused is told in English, and needs no words either.
  const auto refused = run_against(shop, "--json --language de --zone Nowhere/Lost undo 99999");
  CHECK(refused.code == 1);
  CHECK(refused.out == "dryclock: no event 99999 (/event)\n");
}

TEST_CASE("a reference that looks like a number is that vehicle's, not the number of another one") {
  RunningShop shop;
  std::int64_t estate = 0;
  shop.on_core([&](auto& whole) { estate = dryclock::test::vehicle_in(whole, "Grey estate"); });
  const auto plate = [&](const std::string& name) {
    return has(run_against(shop, "vehicle show '" + name + "'"), "Plate: ");
  };
  CHECK(run_against(shop, fmt::format("vehicle in {} --bay front --plate 'DEMO 7'", estate)).code == 0);
  CHECK(plate(std::to_string(estate)));
  CHECK(run_against(shop, fmt::format("forget {} --yes", estate)).code == 0);
  CHECK_FALSE(plate(std::to_string(estate)));
  CHECK(run_against(shop, fmt::format("receipt {} --language de --out -", estate))
            .out.find(fmt::format("/Title (Annahmeschein: {})", estate)) != std::string::npos);
}

TEST_CASE("what a busy daemon does not take at once is sent again") {
  RunningShop shop;
  auto full = std::make_unique<FullDisk>();
  const std::jthread free_again([&] {
    std::this_thread::sleep_for(std::chrono::milliseconds{500});
    full.reset();
  });
  CHECK(run_against(shop, "note late -v 'White van'").code == 0);
}

TEST_CASE("exit 1 with the daemon's reason, exit 2 with what there is") {
  RunningShop shop;
  const auto which = run_against(shop, "wrap boot");
  CHECK(which.code == 2);
  CHECK(has(which, "no piece \"boot\" is laid. Laid now:"));
  CHECK(has(run_against(shop, "inspect bonnet edge moist -v 'Grey estate'"), "\"moist\" is no finding"));
  const auto early = run_against(shop, "vehicle release 'Grey estate'");
  CHECK(early.code == 2);
  CHECK(has(early, "Grey estate may not leave yet by the estimate"));
  CHECK(run_against(shop, "vehicle release 'Grey estate' --advised 'bumper still moist'").code == 0);
  const FullDisk full;
  const auto refused = run_against(shop, "note late -v 'White van'");
  CHECK(refused.code == 1);
  CHECK(refused.out.starts_with("dryclock: "));
  CHECK_FALSE(has(refused, "Noted"));
  CHECK(run_against(shop, "air nowhere").code == 1);
  CHECK(run_against(shop, "outlook nowhere").code == 1);
}
