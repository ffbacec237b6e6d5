#include "cli/show.hpp"

#include <doctest/doctest.h>

#include "cli/some_board.hpp"

using namespace dryclock;
using dryclock::test::has;

TEST_CASE("the board in local time: done, ready, likely, and what holds back") {
  const auto text = cli::show_board(test::some_board(), "Demo shop", test::some_words());
  CAPTURE(text);
  CHECK(has(text, "Demo shop, Sun 07:40\n"));
  CHECK(has(text, "front:  air 18.4 °C  61 %RH  dew point 10.7 °C  pace 0.72  (Sun 07:39)\n"));
  CHECK(has(text, "demo-1 (vehicle 3), bay front\n"));
  CHECK(has(text, "hand-over agreed   Sun 17:00, ready by then: 87 %\n"));
  CHECK(has(
      text,
      "may leave          Sun 16:10; likely Sun 11:30 (Sun 09:00 to beyond the outlook); now under 1 %\n"));
  CHECK(has(text, "full strength      Wed 12:00; no wash and no pressure until then\n"));
  CHECK(
      has(text,
          "12  bonnet            Sat 15:20  done       READY      Sun 13:20 (likely Sun 10:10)  under 1 %"));
  CHECK(has(text,
            "warning  Sun 04:00  Front is at 9.8 °C and has been below 12 °C for 2 h.  [bay-cold/front]\n"));
  CHECK(has(text, "Look at the heater"));
  CHECK_FALSE(has(text, "demo-0"));  // has left
  CHECK_FALSE(has(text, "mirror"));  // was pulled
}

TEST_CASE("American words and Fahrenheit") {
  const auto text = cli::show_board(test::some_board(), "",
                                    test::some_words(Language::english_us, TemperatureScale::fahrenheit));
  CAPTURE(text);
  CHECK(has(text, "hood"));
  CHECK(has(text, "air 65.1 °F"));
  CHECK(has(text, "Front is at 49.6 °F and has been below 53.6 °F for 2 h."));
  CHECK(text.starts_with("Sun 7:40"));  // of twelve hours
}

TEST_CASE("the board in German: every column below its head, decimal commas, the catalogue's panels") {
  const auto text = cli::show_board(test::some_board(), "Demo", test::some_words(Language::german));
  CAPTURE(text);
  CHECK(text.starts_with("Demo, So"));
  CHECK(has(text, "front:  Luft 18,4 °C  61 % r. F.  Taupunkt 10,7 °C  Trocknungstempo 0,72  (So"));
  CHECK(has(text, "demo-1 (Fahrzeug 3), Box front\n"));
  CHECK(has(text, "  Übergabe vereinbart   So"));
  CHECK(has(text, "bis dahin bereit: 87 %\n"));
  CHECK(has(text, "  zurückgehalten durch  keine Folie verlegt\n"));
  CHECK(
      has(text,
          "  #   Stück                verlegt    umlegen    schneiden  anbauen                               "
          "Übergabe   zurückgehalten durch\n"));
  CHECK(
      has(text,
          "  12  Motorhaube           Sa. 15:20  erledigt   BEREIT     So. 13:20 (wahrscheinlich So. 10:10)  "
          "unter 1 %  "));
  CHECK(has(text, "  13  Stoßfänger vorn 1/2  Sa. 15:20  unter 1 %"));
  CHECK(has(text, "volle Festigkeit      Mi. 12:00; bis dahin nicht waschen und nicht drücken\n"));
  CHECK(has(text,
            "\nMeldungen\nWarnung  So. 04:00  Front hat 9,8 °C und liegt seit 2 h unter 12 °C.  "
            "[bay-cold/front]\n"));
  CHECK(has(text, "         Nach der Heizung sehen, Tore schließen."));
}

