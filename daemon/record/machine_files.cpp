#include "record/machine_files.hpp"

#include <boost/json/serialize.hpp>
#include <cmath>

#include "base/sha256.hpp"
#include "domain/names.hpp"
#include "record/machine_readme.hpp"
#include "record/plain.hpp"
#include "record/text.hpp"
#include "wire/answer_json.hpp"

namespace dryclock::record {
namespace {

std::string when(std::optional<Time> t) {
  return t ? to_rfc3339(*t) : std::string{};
}

// One line of comma-separated fields.
class CsvLine {
 public:
  explicit CsvLine(std::string& out) : out_(out) {}
  CsvLine(const CsvLine&) = delete;
  CsvLine& operator=(const CsvLine&) = delete;
  ~CsvLine() { out_ += '\n'; }

  CsvLine& text(std::string_view field) {
    if (!first_) {
      out_ += ',';
    }
    first_ = false;
    out_ += csv_field(field);
    return *this;
  }
  CsvLine& value(double field) { return text(number(field)); }
  CsvLine& count(std::int64_t field) { return text(std::to_string(field)); }
  void empty(int fields) {
    for (int i = 0; i < fields; ++i) {
      text("");
    }
  }

 private:
  std::string& out_;
  bool first_ = true;
};

// In which language a sentence stands: in English, or in the shop's as it was when the sentence was said.
constexpr std::string_view english = "en", of_shop = "shop";

// The last two columns: words, which nothing should be read from, and their language.
void sentence(CsvLine& line, const std::string& words, std::string_view language) {
  line.text(words).text(words.empty() ? "" : language);
}

// Without words; empty: there is none.
std::string json_of(Fact fact) {
  fact.words.clear();
  return fact.key.empty() ? std::string{} : wire::to_json(fact);
}

std::string readings(const Record& record) {
  std::string out = "seq,received,at,sensor,bay,quantity,raw,value,verdict\n";
  for (const auto& row : record.readings) {
    const auto& reading = row.screened.reading;
    CsvLine(out)
        .count(row.screened.seq)
        .text(to_rfc3339(row.received))
        .text(to_rfc3339(reading.at))
        .text(reading.sensor)
        .text(reading.bay)
        .text(name_of(reading.quantity))
        .value(reading.raw)
        .value(reading.value)
        .text(name_of(row.screened.verdict));
  }
  return out;
}

std::string events(const Record& record) {
  std::string out;
  for (const auto& entry : record.events) {
    out += entry.json + '\n';
  }
  return out;
}

std::string air(const Record& record) {
  std::string out = "at,bay,air_c,rh_pct,panel_c,dew_point_c,air_speed_m_s,pace,bridged\n";
  for (const auto& [stay, points] : record.air) {
    for (const auto& point : points) {
      CsvLine(out)
          .text(to_rfc3339(point.at))
          .text(stay.bay)
          .value(point.air_c)
          .value(point.rh_pct)
          .value(point.panel_c)
          .value(point.dew_point_c)
          .value(point.air_speed)
          .value(point.pace)
          .count(point.bridged ? 1 : 0);
    }
  }
  return out;
}

std::string water(const Record& record) {
  std::string out =
      "at,piece,zone,water_low,water_likely,water_high,excess_likely,bond_low,bond_likely,bond_high,"
      "wet_low,wet_likely,wet_high\n";
  for (const auto& piece : record.pieces) {
    for (const auto& point : piece.history) {
      for (const auto& zone : point.zones) {
        CsvLine(out)
            .text(to_rfc3339(point.at))
            .count(piece.summary.id)
            .text(name_of(zone.kind))
            .value(zone.water.low)
            .value(zone.water.likely)
            .value(zone.water.high)
            .value(zone.excess.likely)
            .value(zone.bond.low)
            .value(zone.bond.likely)
            .value(zone.bond.high)
            .value(zone.wet_share.low)
            .value(zone.wet_share.likely)
            .value(zone.wet_share.high);
      }
    }
  }
  return out;
}

// In percent; empty: none.
std::string pct(const std::optional<double>& share) {
  constexpr double hundred = 100.0;
  return share ? fixed(*share * hundred, 1) : std::string{};
}

std::string pieces(const Record& record, const Plain& plain) {
  std::string out =
      "piece,panel,part,side,place,step,at,event,probability_pct,announced,look,by_word,said,zone,again_pct,"
      "again_announced,again_held_by,again_fact,text,language\n";
  for (const auto& piece : record.pieces) {
    const auto& summary = piece.summary;
    const auto begin = [&](CsvLine& line) -> CsvLine& {
      return line.count(summary.id)
          .text(summary.panel)
          .text(std::to_string(summary.part) + "/" + std::to_string(summary.parts))
          .text(summary.side ? name_of(*summary.side) : "")
          .text(summary.place);
    };
    {
      CsvLine line(out);
      begin(line).text("lay").text(to_rfc3339(summary.laid)).count(summary.id);
      line.empty(12);
    }
    for (const auto& step : piece.steps) {
      CsvLine line(out);
      begin(line)
          .text(step.step)
          .text(to_rfc3339(step.at))
          .count(step.event)
          .text(pct(step.probability))
          .text(when(step.announced))
          .text(when(step.look))
          .count(step.by_word ? 1 : 0)
          .text(when(step.kept))
          .text(step.limiting ? name_of(*step.limiting) : "")
          .text(pct(step.again))
          .text(when(step.again_announced))
          .text(step.again_held_by.key)
          .text(json_of(step.again_held_by));
      // What was wanted is said of a step that was early, here and on the pages.
      const Fact wanted = was_ready(step, record.announce_level) ? Fact{} : step.held_by;
      sentence(line, plain(wanted), wanted.key.empty() ? of_shop : english);
    }
  }
  return out;
}

std::string announcements(const Record& record) {
  std::string out = "row,at,piece,milestone,word,probability_pct,by_word\n";
  for (const auto& said : record.announcements) {
    CsvLine(out)
        .count(said.row)
        .text(to_rfc3339(said.at))
        .text(said.piece == 0 ? "" : std::to_string(said.piece))
        .text(name_of(said.which))
        .text(name_of(said.word))
        .text(pct(said.probability))
        .count(said.by_word ? 1 : 0);
  }
  return out;
}

std::string shown(const Record& record) {
  std::string out;
  for (const auto& row : record.shown) {
    out += "{\"row\":" + std::to_string(row.seq) + ",\"shown\":" + row.json + "}\n";
  }
  return out;
}

std::string alerts(const Record& record) {
  std::string out = "raised,rule,subject,level,seen,cleared,deliveries,text,language\n";
  for (const auto& one : record.alerts) {
    std::string deliveries;
    for (const auto& delivery : one.deliveries) {
      deliveries += (deliveries.empty() ? "" : "; ") + delivery.channel +
                    (delivery.given_up ? " given-up " : " delivered ") + to_rfc3339(delivery.at);
    }
    CsvLine line(out);
    line.text(to_rfc3339(one.raised))
        .text(name_of(one.alert.rule))
        .text(one.alert.subject)
        .text(one.alert.level ? name_of(*one.alert.level) : "")
        .text(when(one.seen))
        .text(when(one.cleared))
        .text(deliveries);
    sentence(line, one.alert.text, of_shop);
  }
  return out;
}

std::string disclosures(const Record& record, const Plain& plain) {
  std::string out = "kind,from,to,subject,count,detail\n";
  for (const auto& gap : record.gaps) {
    CsvLine(out)
        .text("gap")
        .text(to_rfc3339(gap.from))
        .text(to_rfc3339(gap.to))
        .text(gap.bay)
        .text("")
        .text(gap.why == GapWhy::clock_step ? "clock step" : "no readings");
  }
  for (const auto& step : record.clock_steps) {
    CsvLine(out)
        .text("clock-step")
        .text(to_rfc3339(step.at))
        .text("")
        .text("clock")
        .text("")
        .text(plain(step.text));
  }
  for (const auto& start : record.starts) {
    CsvLine(out).text("start").text(to_rfc3339(start.at)).text("").text("program").text("").text(start.text);
  }
  if (record.assumed) {
    CsvLine(out)
        .text("settings-assumed")
        .text(to_rfc3339(record.from))
        .text(to_rfc3339(record.assumed->at))
        .text("settings")
        .text("")
        .text("before row " + std::to_string(record.assumed->row) + " they stood in no row");
  }
  for (const auto& sensor : record.sensors) {
    for (std::size_t v = 1; v < verdicts; ++v) {
      if (sensor.counts[v] > 0) {
        CsvLine(out)
            .text("not-used")
            .text(to_rfc3339(record.from))
            .text(to_rfc3339(record.to))
            .text(sensor.mapping.sensor + " " + std::string{name_of(sensor.mapping.quantity)})
            .count(static_cast<std::int64_t>(sensor.counts[v]))
            .text(name_of(static_cast<Verdict>(v)));
      }
    }
  }
  for (const auto& row : record.rejects) {
    CsvLine(out)
        .text("rejected")
        .text(to_rfc3339(row.received))
        .text("")
        .text(row.topic)
        .text("")
        .text(std::string{name_of(row.reject.why)} + ": " + row.reject.detail);
  }
  return out;
}

void check(CsvLine& line, const SensorChecked& check) {
  line.text(name_of(check.verdict))
      .text(name_of(check.salt))
      .value(check.shown_pct)
      .value(check.temperature_c)
      .value(check.expected_pct)
      .value(check.expected_expanded_pct)
      .value(check.tolerance_pct);
}

std::string sensors(const Record& record) {
  std::string out =
      "sensor,bay,quantity,topic,pointer,unit,slope,offset,model,place,checked,verdict,salt,shown_pct,"
      "temperature_c,expected_pct,expected_expanded_pct,tolerance_pct\n";
  for (const auto& [mapping, counts] : record.sensors) {
    SensorPaper paper;
    for (const auto& one : record.sensor_papers) {
      paper = one.sensor == mapping.sensor ? one : paper;
    }
    CsvLine line(out);
    line.text(mapping.sensor)
        .text(mapping.bay)
        .text(name_of(mapping.quantity))
        .text(mapping.topic)
        .text(mapping.pointer)
        .text(name_of(mapping.unit))
        .value(mapping.slope)
        .value(mapping.offset)
        .text(paper.model)
        .text(paper.place)
        .text(when(paper.checked));
    if (paper.result) {
      check(line, *paper.result);
    } else {
      line.empty(7);
    }
  }
  return out;
}

std::string quoted(const std::string& text) {
  return boost::json::serialize(text);
}

std::string parameters(const Record& record, const Plain& plain) {
  std::string out =
      "{\n  \"version\": " + quoted(record.version) + ",\n  \"vehicle\": " + quoted(record.reference) +
      ",\n  \"from\": " + quoted(when(record.from)) + ",\n  \"to\": " + quoted(when(record.to)) +
      ",\n  \"first_row\": " + std::to_string(record.first_row) +
      ",\n  \"last_row\": " + std::to_string(record.last_row) + ",\n  \"parameters\": [";
  const char* separator = "\n";
  for (const auto& one : record.parameters) {
    out += separator;
    const auto unit = plain(one.unit);
    out += "    {\"name\": " + quoted(plain(one.name)) +
           ", \"value\": " + (std::isfinite(one.value) ? number(one.value) : "null") +
           ", \"unit\": " + quoted(unit.empty() ? "1" : unit) + ", \"source\": " + quoted(plain(one.source)) +
           "}";
    separator = ",\n";
  }
  return out + "\n  ]\n}\n";
}

}  // namespace

std::vector<File> machine_files(const Record& record) {
  const Plain plain(record.words->zone());
  std::vector<File> files{{"README.txt", machine_readme},
                          {"air.csv", air(record)},
                          {"alerts.csv", alerts(record)},
                          {"announcements.csv", announcements(record)},
                          {"disclosures.csv", disclosures(record, plain)},
                          {"events.ndjson", events(record)},
                          {"parameters.json", parameters(record, plain)},
                          {"pieces.csv", pieces(record, plain)},
                          {"readings.csv", readings(record)},
                          {"sensors.csv", sensors(record)},
                          {"shown.ndjson", shown(record)},
                          {"water.csv", water(record)}};
  for (const auto& one : record.personal) {
    files.push_back({"personal/" + one.field, one.salt + one.text});
  }
  files.insert(files.end(), record.sealed.begin(), record.sealed.end());
  return files;
}

File manifest(const std::vector<File>& files) {
  File out{"MANIFEST", {}};
  for (const auto& file : files) {
    out.bytes += sha256_hex(file.bytes) + "  " + file.name + "\n";
  }
  return out;
}

}  // namespace dryclock::record
