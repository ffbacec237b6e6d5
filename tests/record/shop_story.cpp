#include "record/shop_story.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <sstream>

#include "compute/outlook.hpp"
#include "domain/shown.hpp"
#include "store/writer.hpp"
#include "support/process.hpp"
#include "wire/announced_json.hpp"
#include "wire/event_json.hpp"
#include "wire/setup_json.hpp"

namespace dryclock::record {

using namespace std::chrono_literals;

ShopStory::ShopStory(Kind kind, Manner manner) : manner_(manner), database_(folder_ / "dryclock.db") {
  switch (kind) {
    case Kind::eventful:
    case Kind::kept:
    case Kind::unkept:
      play_eventful();
      break;
    case Kind::quiet:
      play_quiet();
      break;
    case Kind::late_release:
      play_late_release();
      break;
    case Kind::late_kept:
      play_late_kept();
      break;
  }
  rows_ = night_.rows();
  if (kind == Kind::eventful) {
    // Somebody else's message on the sensor's topic, in the first afternoon.
    const auto spoilt = std::ranges::find_if(rows_, [&](const JournalRow& row) {
      return row.kind == RowKind::message &&
             row.message.received_at > night_.rows().front().message.received_at + 8h;
    });
    spoilt->message.payload = "{\"t\": warm}";
  }
  if (kind == Kind::kept || kind == Kind::unkept) {
    keep_shown();
    keep_alerts();
    keep_announced();
  }
  if (kind == Kind::late_kept) {
    keep_shown_late();
  }
  for (auto& row : rows_) {
    if (kind == Kind::unkept && row.kind == RowKind::shown) {
      row.kind = RowKind::tick;
      row.message.topic = row.message.payload = "";
    }
  }
  write();
}

// In the place of the last message up to that row, which the sensor then has not sent: every number stays
// what it was. `whose` 0: of the shop; NOW in the payload is the row's minute.
void ShopStory::put(Seq until, VehicleId whose, std::string payload) {
  const auto later = std::make_reverse_iterator(rows_.begin() + until);
  auto& row = *std::ranges::find(later, rows_.rend(), RowKind::message, &JournalRow::kind);
  const auto minutes =
      std::chrono::floor<std::chrono::minutes>(row.message.received_at.time_since_epoch()).count();
  row.kind = RowKind::shown;
  row.message.topic = whose == 0 ? "" : "vehicle/" + std::to_string(whose);
  row.message.payload = std::move(payload);
  row.message.payload.replace(row.message.payload.find("NOW"), 3, std::to_string(minutes));
}

Seq ShopStory::message_at(std::string_view time) const {
  const Time at = parse_rfc3339(time).value();
  const auto found = std::ranges::find_if(rows_, [&](const JournalRow& row) {
    return row.kind == RowKind::message && row.message.received_at >= at;
  });
  REQUIRE(found != rows_.end());
  return found->seq;
}

void ShopStory::keep_shown() {
  const std::string whose = std::to_string(vehicle), piece = std::to_string(bonnet);
  put(wrap, vehicle,
      R"({"why":"deed","at":NOW,"release":[3,[]],"hand_over":210,"pieces":[[)" + piece +
          R"(,[421,[10,40,90],"edge","edge: kept words"],0,0,[0,[]],[1,2,3],[100,200,300]]]})");
  put(wrap, vehicle, R"({"why":"delivered","at":NOW,"deliveries":[["phone","dew/)" + whose + R"("]]})");
  put(wrap, vehicle,
      R"({"why":"alert","at":NOW,"alerts":[["raised","dew",")" + whose + R"(","urgent","Dew is near."]]})");
  put(release, vehicle,
      R"({"why":"deed","at":NOW,"release":[123,[60,600],null,"kept words"],"hand_over":0,"pieces":[[)" +
          piece + R"(,0,0,0,[456,-90]]]})");
}

// Of the bay and its sensor. The vehicle came at 8:00 and left on the 4th at 16:35.
void ShopStory::keep_alerts() {
  const std::string sensor = setup().mappings.front().sensor;
  const auto alert = [&](std::string_view at, const std::string& step, const std::string& id,
                         const std::string& more = "") {
    put(message_at(at), 0, R"({"why":"alert","at":NOW,"alerts":[[")" + step + "\"," + id + more + "]]}");
  };
  const std::string apart = R"("sensors-disagree",")" + sensor + R"(+other:relative-humidity")";
  const std::string drift = R"("sensor-drift","other+)" + sensor + "\"";
  const std::string cold = R"("bay-cold","front")";
  alert("2026-03-02T06:05:00Z", "raised", apart, R"(,"warning","They disagree.")");
  alert("2026-03-02T06:10:00Z", "raised", cold, R"(,"warning","Cold.")");
  alert("2026-03-02T06:15:00Z", "raised", drift, R"(,"warning","It drifted before.")");
  alert("2026-03-02T06:20:00Z", "cleared", drift);
  alert("2026-03-02T10:30:00Z", "cleared", cold);
  alert("2026-03-02T12:00:00Z", "raised", drift, R"(,"warning","It drifts.")");
  alert("2026-03-04T17:00:00Z", "raised", cold, R"(,"warning","Cold for the next one.")");
  put(message_at("2026-03-04T17:05:00Z"), 0,
      R"({"why":"delivered","at":NOW,"deliveries":[["phone","bay-cold/front"]]})");
}