TEST_CASE("a time that its weekday alone would not tell stands with its date") {
  auto board = test::some_board();
  const auto words = test::some_words();
  board.vehicles[0].hand_over = test::at("2026-03-15T16:00:00Z");  // the Sunday after the next
  board.vehicles[0].pieces[0].laid = test::at("2026-02-21T14:20:00Z");
  const auto text = cli::show_board(board, "", words);
  CAPTURE(text);
  CHECK(has(text, "hand-over agreed   Sun 15 Mar 17:00, ready by then: 87 %\n"));
  CHECK(has(text, "12  bonnet            Sat 21 Feb 15:20  done"));
  CHECK(has(text, "13  front bumper 1/2  Sat 15:20         under 1 %"));
  CHECK(has(cli::show_vehicle(board.vehicles[0], board.now, words), "laid Sat 21 Feb 15:20\n"));
  const auto later = test::at("2026-11-01T12:00:00Z");
  CHECK(has(cli::show_alerts(board.alerts, later, words), "warning  Sun 1 Mar 04:00  Front is"));
  const AirPoint point{test::at("2026-03-01T06:40:00Z"), 18.4, 61.0, 17.0, 0.1, 0.72, false, 10.7};
  CHECK(has(cli::show_air({point}, later, words), "\nSun 1 Mar 07:40  18.4 °C"));
  CHECK(has(cli::show_air({point}, board.now, words), "\nSun 07:40  18.4 °C"));
}

TEST_CASE("an hour to come has its bands, and what may have to be minded") {
  AirHourAhead hour{.at = test::at("2026-03-01T07:00:00Z"),
                    .air_c = {9.0, 10.5, 12.0},
                    .rh_pct = {60.0, 66.0, 71.0},
                    .pace = {0.2, 0.25, 0.3}};
  hour.cold = 0.4;
  hour.dew = 0.05;
  const auto shown = cli::show_air_ahead({hour}, test::some_board().now, test::some_words());
  CAPTURE(shown);
  CHECK(has(shown, "10.5 °C (9 °C to 12 °C)"));
  CHECK(has(shown, "66 % (60 % to 71 %)"));
  CHECK(has(shown, "0.25 (0.20 to 0.30)"));
  CHECK(has(shown, "too cold: 40 %"));
  CHECK_FALSE(has(shown, "dew"));
  CHECK_FALSE(has(shown, "damp"));
  CHECK(has(cli::show_air_ahead({}, test::some_board().now, test::some_words()),
            "Nothing measures the air there."));
}

TEST_CASE("a chance is told where there is an estimate that is still to come true") {
  auto board = test::some_board();
  auto& vehicle = board.vehicles[0];
  const auto shown = [&] { return cli::show_vehicle(vehicle, board.now, test::some_words()); };
  CHECK(has(shown(), "  hand-over agreed   Sun 17:00, ready by then: 87 %\n  may leave "));
  const auto before = vehicle;
  vehicle.release_ready = test::at("2026-03-01T05:00:00Z");
  CHECK(has(shown(), "  hand-over agreed   Sun 17:00\n  MAY LEAVE          since Sun 06:00\n"));
  vehicle.released = test::at("2026-03-01T06:00:00Z");
  CHECK(has(shown(), "  hand-over agreed   Sun 17:00\n  released           2026-03-01 07:00\n"));
  vehicle = before;
  vehicle.hand_over_probability.reset();  // no forecast
  CHECK(has(shown(), "  hand-over agreed   Sun 17:00\n  may leave "));
  vehicle.full_strength.reset();
  vehicle.release_expected = {};
  for (auto& piece : vehicle.pieces) {
    piece.state.zones.clear();  // no readings since it was laid
  }
  CHECK(has(shown(), "  hand-over agreed   Sun 17:00\n  held back by       no film is laid\n"));
  vehicle.pieces.clear();
  CHECK(has(shown(), "  hand-over agreed   Sun 17:00\n"));
  CHECK_FALSE(has(shown(), "held back by"));
}

