// Whether the pages for people show the figures of the machine files, read back by pdftotext (Poppler).
// Figures of the series (a row a minute) stand there as lowest, mean, highest and count, or as first and
// last.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <regex>
#include <set>
#include <sstream>

#include "record/machine_files.hpp"
#include "record/pdf.hpp"
#include "record/shop_story.hpp"
#include "support/csv.hpp"

namespace dryclock::record {
namespace {

using Row = std::map<std::string, std::string>;

std::string file(const std::string& name) {
  for (const auto& one : machine_files(eventful_record())) {
    if (one.name == name) {
      return one.bytes;
    }
  }
  FAIL(name);
  return {};
}

std::vector<Row> rows(const std::string& name) {
  std::istringstream text(file(name));
  std::string line;
  std::getline(text, line);
  const auto head = test::cells_of(line);
  std::vector<Row> out;
  while (std::getline(text, line)) {
    const auto cells = test::cells_of(line);
    REQUIRE(cells.size() == head.size());
    Row row;
    for (std::size_t i = 0; i < head.size(); ++i) {
      row[head[i]] = cells[i];
    }
    out.push_back(std::move(row));
  }
  REQUIRE_FALSE(out.empty());
  return out;
}

// The pages, cell by cell as they were drawn, on both papers.
class Pages {
 public:
  Pages() {
    for (const Paper paper : {Paper::a4, Paper::letter}) {
      const test::ScratchFolder folder;
      write_file(folder / "it.pdf", pdf(eventful_record(), paper).value());
      texts_.push_back(squeezed(output_of({"pdftotext", "-raw", folder / "it.pdf", "-"})));
    }
  }
  [[nodiscard]] bool show(const std::string& words) const {
    const auto wanted = squeezed(words);
    return texts_[0].find(wanted) != std::string::npos && texts_[1].find(wanted) != std::string::npos;
  }