// And another vehicle's, between them. All of it before the estimate says anything.
void ShopStory::keep_announced() {
  const auto says = [&](Seq seq, VehicleId whose, std::vector<Announcement> said) {
    auto& row = rows_.at(static_cast<std::size_t>(seq) - 1);
    REQUIRE(row.kind == RowKind::message);
    row.kind = RowKind::announced;
    row.message.topic = shown_topic(whose);
    row.message.payload = wire::to_json(Announced{whose, row.message.received_at, std::move(said)});
  };
  announced_row = message_at("2026-03-02T12:00:00Z");
  says(announced_row, vehicle,
       {{bonnet, models::Milestone::wrap_ready, Word::look, 0.62},
        {0, models::Milestone::may_leave, Word::ready, 0.91}});
  says(message_at("2026-03-02T12:10:00Z"), vehicle + 1000,
       {{0, models::Milestone::may_leave, Word::ready, 0.777}});
  says(message_at("2026-03-02T12:20:00Z"), vehicle,
       {{0, models::Milestone::may_leave, Word::taken_back, 0.5}});
}

// Before the time for which the release is told, after it, and as it is entered.
void ShopStory::keep_shown_late() {
  const auto says = [&](Seq seq, const std::string& why, const std::string& ready, const std::string& dry) {
    put(seq, vehicle,
        R"({"why":")" + why + R"(","at":NOW,"release":)" + ready + R"(,"hand_over":0,"pieces":[[)" +
            std::to_string(bonnet) + ",0,0,0," + dry + "]]}");
  };
  says(message_at("2026-03-03T08:00:00Z"), "hourly", "[550,[60,600]]", "[650,[-5,500,900]]");
  says(message_at("2026-03-03T08:40:00Z"), "hourly", "[600]", "0");
  says(message_at("2026-03-03T11:00:00Z"), "hourly", "[970,-30]", "[980,-40]");
  says(release - 1, "deed", "[990,-900]", "[995,-1000]");
}

void ShopStory::checks_sensor(double shown_pct, models::SensorVerdict verdict) {
  SensorChecked checked;
  checked.sensor = setup().mappings.front().sensor;
  checked.temperature_c = 21.5;
  checked.expected_pct = 75.4;
  checked.expected_expanded_pct = 1.9;
  checked.shown_pct = shown_pct;
  checked.verdict = verdict;
  night_.does(checked);
}