TEST_CASE("one vehicle in German") {
  auto board = test::some_board();
  board.vehicles[0].to_lay = {{{"mirror", 1, 1}, {}, 0.4}};
  board.vehicles[0].pieces[0].state.validity = models::condensing;
  const auto text = cli::show_vehicle(board.vehicles[0], board.now, test::some_words(Language::german));
  CAPTURE(text);
  CHECK(has(
      text,
      "  noch zu verlegen: mirror (zu spät: mit 40 % Wahrscheinlichkeit rechtzeitig bereit)\n"));  // no word
                                                                                                   // of its
                                                                                                   // own
  CHECK(has(text,
            "Motorhaube (Stück 12), 150 µm, mit Deckschicht, Gleitlösung: Wasser, wie üblich, verlegt Sa. "
            "15:20\n"));
  CHECK(has(text, "    Kante  0,4 (0,1 bis 1,5)  12 (2 bis 30)"));
  CHECK(has(text, "vorzeitig: Kanten umgelegt bei 40 % (Ereignis 44), noch nass: Kante 0,4"));
  CHECK(has(text, "Achtung: Wasser schlägt sich nieder\n"));
  CHECK(has(text, "abgezogen Sa. 16:00"));
}

TEST_CASE("what is agreed or planned no longer is listed as that") {
  const auto listed = [](EventDetail detail, Language language) {
    Event event;
    event.detail = std::move(detail);
    return cli::show_events({event}, test::some_words(language));
  };
  const PlannedPiece mirror{"mirror", 1, 1};
  CHECK(has(listed(HandOverAgreed{3, test::at("2026-03-02T05:00:00Z")}, Language::german),
            "  Übergabe vereinbart  "));
  CHECK(has(listed(HandOverAgreed{3, {}}, Language::german), "  keine Übergabe vereinbart  "));
  CHECK(has(listed(HandOverAgreed{3, {}}, Language::english_uk), "  no hand-over  "));
  CHECK(has(listed(Planned{3, {mirror}}, Language::german), "  geplant  "));
  CHECK(has(listed(Planned{3, {}}, Language::german), "  nichts geplant  "));
  CHECK(has(listed(Planned{3, {}}, Language::english_uk), "  nothing planned  "));
}

TEST_CASE("alerts in German: over, seen, none") {
  auto alerts = test::some_board().alerts;
  const auto now = test::some_board().now;
  const auto german = test::some_words(Language::german);
  alerts[0].acknowledged = test::at("2026-03-01T05:00:00Z");
  CHECK(has(cli::show_alerts(alerts, now, german), "[bay-cold/front] gesehen\n"));
  alerts[0].cleared = test::at("2026-03-01T06:00:00Z");
  alerts[0].level = AlertLevel::news;
  const auto over = cli::show_alerts(alerts, now, german);
  CHECK(over.starts_with("Hinweis  So. 04:00  Front hat"));
  CHECK(over.ends_with("[bay-cold/front] vorbei So. 07:00\n"));
  CHECK(cli::show_alerts({}, now, german) == "Keine Meldung.\n");
}

TEST_CASE("one vehicle with its zones, early steps and ended pieces") {
  const auto board = test::some_board();
  const auto text = cli::show_vehicle(board.vehicles[0], board.now, test::some_words());
  CAPTURE(text);
  CHECK(has(text, "bonnet (piece 12), 150 µm, with topcoat, Slip: water, as usual, laid Sat 15:20"));
  CHECK(has(text, "edge  0.4 (0.1 to 1.5)"));
  CHECK(has(text, "done early: edges wrapped at 40 % (event 44), still wet: edge 0.4 g/m² (up to 1.5 g/m²)"));
  CHECK(has(text, "mirror (piece 10)"));
  CHECK(has(text, "removed Sat 16:00"));
}

TEST_CASE("an empty shop says so") {
  Board board;
  board.now = test::at("2026-03-01T06:40:00Z");
  CHECK(has(cli::show_board(board, "Demo shop", test::some_words()), "No vehicle in the shop."));
  CHECK(cli::show_alerts({}, board.now, test::some_words()) == "No alert.\n");
  CHECK(cli::show_vehicles(board, test::some_words()) == "No vehicle yet.\n");
}

