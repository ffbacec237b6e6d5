// The built program by itself: output, errors and exit codes.
#include <doctest/doctest.h>

#include <sstream>

#include "cli/run_program.hpp"

using dryclock::test::has;
using dryclock::test::run;

// 11.5706 h and 0.6918 g/m2: SUNDIALS CVODE, BDF, rtol 1e-8.
TEST_CASE("the baseline case prints what SUNDIALS CVODE gives [CVODE: BDF, rtol 1e-8]") {
  const auto ran = run("dry config/cases/baseline.toml");
  CAPTURE(ran.out);
  CHECK(ran.code == 0);
  CHECK(has(ran, "liquid gone      11.57 h"));
  CHECK(has(ran, "film then holds  0.691"));
  CHECK(has(ran, "topcoat 10 µm, 5."));
  CHECK(has(ran, " GPa m² s/kg at 21 °C\n"));
}

TEST_CASE("the other examples run, as text, JSON and CSV") {
  CHECK(run("dry config/cases/cold-night.toml").code == 0);
  const auto json = run("dry config/cases/custom-stack.json --json --csv /dev/stderr --every 240");
  CHECK(json.code == 0);
  CHECK(has(json, "{\"title\":"));
  CHECK(has(json, "hours,water_g_m2,"));
}

// ASHRAE Handbook Fundamentals 2017, ch. 1, table 3: 3169.7 Pa at 25 C. Dew point of 25 C, 60 %: 16.70 C
// (IAPWS-95 auxiliary equation, Wagner and Pruss 2002).
TEST_CASE("air on paper [ASHRAE2017: Table 3]") {
  const auto ran = run("air --temp 25 --rh 60");
  CAPTURE(ran.out);
  CHECK(ran.code == 0);
  CHECK(has(ran, "dew point        16.7 °C"));
  CHECK(has(ran, "saturation       3169."));
  CHECK(has(run("air --temp 77F --rh 60"), "dew point        62.1 °F"));  // the same air
  CHECK(has(run("air --temp 21 --rh 50 --panel 5"), "caution          condensing"));
  // Its dew point is lower than any that is worked out: -40 C takes 19 Pa, and it has none.
  CHECK(has(run("air --temp 21 --rh 0"), "caution          air out of range"));
  CHECK_FALSE(has(run("air --temp 21 --rh 5"), "caution"));
}

// The same figures in German: decimal commas.
TEST_CASE("air on paper in the language that is asked for") {
  const auto german = run("air --temp 25 --rh 60 --language de");
  CAPTURE(german.out);
  CHECK(german.code == 0);
  CHECK(has(german, "Taupunkt         16,7 °C"));
  CHECK(has(german, "Trocknungstempo  "));
  CHECK(has(run("air --temp 25 --rh 60 --language en-US"), "vapor pressure   19"));
  CHECK(has(run("air --temp 25 --rh 60"), "vapour pressure  19"));
  CHECK(has(run("air --temp 21 --rh 50 --panel 5 --language de"), "Wasser schlägt sich nieder"));
  CHECK(run("air --temp 25 --rh 60 --json --language de").out == run("air --temp 25 --rh 60 --json").out);
  CHECK(has(run("dry config/cases/baseline.toml --language de"), "Wasser weg       11,57 h"));
}

TEST_CASE(
    "the language by its variable; the option comes first; another one is refused with those there are") {
  const auto with_variable = [](const std::string& language, const std::string& words) {
    return run("--version > /dev/null; export DRYCLOCK_LANGUAGE=" + language + "; '" DRYCLOCK_PROGRAM "' " +
               words);
  };
  CHECK(has(with_variable("de", "air --temp 25 --rh 60"), "Taupunkt"));
  CHECK(has(with_variable("de", "air --temp 25 --rh 60 --language en-GB"), "dew point"));
  const auto variable = with_variable("fr", "air --temp 25 --rh 60");
  CHECK(variable.code == 2);
  CHECK(has(variable, "\"fr\" is no language. There are: en-GB, en-US, de"));
  CHECK(run("air --temp 25 --rh 60 --language deutsch").code == 2);
  CHECK(has(run("--help"), "DRYCLOCK_LANGUAGE"));
}

TEST_CASE("exit 2: what is wrong with the command line") {
  const auto mistyped = run("wrp");
  CHECK(mistyped.code == 2);
  CHECK(has(mistyped, "no command \"wrp\", did you mean \"wrap\"?"));
  CHECK(run("air --temp 21").code == 2);
  CHECK(run("air --temp warm --rh 50").code == 2);
  CHECK(run("air --temp 21 --rh 150").code == 2);
  CHECK(run("air --temp 21 --rh nan").code == 2);
  CHECK(run("dry").code == 2);
  CHECK(run("vehicle").code == 2);
}

