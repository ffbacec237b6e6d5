// The built program against the real HTTP server, with an invented shop behind it.
#include <doctest/doctest.h>

#include <chrono>
#include <thread>

#include "cli/run_against.hpp"
#include "support/scratch_folder.hpp"

using dryclock::test::has;
using dryclock::test::run_against;
using dryclock::test::RunningServer;

TEST_CASE("the board, one vehicle, status, alerts, air and events are shown") {
  const RunningServer server;
  const auto board = run_against(server, "");
  CAPTURE(board.out);
  CHECK(board.code == 0);
  CHECK(has(board, "Grey estate"));
  CHECK(has(board, "pace-low/front"));
  CHECK(run_against(server, "board").out == board.out);
  CHECK(has(run_against(server, "vehicle show 'Grey estate'"), "standard hours to go"));
  CHECK(has(run_against(server, "vehicle list"), "White van"));
  CHECK(has(run_against(server, "status"), "dryclockd"));
  CHECK(has(run_against(server, "alerts"), "Heat the bay"));
  CHECK(has(run_against(server, "air front --every 60"), "dew point"));
  CHECK(has(run_against(server, "events"), "edge-wrapped"));
}

TEST_CASE("what the installer does is taken, and shows") {
  const RunningServer server;
  const auto laid = run_against(server, "lay bonnet -v 'White van' --wetness wet --at 06:30 --who AB");
  CAPTURE(laid.out);
  CHECK(laid.code == 0);
  CHECK(has(laid, "laid on White van"));
  CHECK(has(laid, "wet, Sat 06:30 (event "));
  const auto tack = run_against(server, "relay hood -v 'White van' --solution tack-10");
  CAPTURE(tack.out);
  CHECK(tack.code == 0);
  CHECK(has(tack, "flammable vapour"));
  const auto wrapped = run_against(server, "wrap bonnet -v 'White van'");
  CHECK(wrapped.code == 0);
  CHECK(has(wrapped, "Look and feel before cutting"));
  CHECK(run_against(server, "inspect bonnet field hazy -v 'White van'").code == 0);
  CHECK(has(run_against(server, "vehicle in demo-2 --bay front --hand-over '2026-03-08 17:00' --panel 39F"),
            "demo-2 is in bay front, hand-over 2026-03-08 17:00"));
  CHECK(run_against(server, "vehicle hand-over demo-2 none").code == 0);
  CHECK(run_against(server, "note 'scratch on the sill' -v demo-2").code == 0);
}

TEST_CASE("plate and customer are shown, and erased when the answer is yes") {
  const RunningServer server;
  CHECK(run_against(server, "vehicle in demo-3 --bay front --plate 'DEMO 1' --customer 'N. N.'").code == 0);
  CHECK(has(run_against(server, "vehicle show demo-3"), "Plate: DEMO 1\nCustomer: N. N.\n"));
  CHECK(has(run_against(server, "events"), "demo-3"));
  CHECK_FALSE(has(run_against(server, "events"), "DEMO 1"));
  const auto kept = run_against(server, "forget demo-3 </dev/null");
  CHECK(kept.code == 1);
  CHECK(has(kept, "nothing was erased"));
  CHECK(has(run_against(server, "forget demo-3 --yes"), "erased"));
  CHECK_FALSE(has(run_against(server, "vehicle show demo-3"), "DEMO 1"));
  CHECK(run_against(server, "forget demo-3 --yes").code == 1);
}

TEST_CASE("what the rechecks say is a table that calls too few too few") {
  const RunningServer server;
  const auto said = run_against(server, "rechecks");
  CAPTURE(said.out);
  CHECK(said.code == 0);
  CHECK(has(said, "14 vehicles were looked at again."));
  CHECK(has(said, "trimmed at 0-50 %"));
  CHECK(has(said, "4 of 7"));
  CHECK(has(said, "57 % (25 to 84 %)"));
  CHECK(has(said, "too few to tell"));
  CHECK(has(said, "Bonnet"));
  CHECK(has(run_against(server, "rechecks --json"), R"("few_below":10)"));
}

TEST_CASE("record and hand-over sheet are saved, under a name of their own or the given one") {
  const RunningServer server;
  // The shop's files hold the form's number and the paper.
  const auto to_output = [&](const std::string& words) {
    return run_against(server, words + " --out -").out;
  };
  CHECK(to_output("record 'Grey estate'") == "0 a4");
  CHECK(to_output("record 'Grey estate' --paper letter") == "0 letter");
  CHECK(to_output("record 1 --zip") == "1 a4");
  CHECK(to_output("handover 1") == "2 a4");
  CHECK(to_output("receipt 'Grey estate'") == "3 a4");
  // A number is asked for as it stands: the vehicle may have left the board.
  CHECK(has(run_against(server, "record 99 --out -"), "no vehicle"));
  CHECK(run_against(server, "record 99 --out -").code == 1);
  CHECK(run_against(server, "record 1 --paper a3").code == 2);
  CHECK(run_against(server, "record 1 --out /no/such/folder/it.pdf").code == 4);
  const dryclock::test::ScratchFolder folder;
  const auto path = (folder / "it.pdf").string();
  CHECK(has(run_against(server, "handover 1 --out " + path), path + ": 4 bytes"));
}