TEST_CASE("the state of the daemon: what was not believed is counted, what never happened is not told") {
  auto board = test::some_board();
  board.counters.messages = 12;
  board.counters.rejects[static_cast<std::size_t>(RejectReason::not_json)] = 3;
  board.counters.rejects[static_cast<std::size_t>(RejectReason::unknown_topic)] = 1;
  Health health;
  const auto text = cli::show_status(health, board, test::some_words());
  CAPTURE(text);
  CHECK(has(text, "not readings: 1 on no known topic, 3 no JSON\n"));
  CHECK_FALSE(has(text, "without a readable time"));
  CHECK(has(text, "12 messages, 1,234 readings, 0 events since the start\n"));
  board.counters.verdict[static_cast<std::size_t>(Verdict::stuck)] = 12;
  const auto german = cli::show_status(health, board, test::some_words(Language::german));
  CAPTURE(german);
  CHECK(has(german, "keine Messwerte: unter keinem bekannten Topic (1), kein JSON (3)\n"));
  CHECK(has(german, "Messwerte: hängen geblieben (12)\n"));
}

TEST_CASE("the daemon's parts are named in the reader's language, one of a later daemon by its own name") {
  Health health;
  health.parts = {{"database", true, {"health.keeps"}}, {"moon", false, {"", {}, "It is full."}}};
  health.space = Space{.database_bytes = 5'000'000, .seal_bytes = 0, .free_bytes = 3'000'000'000};
  const auto text = cli::show_status(health, test::some_board(), test::some_words(Language::german));
  CAPTURE(text);
  CHECK(has(text, "  Datenbank  ok   bewahrt auf, was kommt\n"));
  CHECK(has(text, "  moon       GESTÖRT  It is full.\n"));
  CHECK(has(text, "Datenbank 5,0 MB, Siegel 0,0 MB, 3,0 GB frei;"));
}

TEST_CASE("what is still to lay stands with the vehicle") {
  auto board = test::some_board();
  board.vehicles[0].to_lay = {{{"bonnet", 2, 2}, test::at("2026-03-20T12:00:00Z"), 0.97},
                              {{"sill", 1, 1}, {}, 0.4},
                              {{"tow bar cover", 1, 1}, {}, {}}};
  for (const auto& text : {cli::show_board(board, "Demo shop", test::some_words()),
                           cli::show_vehicle(board.vehicles[0], board.now, test::some_words())}) {
    CAPTURE(text);
    CHECK(has(text,
              "  still to lay: bonnet 2/2 (by Fri 20 Mar 13:00), sill (late: 40 % to be ready in time), tow "
              "bar cover\n"));
  }
}

TEST_CASE("vehicles that have left: not due, due, overdue, done") {
  const auto now = test::at("2026-03-20T12:00:00Z");
  const auto left = [&](VehicleId id, const char* reference, int days) {
    HandedOver vehicle;
    vehicle.vehicle = id;
    vehicle.reference = reference;
    vehicle.released = now - std::chrono::hours{24 * days};
    vehicle.recheck_from = vehicle.released + std::chrono::hours{24 * 14};
    vehicle.recheck_until = vehicle.released + std::chrono::hours{24 * 21};
    vehicle.pieces = {{id + 1, "bonnet", 1, 1, {}, {}}, {id + 2, "mirror", 1, 1, {}, {}}};
    return vehicle;
  };
  std::vector vehicles{left(10, "new", 3), left(20, "due", 15), left(30, "late", 30), left(40, "done", 16)};
  vehicles[1].pieces[0].rechecked = now;
  for (auto& piece : vehicles[3].pieces) {
    piece.rechecked = now;
  }
  const auto text = cli::show_handed_over(vehicles, now, test::some_words());
  CAPTURE(text);
  CHECK(has(text, "10  new        2026-03-17 13:00  2026-03-31    2026-04-07  not due yet"));
  CHECK(has(text, "2026-03-19    2026-03-26  RECHECK DUE, 1 of 2 pieces done"));
  CHECK(has(text, "recheck overdue"));
  CHECK(has(text, "  rechecked\n"));
  CHECK(cli::show_handed_over({}, now, test::some_words()) ==
        "No vehicle was handed over in the last 60 days.\n");
}

TEST_CASE("what is gone from catalogue and settings is said to be gone") {
  auto board = test::some_board();
  board.vehicles[0].pieces[0].gone = {CatalogueKind::panel, CatalogueKind::film};
  board.bays[0].gone = true;
  const auto text = cli::show_vehicle(board.vehicles[0], board.now, test::some_words());
  CAPTURE(text);
  CHECK(has(text,
            "onnet (no longer in the catalogue) (piece 12), 150 µm, with topcoat (no longer in the "
            "catalogue), Slip: water,"));
  CHECK(has(cli::show_board(board, "Demo shop", test::some_words()),
            board.bays[0].name + " (no longer in the settings):"));
}

TEST_CASE("a step that was ready, and that the estimate has become less sure of, says so") {
  auto board = test::some_board();
  auto& trim = test::milestone(board.vehicles[0].pieces[0], models::Milestone::trim_ready);
  trim.probability = 0.72;
  CHECK(has(cli::show_board(board, "Demo shop", test::some_words()), "READY, now 72 %  Sun 13:20"));
  trim.by_word = true;  // it does not rest on the estimate
  const auto text = cli::show_board(board, "Demo shop", test::some_words());
  CHECK(has(text, "READY as seen"));
  CHECK_FALSE(has(text, "72 %"));
  CHECK(has(cli::show_vehicle(board.vehicles[0], board.now, test::some_words()),
            "READY by your word since Sun 07:10"));
}

TEST_CASE("what is worth a look is called that, and not ready; the vehicle says at which pieces") {
  auto board = test::some_board();
  auto& vehicle = board.vehicles[0];
  auto& wrap = test::milestone(vehicle.pieces[1], models::Milestone::wrap_ready);
  wrap.look = test::at("2026-03-01T05:30:00Z");
  wrap.probability = 0.64;
  const auto words = test::some_words();
  const auto text = cli::show_board(board, "Demo shop", words);
  CAPTURE(text);
  CHECK(has(text, "worth a look       front bumper 1/2 (wrap)\n"));
  CHECK(has(text, "13  front bumper 1/2  Sat 15:20  LOOK, 64 %"));
  CHECK_FALSE(has(text, "READY  LOOK"));
  CHECK(has(cli::show_vehicle(vehicle, board.now, words), "WORTH A LOOK since Sun 06:30"));
  CHECK(has(cli::show_board(board, "", test::some_words(Language::german)),
            "ansehen lohnt bei     Stoßfänger vorn 1/2 (umlegen)\n"));
  // Once it is wrapped there is nothing to look for; once it is ready neither.
  vehicle.pieces[1].wrapped = board.now;
  CHECK_FALSE(has(cli::show_board(board, "", words), "worth a look"));
  vehicle.pieces[1].wrapped.reset();
  wrap.announced = board.now;
  CHECK_FALSE(has(cli::show_board(board, "", words), "worth a look"));
  vehicle.release_look = test::at("2026-03-01T05:30:00Z");
  CHECK(has(cli::show_board(board, "", words), "  WORTH A LOOK       since Sun 06:30\n"));
  CHECK(has(cli::show_vehicles(board, words), "worth a look"));
}

TEST_CASE("a step that is not needed is not waited for") {
  auto board = test::some_board();
  auto& vehicle = board.vehicles[0];
  auto& refit = test::milestone(vehicle.pieces[0], models::Milestone::refit_ready);
  const auto words = test::some_words();
  CHECK(has(cli::show_board(board, "", words), "edge: "));  // holds the refitting back
  refit.needed = false;
  const auto text = cli::show_board(board, "", words);
  CAPTURE(text);
  CHECK(has(text, "READY      not needed  under 1 %"));
  CHECK_FALSE(has(text, "edge: "));
  const auto whole = cli::show_vehicle(vehicle, board.now, words);
  const auto shown = whole.substr(0, whole.find("front bumper"));  // the first piece
  CAPTURE(shown);
  CHECK(has(shown, "    not needed: refit-ready\n"));
  CHECK_FALSE(has(shown, "    refit-ready "));
  vehicle.pieces[0].refitted = test::at("2026-03-01T06:00:00Z");  // it was done all the same
  CHECK(has(cli::show_vehicle(vehicle, board.now, words), "done Sun 07:00"));
}

TEST_CASE("a piece without an estimate has no figures") {
  auto board = test::some_board();
  auto& piece = board.vehicles[0].pieces[1];
  piece.state.zones.clear();
  CHECK(has(cli::show_board(board, "", test::some_words()), "13  front bumper 1/2  Sat 15:20  -  "));
  CHECK(has(cli::show_vehicle(board.vehicles[0], board.now, test::some_words()), "    no estimate yet\n"));
}

TEST_CASE("a step before its time is called wet where liquid was likely; else what was wanted") {
  auto board = test::some_board();
  auto& early = board.vehicles[0].pieces[0].early_steps[0];
  const auto shown = [&] { return cli::show_vehicle(board.vehicles[0], board.now, test::some_words()); };
  CHECK(has(shown(), "done early: edges wrapped at 40 % (event 44), still wet: "));
  early.probability = 0.0002;
  early.still_wet = {"limits.no-film"};
  CHECK(has(shown(), "before it was called ready: edges wrapped at under 1 % (event 44): no film is laid\n"));
  CHECK_FALSE(has(shown(), "done early"));
}

TEST_CASE("what the client calls by the word of its value has a message for each of them") {
  const auto words = test::some_words(Language::german);
  const auto are_said = [&](const std::string& beginning, const auto& values) {
    for (const auto value : values) {
      CAPTURE(value);
      CHECK(words.say(beginning + std::string{value}) != beginning + std::string{value});
    }
  };
  are_said("client-board.level-", dryclock::words<AlertLevel>);
  are_said("client-board.milestone-", dryclock::words<models::Milestone>);
  are_said("client-sensors.from-", dryclock::words<SensorOrigin>);
  are_said("client-sensors.verdict-", dryclock::words<models::SensorVerdict>);
  for (const auto& [flag, name] : validity_names) {
    are_said("client.validity-", std::array{name});
  }
}

TEST_CASE("what the rechecks found, in German: each group by its name") {
  RecheckReport report{.vehicles = 1, .pending = 0, .few_below = 10, .groups = {}};
  for (const auto& [by, of] : {std::pair{"all", "all"},
                               {"trim", "0-50 %"},
                               {"trim", "not-trimmed"},
                               {"trim", "entered-later"},
                               {"tension", "not-noted"},
                               {"release", "release-ready"},
                               {"zone", "edge"},
                               {"panel", "bonnet"}}) {
    report.groups.push_back({by, of, 4, 1, 0.05, 0.7, true});
  }
  const auto text = cli::show_rechecks(report, test::some_words(Language::german));
  CAPTURE(text);
  CHECK(text.starts_with("Ein Fahrzeug wurde nachkontrolliert.\n"));
  for (const auto* name :
       {"  alle ", "  geschnitten bei 0-50 % ", "  nicht geschnitten ", "  geschnitten, nachgetragen ",
        "  keine Spannung vermerkt ", "  bereit übergeben ", "  löst sich an: Kante ", "  Motorhaube "}) {
    CAPTURE(name);
    CHECK(has(text, name));
  }
  CHECK(has(text, "1 von 4  25 % (5 bis 70 %)"));
  CHECK(has(text, "zu wenige, um etwas zu sagen"));
}