TEST_CASE("exit 3: no daemon answers, with the address") {
  // Port 1 is reserved (tcpmux) and nobody listens there.
  const auto ran = run("--url http://127.0.0.1:1 status");
  CHECK(ran.code == 3);
  CHECK(has(ran, "no daemon answers at http://127.0.0.1:1"));
}

TEST_CASE("exit 4: what is wrong with a file, and where") {
  const auto missing = run("dry nowhere.toml");
  CHECK(missing.code == 4);
  CHECK(has(missing, "nowhere.toml: cannot be read: No such file or directory"));
}

TEST_CASE("a case with layers of its own is dried where no catalogue is; one that names a film is not") {
  const auto own = run("--config-dir tests dry config/cases/custom-stack.json");
  CAPTURE(own.out);
  CHECK(own.code == 0);
  CHECK(has(own, "liquid gone"));
  const auto named = run("--config-dir tests dry config/cases/baseline.toml");
  CAPTURE(named.out);
  CHECK(named.code == 4);
  CHECK(has(named, "baseline.toml:"));
  CHECK(has(named, "--config-dir tests: no films.toml in this folder"));
}

TEST_CASE("help names every command and the exit codes; a command's help is its own") {
  const auto help = run("--help");
  CHECK(help.code == 0);
  for (const auto* word :
       {"board", "status", "vehicle",    "lay",        "relay",   "inspect", "wrap",       "trim",  "open",
        "refit", "heat",   "lamp",       "recheck",    "note",    "undo",    "ack",        "plate", "alerts",
        "air",   "dry",    "completion", "not-needed", "learned", "find",    "Exit codes:"}) {
    CAPTURE(word);
    CHECK(has(help, word));
  }
  const auto wrap = run("wrap --help");
  CHECK(wrap.code == 0);
  CHECK_FALSE(has(wrap, "Exit codes:"));
}

TEST_CASE("the man pages: mandoc finds no error, and every command and option of the help is there") {
  CHECK(run("manual | mandoc -T lint -W error").code == 0);
  CHECK(run("--version > /dev/null && mandoc -T lint -W error deploy/man/dryclockd.8").code == 0);
  CHECK(run("--version > /dev/null && deploy/man/toml_page config/dryclock.toml | mandoc -T lint -W error")
            .code == 0);
  const auto page = run("manual | mandoc -T ascii | col -b").out;
  std::istringstream help(run("--help").out);
  int commands = 0;
  for (std::string line; std::getline(help, line);) {
    // "  wrap                  The edges were wrapped": indented by two, and a column of words behind.
    if (line.size() > 30 && line.starts_with("  ") && line[2] != ' ' &&
        line.substr(20, 9).find_last_not_of(' ') == std::string::npos) {
      const auto word = line.substr(2, line.find(' ', 2) - 2);
      CAPTURE(word);
      CHECK(page.find(word) != std::string::npos);
      ++commands;
    }
  }
  CHECK(commands > 20);
  CHECK(page.find("--relief-cuts") != std::string::npos);
  // Every key of the settings file is in its page, as it stands there.
  const auto settings = run("--version > /dev/null && deploy/man/toml_page config/dryclock.toml | mandoc -T "
                            "utf8 -O width=200 | col -b")
                            .out;
  for (const auto* key : {"#slip_margin_min = 15", "url = \"https://push.example/bay\"", "[[bay]]"}) {
    CAPTURE(key);
    CHECK(settings.find(key) != std::string::npos);
  }
}

TEST_CASE("the completion script is sound bash and completes commands and options") {
  const auto complete = [](const std::string& words, int last) {
    return run("completion bash > /dev/null && bash -c 'source <(\"" DRYCLOCK_PROGRAM
               "\" completion bash) && COMP_WORDS=(\"" DRYCLOCK_PROGRAM "\" " +
               words + ") COMP_CWORD=" + std::to_string(last) + " && _dryclock && echo \"${COMPREPLY[@]}\"'");
  };
  CHECK(complete("wr", 1).out == "wrap\n");
  CHECK(has(complete("vehicle re", 2), "release"));
  CHECK(has(complete("lay bonnet --we", 3), "--wetness"));
  CHECK(has(complete("wrap bonnet --js", 3), "--json"));
  CHECK(has(complete("wrap bonnet --la", 3), "--language"));
  CHECK(complete("lay bonnet --wetness po", 4).out == "pooled\n");
  CHECK(has(run("completion zsh"), "#compdef dryclock"));
  CHECK(has(run("completion fish"), "complete -c dryclock"));
  CHECK(run("completion tcsh").code == 2);
}
