// The built program's sensors and coupon commands, against the daemon in the test's process.
#include <doctest/doctest.h>

#include "cli/run_against.hpp"

using dryclock::test::has;
using dryclock::test::run_against;
using dryclock::test::RunningShop;

TEST_CASE("the list tells value, age, what was not believed, and the last check") {
  const RunningShop shop;
  const auto list = run_against(shop, "sensors");
  CAPTURE(list.out);
  CHECK(list.code == 0);
  CHECK(has(list, "front-wall"));
  CHECK(has(list, "17.2 °C"));
  CHECK(has(list, "  0 min  "));
  CHECK(has(list, "2 jumped too far"));
  CHECK(has(list, "never"));
  CHECK(has(run_against(shop, "sensors --json"), R"("from":"file")"));
}

TEST_CASE("a sensor is set up by topic and pointers, exported and retired") {
  const RunningShop shop;
  const auto assigned =
      run_against(shop,
                  "sensors assign loft --bay back --topic loft/air --temperature /t --humidity /h --unit F "
                  "--humidity-unit fraction --place 'under the roof'");
  CAPTURE(assigned.out);
  CHECK(assigned.code == 0);
  CHECK(has(assigned, "loft set up in bay back"));
  const auto text = run_against(shop, "sensors export");
  CAPTURE(text.out);
  CHECK(has(text, "name = \"loft\"\nbay = \"back\"\nplace = \"under the roof\"\n"));
  CHECK(has(text, R"(quantity = "air-temperature", topic = "loft/air", unit = "F", pointer = "/t")"));
  CHECK(
      has(text, R"(quantity = "relative-humidity", topic = "loft/air", unit = "fraction", pointer = "/h")"));
  CHECK(has(run_against(shop, "sensors retire loft"), "loft retired"));
  CHECK_FALSE(has(run_against(shop, "sensors"), "loft"));

  const auto own_topics =
      run_against(shop, "sensors assign loft --bay back --temperature-topic loft/t --humidity-topic loft/h");
  CHECK(own_topics.code == 0);
  CHECK(has(run_against(shop, "sensors export"), R"(topic = "loft/h", unit = "%" })"));

  CHECK(run_against(shop, "sensors assign attic --bay back").code == 2);  // nothing was found
  CHECK(has(run_against(shop, "sensors assign attic --bay back --topic a"), "where in the payload?"));
  CHECK(has(run_against(shop, "sensors assign attic --bay back --temperature /t"), "--topic is missing"));
  CHECK(has(run_against(shop, "sensors assign attic --bay back --topic a --temperature /t --unit X"),
            "no unit"));
}

TEST_CASE("a check is begun, looked at, kept and followed by its correction") {
  RunningShop shop;
  CHECK(has(run_against(shop, "sensors check front-wall"), "has never been checked"));
  CHECK(run_against(shop, "sensors check front-wall --store").code == 1);
  const auto begun = run_against(shop, "sensors check front-wall --salt NaCl");
  CAPTURE(begun.out);
  CHECK(begun.code == 0);
  CHECK(has(begun, "wet sand"));
  CHECK(has(run_against(shop, "sensors"), "in the glass over NaCl"));
  shop.on_core([](auto& whole) { whole.airs_until(whole.now() + std::chrono::hours{8}, 20.0, 80.5); });
  CHECK(has(run_against(shop, "sensors check front-wall"), "--store"));
  CHECK(run_against(shop, "sensors check front-wall --store").code == 0);
  const auto kept = run_against(shop, "sensors check front-wall");
  CAPTURE(kept.out);
  CHECK(has(kept, "it showed 80.5 %RH, 75.5 (k = 2: "));  // NaCl at 20 C: models/SOURCES.md
  CHECK(has(kept, "was expected; off"));
  CHECK(has(kept, "slope 1, offset -"));
  CHECK(has(run_against(shop, "sensors check front-wall --correct"), "with slope 1 and offset -"));
  CHECK(run_against(shop, "sensors check front-wall --correct").code == 1);  // it was taken
  CHECK(has(run_against(shop, "sensors check front-wall --salt sugar"), "There are: LiCl"));
  CHECK(run_against(shop, "sensors check nobody").code == 2);
}

TEST_CASE("a coupon is laid, weighed and stored") {
  RunningShop shop;
  CHECK(has(run_against(shop, "coupon"), "No coupon has been laid"));
  const auto laid = run_against(shop, "coupon lay --film baseline --lot L7 --bay front");
  CAPTURE(laid.out);
  REQUIRE(laid.code == 0);
  const auto number = laid.out.substr(7, laid.out.find(' ', 7) - 7);
  CHECK(run_against(shop, "coupon store " + number).code == 1);  // not weighed yet
  CHECK(has(run_against(shop, "coupon weigh " + number + " 412.35"), "412.35 g"));
  const auto shown = run_against(shop, "coupon");
  CAPTURE(shown.out);
  CHECK(has(shown, "150 µm, with topcoat, lot L7, in front"));
  CHECK(has(shown, "412.35 g"));
  // 0.05 g an hour through 0.09 m2 into air of 21 C and 50 %RH, 1244 Pa below water of that temperature:
  // 1244 Pa 0.09 m2 3600 s / 5e-5 kg is 8.06e9 m2 s Pa/kg.
  for (int hour = 1; hour <= 8; ++hour) {
    shop.on_core([](auto& whole) { whole.airs_until(whole.now() + std::chrono::hours{1}, 21.0, 50.0); });
    run_against(shop, "coupon weigh " + number + " " + std::to_string(412.35 - 0.05 * hour));
  }
  CHECK(run_against(shop, "coupon store " + number).code == 0);
  CHECK(has(run_against(shop, "coupon"), "stored: 8"));
  CHECK(run_against(shop, "coupon store " + number).code == 1);
  CHECK(run_against(shop, "coupon store 999").code == 2);
}