 private:
  std::vector<std::string> texts_;
};

const Pages& pages() {
  static const Pages all;
  return all;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
  return text;
}

// The story plays in London in March, where local time is UTC.
std::string local(const std::string& rfc3339) {
  return rfc3339.substr(0, 10) + " " + rfc3339.substr(11, 5);
}
std::string local_short(const std::string& rfc3339) {
  return local(rfc3339).substr(5);
}
// With the words of enumerations and panels: the files have their keys.
std::string in_words(std::string text) {
  for (const auto& [key, words] :
       {std::pair{"panel bumper:", "panel front bumper:"}, std::pair{"panel lamp:", "panel headlamp:"},
        std::pair{" usual:", " as usual:"}, std::pair{"field usual", "field as usual"},
        std::pair{"edge usual", "edge as usual"}, std::pair{"recess usual", "recess as usual"},
        std::pair{", turn ", ", turned edge "}}) {
    text = replaced(text, key, words);
  }
  return text == "turn" ? "turned edge" : text;
}
// "3e-14" as people print it.
std::string number_in_print(const std::string& text) {
  static const std::regex exponent("^(.*)e([+-])0*([0-9]+)$");
  std::smatch parts;
  if (!std::regex_match(text, parts, exponent)) {
    return text;
  }
  std::string raised = parts[2] == "-" ? "\xE2\x81\xBB" : "";
  for (const char c : parts[3].str()) {
    raised += c == '1'   ? "\xC2\xB9"
              : c == '2' ? "\xC2\xB2"
              : c == '3' ? "\xC2\xB3"
                         : std::string("\xE2\x81") + static_cast<char>('\xB0' + (c - '0'));
  }
  return parts[1].str() + " \xC3\x97 10" + raised;
}
// What is rounded to nothing or to all is told by a bound.
std::string chance_in_print(const std::string& pct) {
  return pct == "0.0" ? "under 0.1 %" : pct == "100.0" ? "over 99.9 %" : pct + " %";
}
std::string fixed_by_c(double value, int decimals) {
  std::array<char, 64> text{};
  std::snprintf(text.data(), text.size(), "%.*f", decimals, value);
  return text.data();
}
std::string fixed_by_c(const std::string& value, int decimals) {
  return fixed_by_c(std::stod(value), decimals);
}

}  // namespace

#define CHECK_SHOWN(words)       \
  do {                           \
    const std::string w = words; \
    CAPTURE(w);                  \
    CHECK(pages().show(w));      \
  } while (false)

TEST_CASE("the pages show every figure of pieces.csv") {
  for (const auto& row : rows("pieces.csv")) {
    CHECK_SHOWN("(piece " + row.at("piece") + ")");
    CHECK_SHOWN(local_short(row.at("at")));
    CHECK_SHOWN(row.at("event"));
    if (!row.at("probability_pct").empty()) {
      const bool kept = !row.at("said").empty();  // this story's journal keeps none
      CHECK_SHOWN((kept ? "est. " : "worked out: ") + chance_in_print(row.at("probability_pct")));
    }
    if (!row.at("announced").empty()) {
      CHECK_SHOWN((row.at("by_word") == "1" ? "ready by your word since" : "ready since") +
                  local_short(row.at("announced")));
    }
    CHECK_SHOWN(row.at("text"));
    CHECK(row.at("language") == (row.at("text").empty() ? "" : "en"));
    CHECK(row.at("again_held_by").empty() == row.at("again_fact").empty());
    CHECK(row.at("again_held_by").find(' ') == std::string::npos);
  }
}

TEST_CASE("the pages show every figure of disclosures.csv") {
  std::map<std::string, int> kinds;
  std::set<std::string> reasons, messages;
  for (const auto& row : rows("disclosures.csv")) {
    const auto& kind = row.at("kind");
    ++kinds[kind];
    CAPTURE(row.at("detail"));
    if (kind == "gap") {
      CHECK_SHOWN(local(row.at("from")));
      CHECK_SHOWN(local(row.at("to")));
      CHECK_SHOWN(row.at("detail"));
    } else if (kind == "clock-step") {
      CHECK_SHOWN(local(row.at("from")));
      CHECK_SHOWN(row.at("detail"));
    } else if (kind == "not-used") {
      CHECK_SHOWN(row.at("count") + " " + row.at("detail"));
    } else if (kind == "rejected") {
      // Of each kind the first stands there in full; one message may fail for several quantities.
      const auto why = row.at("detail").substr(0, row.at("detail").find(": "));
      if (reasons.insert(why).second) {
        CHECK_SHOWN(local(row.at("from")) + " on topic " + row.at("subject"));
        CHECK_SHOWN(row.at("detail").substr(why.size() + 2));
      }
      messages.insert(row.at("from") + row.at("subject"));
    } else if (kind == "settings-assumed") {
      const auto& detail = row.at("detail");
      CHECK_SHOWN("Settings " + detail.substr(0, detail.find(" they stood")) + " are assumed");
      CHECK_SHOWN(local(row.at("to")) + ", are taken to have held");
    } else {
      CHECK(kind == "start");
    }
  }
  CHECK_SHOWN("could not be read: " + std::to_string(messages.size()) + ".");
  CHECK(kinds["gap"] > 0);
  CHECK(kinds["clock-step"] > 0);
  CHECK(kinds["not-used"] > 0);
  CHECK(kinds["rejected"] > 0);
  CHECK(kinds["settings-assumed"] == 1);
}

TEST_CASE("the pages show every figure of sensors.csv") {
  for (const auto& row : rows("sensors.csv")) {
    for (const auto* name : {"sensor", "bay", "topic", "pointer", "slope", "offset", "model", "place"}) {
      CHECK_SHOWN(row.at(name));
    }
    CHECK_SHOWN(replaced(row.at("quantity"), "-", " "));
    REQUIRE_FALSE(row.at("checked").empty());
    CHECK_SHOWN(local(row.at("checked")));
    const auto tenths = [&](const char* column) { return replaced(fixed_by_c(row.at(column), 1), ".0", ""); };
    CHECK_SHOWN(row.at("verdict") + ": showed " + tenths("shown_pct") + " %RH over " + row.at("salt") +
                " at " + tenths("temperature_c") + " °C, where " + tenths("expected_pct") +
                " %RH is expected");
  }
}

TEST_CASE("the pages show every figure of parameters.json, beside its name and source") {
  const test::ScratchFolder folder;
  write_file(folder / "parameters.json", file("parameters.json"));
  // Python's own JSON reader; numbers as they stand in the file.
  std::istringstream all(output_of({"python3", "-c",
                                    "import json,sys\n"
                                    "j = json.load(open(sys.argv[1]), parse_float=str, parse_int=str)\n"
                                    "for p in j['parameters']:\n"
                                    "  print(p['name'], p['value'], '' if p['unit'] == '1' else p['unit'], "
                                    "p['source'], sep='\\t')\n"
                                    "print(j['first_row'], 'to', j['last_row'], '', sep='\\t')\n",
                                    folder / "parameters.json"}));
  int seen = 0;
  for (std::string line; std::getline(all, line);) {
    std::istringstream fields(line);
    std::string name, value, unit, source;
    std::getline(fields, name, '\t');
    std::getline(fields, value, '\t');
    std::getline(fields, unit, '\t');
    std::getline(fields, source);
    CHECK_SHOWN(in_words(name) + number_in_print(value) + " " + unit + source);
    ++seen;
  }
  CHECK(seen > 30);
}

TEST_CASE("the pages show every number and time of events.ndjson") {
  const test::ScratchFolder folder;
  write_file(folder / "events.ndjson", file("events.ndjson"));
  // Times as "T...", numbers as they stand.
  std::istringstream all(
      output_of({"python3", "-c",
                 "import json,sys\n"
                 "def walk(x, name):\n"
                 "  if isinstance(x, dict):\n"
                 "    for k, v in x.items(): walk(v, k)\n"
                 "  elif isinstance(x, list):\n"
                 "    for v in x: walk(v, name)\n"
                 "  elif name in ('at', 'entered', 'hand_over'): print(name, 'T' + str(x))\n"
                 "  elif not isinstance(x, bool) and isinstance(x, (int, float)): print(name, x)\n"
                 "for line in open(sys.argv[1]): walk(json.loads(line), '')\n",
                 folder / "events.ndjson"}));
  int seen = 0;
  for (std::string name, value; all >> name >> value; ++seen) {
    CAPTURE(name);
    CHECK_SHOWN(value.front() == 'T' ? local(value.substr(1)) : value);
  }
  CHECK(seen > 40);
}

TEST_CASE("the pages show lowest, mean, highest and count of every column of air.csv") {
  const auto air = rows("air.csv");
  const std::map<std::string, std::pair<std::string, int>> columns{{"air_c",
                                                                    {"air temperature [\xC2\xB0"
                                                                     "C]",
                                                                     1}},
                                                                   {"rh_pct", {"relative humidity [%RH]", 1}},
                                                                   {"dew_point_c",
                                                                    {"dew point [\xC2\xB0"
                                                                     "C]",
                                                                     1}},
                                                                   {"panel_c",
                                                                    {"panel temperature, measured [\xC2\xB0"
                                                                     "C]",
                                                                     1}},
                                                                   {"pace", {"pace", 2}}};
  int shown = 0;
  for (const auto& [name, words] : columns) {
    double low = HUGE_VAL, high = -HUGE_VAL, sum = 0.0;
    int count = 0;
    for (const auto& row : air) {
      if (!row.at(name).empty()) {
        const double value = std::stod(row.at(name));
        low = std::min(low, value);
        high = std::max(high, value);
        sum += value;
        ++count;
      }
    }
    if (count > 0) {
      const int d = words.second;
      CHECK_SHOWN(words.first + fixed_by_c(low, d) + fixed_by_c(sum / count, d) + fixed_by_c(high, d) +
                  std::to_string(count));
      ++shown;
    }
  }
  CHECK(shown >= 4);
  const auto bridged = std::ranges::count_if(air, [](const auto& row) { return row.at("bridged") == "1"; });
  REQUIRE(bridged > 0);
  CHECK_SHOWN(std::to_string(bridged) + " of these minutes had no readings");
}

TEST_CASE("the pages show how many readings each sensor gave, by verdict") {
  std::map<std::string, std::map<std::string, int>> counts;
  for (const auto& row : rows("readings.csv")) {
    ++counts[row.at("sensor") + replaced(row.at("quantity"), "-", " ")][row.at("verdict")];
  }
  for (const auto& [sensor, verdicts] : counts) {
    int all = 0;
    for (const auto& [verdict, count] : verdicts) {
      all += count;
    }
    CHECK_SHOWN(sensor + std::to_string(all) + std::to_string(verdicts.at("ok")));
  }
  CHECK(counts.size() == 2);
}

TEST_CASE("the pages show each zone's first and last water, bond and excess of water.csv") {
  std::map<std::string, std::pair<Row, Row>> zones;
  for (const auto& row : rows("water.csv")) {
    auto& [first, last] = zones[row.at("piece") + " " + row.at("zone")];
    if (first.empty()) {
      first = row;
    }
    last = row;
  }
  CHECK(zones.size() >= 6);
  for (const auto& [zone, ends] : zones) {
    const auto& [first, last] = ends;
    const auto spread = [](const Row& row, const std::string& what) {
      return fixed_by_c(row.at(what + "_likely"), 2) + " (" + fixed_by_c(row.at(what + "_low"), 2) + " to " +
             fixed_by_c(row.at(what + "_high"), 2) + ")";
    };
    CHECK_SHOWN("(" + first.at("piece") + ")" + in_words(first.at("zone")) + spread(first, "water") +
                local_short(last.at("at")) + spread(last, "water") +
                fixed_by_c(100.0 * std::stod(last.at("wet_likely")), 1) +
                fixed_by_c(100.0 * std::stod(last.at("excess_likely")), 1) + spread(last, "bond"));
  }
}

// What a coupon has measured counts in place of the catalogue, for that lot alone, and the record says so.
TEST_CASE("the pages tell the resistance that was measured, with its uncertainty") {
  const auto& record = eventful_record();
  const auto source = "coupon " + std::to_string(eventful().coupon) + ", 9 weighings; told in row " +
                      std::to_string(eventful().film_measured);
  CHECK_SHOWN(
      "film open as measured, lot L-0815: resistance at 21 \xC2\xB0"
      "C" +
      number_in_print("4.321e+09") + "m\xC2\xB2 s Pa/kg" + source);
  CHECK_SHOWN("standard uncertainty of it, relative0.143" + source);
  CHECK_SHOWN("measured: " + number_in_print("4.321e+09") + " m\xC2\xB2 s Pa/kg, \xC2\xB1 14.3 %");
  CHECK_FALSE(pages().show("film open, film: permeability"));  // the catalogue's figure did not count
  CHECK(pages().show("film baseline, film: permeability"));
  // The layers' figures are those of the measured stack: thickness over permeability adds up to it.
  double resistance = 0.0, thickness = 0.0;
  for (const auto& one : record.parameters) {
    if (record.words->fact(one.name).starts_with("film open as measured")) {
      if (one.unit.words == "\xC2\xB5m") {
        thickness = one.value * 1e-6;
      } else if (one.unit.words == "kg/(m s Pa)") {
        resistance += thickness / one.value;
      }
    }
  }
  CHECK(resistance == doctest::Approx(4.321e9).epsilon(1e-5));
}

}  // namespace dryclock::record