void ShopStory::play_eventful() {
  night_.air_is("front", 21.0, 48.0);
  night_.sends_every("front", 1min);
  night_.passes_to("06:30");
  checks_sensor(76.1, models::SensorVerdict::agrees);
  coupon = night_.does(CouponLaid{"open", "L-0815", "front", 0.09, 0.9});
  night_.passes_to("07:30");
  FilmMeasured measured;
  measured.film = "open";
  measured.lot = "L-0815";
  measured.resistance = 4.321e9;
  measured.relative_uncertainty = 0.143;
  measured.coupon = coupon;
  measured.weighings = 9;
  film_measured = night_.does(measured);
  night_.passes_to("08:00");
  vehicle = night_.arrives("demo-7", "front", 5.0, "2026-03-04 17:00");
  night_.passes_to("10:00");
  bonnet = night_.lays(vehicle, "bonnet");
  night_.passes_to("11:00");
  Lay wet;
  wet.vehicle = vehicle;
  wet.panel = "bumper";
  wet.film = "open";
  wet.solution = "tack";
  wet.lot = "L-0815";
  wet.notes = {"strong at the corners", "two, lower edge", ""};
  bumper = night_.does(wet);
  night_.passes_to("11:20");
  lamp = night_.lays(vehicle, "lamp");
  night_.passes_to("13:07");
  night_.sends("front", 212.0, 48.0);
  night_.passes_to("13:30");
  second_lamp = night_.lays(vehicle, "lamp", "", lamp);
  night_.passes_to("18:00");
  night_.air_drifts("front", 15.0, 62.0, 8h);
  night_.passes_to("02:00");
  night_.falls_silent("front");
  night_.passes_to("04:10");
  night_.sends_every("front", 1min);
  night_.passes_to("07:30");
  night_.air_drifts("front", 22.0, 45.0, 2h);
  night_.passes_to("08:15");
  wrap = night_.does(EdgeWrapped{bonnet});
  night_.passes_to("09:00");
  trim = night_.does(Trimmed{bumper}, "08:40");
  night_.passes_to("09:30");
  taken_back = night_.does(Refitted{bumper});
  night_.does(Superseded{taken_back});
  night_.passes_to("10:00");
  night_.does(Inspected{bumper, models::ZoneKind::recess, models::Finding::hazy});
  night_.does(HeatApplied{bumper, HeatSource::heat_gun, 55.0, 3.0});
  night_.passes_to("12:00");
  night_.clock_steps_to("12:04", "forward by 240.0 s");
  night_.passes_to("16:00");
  refit = night_.does(Refitted{second_lamp});
  night_.passes_to("2026-03-04 16:30");  // what is announced is told by then
  night_.passes_to("16:35");
  release = night_.does(Released{vehicle, "bumper recess still moist, no wash for a week"});
  night_.passes_to("18:00");
  night_.falls_silent("front");
  night_.passes_to("2026-03-19 10:00");
  night_.does(Rechecked{bumper, RecheckFinding::lifting, models::ZoneKind::recess});
  recheck = night_.does(Rechecked{bonnet, RecheckFinding::sound});
}

void ShopStory::play_quiet() {
  night_.air_is("front", 21.0, 50.0);
  night_.sends_every("front", 1min);
  night_.passes_to("07:00");
  checks_sensor(80.3, models::SensorVerdict::off);
  night_.passes_to("08:00");
  vehicle = night_.arrives("quiet-1", "front");
  night_.does(Planned{vehicle, {{"bonnet"}, {"lamp", 2, 2}}});
  night_.passes_to("09:00");
  bonnet = night_.lays(vehicle, "bonnet");
  night_.passes_to("2026-03-03 09:00");
}

void ShopStory::play_late_release() {
  play_quiet();
  night_.passes_to("2026-03-05 10:00");
  release = night_.does(Released{vehicle, ""}, "2026-03-03 09:00");
}

void ShopStory::play_late_kept() {
  play_late_release();
  night_.passes_to("11:00");
  night_.falls_silent("front");
  night_.passes_to("2026-03-19 10:00");
  recheck = night_.does(Rechecked{bonnet, RecheckFinding::sound});
}