TEST_CASE("a witness plate is laid and seen; without a word it is listed") {
  RunningShop shop;
  CHECK(has(run_against(shop, "plate"), "No witness plate has been laid"));
  const auto laid = run_against(shop, "plate lay --film baseline --lot L7 --bay front --strips edge field");
  CAPTURE(laid.out);
  REQUIRE(laid.code == 0);
  CHECK(has(laid, "tell of the middle one"));
  const std::string before = "Witness plate ";
  const auto number = laid.out.substr(before.size(), laid.out.find(' ', before.size()) - before.size());
  shop.on_core([](auto& whole) { whole.airs_until(whole.now() + std::chrono::hours{2}, 21.0, 50.0); });
  const auto listed = run_against(shop, "plate list");
  CAPTURE(listed.out);
  CHECK(has(listed, "150 µm, with topcoat, lot L7, in front"));
  CHECK(has(listed, "edge: not looked at yet"));
  CHECK(has(listed, "field: "));
  CHECK(has(run_against(shop, "plate seen " + number + " edge half-wet"),
            "Witness plate " + number + ", edge: half wet"));
  CHECK(has(run_against(shop, "plate"), "edge: half wet, "));
  CHECK(has(run_against(shop, "--language de plate"), "Kante: halb nass, "));
  CHECK(run_against(shop, "plate seen " + number + " recess half-wet").code == 1);  // it has none
  CHECK(run_against(shop, "plate seen " + number + " edge soaked").code == 2);
  CHECK(run_against(shop, "plate lay --film baseline --bay front --strips turn").code == 1);
  CHECK(has(run_against(shop, "--json plate"), R"("sign":"half-wet")"));
}

TEST_CASE("strips are laid, pulled and stored") {
  RunningShop shop;
  CHECK(has(run_against(shop, "bond"), "No strips have been laid"));
  const auto laid = run_against(shop, "bond lay --film baseline --lot L7 --bay front");
  CAPTURE(laid.out);
  REQUIRE(laid.code == 0);
  CHECK(has(laid, "after ten minutes, 1, 4 and 24 hours"));
  const auto number = laid.out.substr(12, laid.out.find(' ', 12) - 12);
  CHECK(run_against(shop, "bond store " + number).code == 1);  // none was pulled
  for (const int after : {1, 3, 20, 49}) {
    shop.on_core([&](auto& whole) { whole.airs_until(whole.now() + std::chrono::hours{after}, 21.0, 50.0); });
    CHECK(has(run_against(shop, "bond pull " + number + " 8.5"), "a strip took 8.5"));
  }
  const auto shown = run_against(shop, "bond");
  CAPTURE(shown.out);
  CHECK(has(shown, "lot L7, in front"));
  CHECK(has(shown, "4 strips pulled"));
  CHECK(has(shown, "the bond takes"));
  CHECK(run_against(shop, "bond store " + number).code == 0);
  CHECK(has(run_against(shop, "bond"), "stored. "));
  CHECK(run_against(shop, "bond store " + number).code == 1);
  CHECK(run_against(shop, "bond store 999").code == 2);
}

TEST_CASE("a sensor check in German") {
  RunningShop shop;
  const auto german = [&](const std::string& words) { return run_against(shop, "--language de " + words); };
  CHECK(has(german("sensors check front-wall"), "front-wall wurde noch nie geprüft. Anfangen: dryclock"));
  CHECK(has(german("sensors check front-wall --store"), "front-wall wird gerade nicht geprüft"));
  const auto begun = german("sensors check front-wall --salt NaCl");
  CAPTURE(begun.out);
  CHECK(has(begun, "front-wall kommt über NaCl, "));
  CHECK(has(begun, "wie\n     nasser Sand ist"));
  CHECK(has(begun, "Unterschiede von 0,2 K"));
  CHECK(has(german("sensors"), "im Glas über NaCl"));
  shop.on_core([](auto& whole) { whole.airs_until(whole.now() + std::chrono::hours{8}, 20.0, 80.5); });
  CHECK(has(german("sensors check front-wall"), "zeigt 80,5 % r. F. bei 20 °C."));
  CHECK(has(german("sensors check front-wall --store"),
            "Gezeigt werden 80,5 % r. F., erwartet 75,5: weicht ab"));
  const auto kept = german("sensors check front-wall");
  CAPTURE(kept.out);
  CHECK(has(kept, "Gezeigt wurden 80,5 % r. F., erwartet 75,5 (k = 2: "));  // NaCl at 20 C: models/SOURCES.md
  CHECK(has(kept, "Nächste Prüfung: "));
}