TEST_CASE("a vehicle is planned by a template's key or words, and shows what is still to lay") {
  const RunningServer server;
  const auto planned = run_against(server, "vehicle plan 'White van' 'full front'");
  CAPTURE(planned.out);
  CHECK(planned.code == 0);
  CHECK(has(planned, "White van: 4 pieces planned (full front)"));
  CHECK(has(run_against(server, ""),
            "  still to lay: Front bumper (by Sat 08:40), Bonnet (late: 40 % to be dry in time), Front wing, "
            "left (late: "));
  CHECK(run_against(server, "lay bonnet -v 'White van'").code == 0);
  CHECK(has(run_against(server, "vehicle show 'White van'"),
            "  still to lay: Front bumper (by Sat 08:40), Front wing, left (late: "));
  CHECK(run_against(server, "vehicle plan 'White van' none").code == 0);
  CHECK_FALSE(has(run_against(server, ""), "still to lay"));
  const auto wrong = run_against(server, "vehicle plan 'White van' full-frnt");
  CHECK(wrong.code == 2);
  CHECK(has(wrong, "did you mean \"full-front\"?"));
}

TEST_CASE("vehicles that have left are listed, and their pieces rechecked") {
  const RunningServer server;
  const auto list = run_against(server, "vehicle list --handed-over");
  CAPTURE(list.out);
  CHECK(list.code == 0);
  CHECK(has(list, "Green saloon"));
  CHECK(has(list, "RECHECK DUE"));
  CHECK(has(list, "not due yet"));
  CHECK(has(run_against(server, "recheck bonnet sound -v 'Green saloon'"),
            "Bonnet on Green saloon rechecked: sound"));
  CHECK(has(run_against(server, "recheck 903 lifting --zone edge"),
            "Mirror, left on Green saloon rechecked: lifting at its edge"));
  CHECK(has(run_against(server, "recheck 903 lifting --zone corner"), "There are: field"));
  CHECK(has(run_against(server, "vehicle list --handed-over"), "  rechecked\n"));
  const auto which = run_against(server, "recheck bonnet sound");
  CHECK(which.code == 2);
  CHECK(has(which, "902  Bonnet on Green saloon"));
  CHECK(run_against(server, "recheck 903 shiny").code == 2);
  CHECK(run_against(server, "recheck 903").code == 2);
}

TEST_CASE("a channel is tested: delivered, or why not") {
  const RunningServer server;
  const auto all = run_against(server, "alerts test");
  CAPTURE(all.out);
  CHECK(all.code == 1);
  CHECK(has(all, "mqtt: delivered\n"));
  CHECK(has(all, "phone: not delivered: https://push.example/bay: answered with status 401\n"));
  CHECK(has(all, "no alert would arrive by: phone"));
  CHECK(run_against(server, "alerts test mqtt").code == 0);
  CHECK(has(run_against(server, "alerts test pigeon"), "no channel 'pigeon'"));
  CHECK(has(run_against(server, "alerts"), "Heat the bay"));  // without "test": as before
}

TEST_CASE("--json gives the daemon's own answers") {
  const RunningServer server;
  CHECK(has(run_against(server, "--json"), "{\"now\":"));
  CHECK(has(run_against(server, "open bonnet --json -v 'Grey estate'"), "\"what\":\"edge-opened\""));
}

TEST_CASE("what a busy daemon does not take at once is sent again") {
  RunningServer server;
  server.on_core([](auto& shop, auto&) { shop.refuse(503); });
  const std::jthread free_again([&] {
    std::this_thread::sleep_for(std::chrono::milliseconds{500});
    server.on_core([](auto& shop, auto&) { shop.refuse(0); });
  });
  CHECK(run_against(server, "note late -v 'White van'").code == 0);
}

TEST_CASE("exit 1 with the daemon's reason, exit 2 with what there is") {
  RunningServer server;
  const auto which = run_against(server, "wrap boot");
  CHECK(which.code == 2);
  CHECK(has(which, "no piece \"boot\" is laid. Laid now:"));
  CHECK(has(run_against(server, "inspect bonnet edge moist -v 'Grey estate'"), "\"moist\" is no finding"));
  const auto early = run_against(server, "vehicle release 'Grey estate'");
  CHECK(early.code == 2);
  CHECK(has(early, "Grey estate is not release-ready by the estimate"));
  CHECK(run_against(server, "vehicle release 'Grey estate' --advised 'bumper still moist'").code == 0);
  server.on_core([](auto& shop, auto&) { shop.refuse(503); });
  const auto refused = run_against(server, "note late -v 'White van'");
  CHECK(refused.code == 1);
  CHECK(refused.out.starts_with("dryclock: "));
  CHECK_FALSE(has(refused, "Noted"));
  CHECK(run_against(server, "air nowhere").code == 1);
}