void ShopStory::write() {
  goes_on(rows_);
  // As in a journal from before settings were rows: they are told at its end, and assumed for all of it.
  Setup told = setup();
  told.site = {"An invented shop", "Europe/London", manner_};
  JournalRow settings{
      .seq = rows_.back().seq + 1, .kind = RowKind::configured, .message = rows_.back().message};
  settings.message.topic.clear();
  settings.message.payload = wire::to_json(Configured{"1.2.3-test", "", true, {}, std::move(told)});
  goes_on({settings});
}

void ShopStory::goes_on(const std::vector<JournalRow>& rows) const {
  auto writer = store::Writer::open({.path = database_, .ballast_bytes = 0}, {}, {});
  REQUIRE(writer.has_value());
  for (const auto& row : rows) {
    (*writer)->append_async({row.kind, row.message, {}},
                            [seq = row.seq](const Result<store::Appended>& done) {
                              if (!done || done->seq != seq) {
                                std::terminate();  // the story's numbers would name other rows
                              }
                            });
  }
  (*writer)->stop();
}

Origin ShopStory::origin() const {
  return {.version = "1.2.3-test", .look_ahead = compute::answer};
}

Record ShopStory::record(std::optional<Language> language) const {
  const auto reader = store::Reader::open(database_);
  REQUIRE(reader.has_value());
  auto from = origin();
  from.language = language;
  auto made = gather(*reader, vehicle, from);
  REQUIRE_MESSAGE(made.has_value(), (made ? "" : to_string(made.error())));
  return made.value();
}

ShopStory& eventful() {
  static ShopStory story(ShopStory::Kind::eventful);
  return story;
}

const Record& eventful_record() {
  static const Record record = eventful().record();
  return record;
}

const Record& eventful_record_in_german() {
  static const Record record = eventful().record(Language::german);
  return record;
}

const ShopStory& kept() {
  static const ShopStory story(ShopStory::Kind::kept);
  return story;
}

Record sealed(Record record) {
  record.checkpoint = std::string(64, 'a');
  record.checkpoint_name = "00000007.txt";
  record.checkpoint_number = 7;
  record.checkpoint_at = record.to;
  record.key_sha256 = std::string(64, 'b');
  return record;
}

seal::ChainWriter story_chain(const std::filesystem::path& folder, Seq most_rows) {
  return seal::ChainWriter::open({.database = eventful().database(),
                                  .folder = folder / "seal",
                                  .keys = folder / "keys",
                                  .read_event = [](const JournalRow& row) -> std::optional<EventDetail> {
                                    const auto event =
                                        wire::parse_event(row.message.payload, row.message.received_at);
                                    return event ? std::optional{event.value().detail} : std::nullopt;
                                  },
                                  .most_rows = most_rows})
      .value();
}

std::string output_of(const std::vector<std::string>& command) {
  const test::ScratchFolder folder;
  const auto log = folder / "output";
  test::Process process(command, log);
  const auto ended = process.wait(60s);
  std::ostringstream text;
  text << std::ifstream(log, std::ios::binary).rdbuf();
  std::string output = text.str();
  CHECK_MESSAGE(ended == 0, command.front() << ": " << output);
  return output;
}

void write_file(const std::filesystem::path& path, const std::string& bytes) {
  std::filesystem::create_directories(path.parent_path());
  std::ofstream(path, std::ios::binary) << bytes;
}

std::string text_of_pdf(const std::string& pdf) {
  const test::ScratchFolder folder;
  write_file(folder / "it.pdf", pdf);
  return output_of({"pdftotext", "-layout", folder / "it.pdf", "-"});
}

std::string squeezed(const std::string& text) {
  std::string out;
  std::ranges::copy_if(text, std::back_inserter(out), [](unsigned char c) { return std::isspace(c) == 0; });
  return out;
}

bool has(const std::string& text, const std::string& wanted) {
  return text.find(squeezed(wanted)) != std::string::npos;
}

}  // namespace dryclock::record
