#include "record/shown_rows.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "record/handover.hpp"
#include "record/machine_files.hpp"
#include "record/pdf.hpp"
#include "record/rechecks.hpp"
#include "record/shop_story.hpp"

namespace dryclock::record {
namespace {

using models::Milestone;
using std::chrono::minutes;

Time minute(std::int64_t m) {
  return Time{minutes{m}};
}

JournalRow row(Seq seq, std::string topic, std::string payload) {
  return {.seq = seq,
          .kind = RowKind::shown,
          .message = {.topic = std::move(topic), .payload = std::move(payload), .received_at = {}}};
}

ShownRows rows() {
  return ShownRows{
      7,
      {row(10, "vehicle/7", R"({"at":600,"pieces":[[9,[100,[60,90],"edge"],0,0,[5,[700]]]]})"),
       row(11, "vehicle/8", R"({"at":600,"pieces":[[9,[999,[1]]]]})"),
       row(20, "vehicle/7", R"({"at":660,"pieces":[[9,[300]]]})"), row(25, "vehicle/7", "of a later program"),
       row(30, "vehicle/7", R"({"at":720})"),
       row(40, "vehicle/7", R"({"why":"deed","at":735,"pieces":[[9,[350,[20],"field"]]]})"),
       row(50, "vehicle/8", R"({"why":"deed","at":740})"), row(60, "", R"({"why":"deed","at":740})")},
      {}};
}

// A deed that was done at that minute.
history::RecordedEvent deed(Seq seq, std::int64_t at, std::int64_t entered) {
  history::RecordedEvent told;
  told.row.seq = seq;
  told.event.at = minute(at);
  told.event.entered = minute(entered);
  return told;
}

const StepEstimate& step_of(const Record& record, PieceId id, const std::string& name) {
  const auto piece = std::ranges::find(record.pieces, id, [](const auto& one) { return one.summary.id; });
  REQUIRE(piece != record.pieces.end());
  const auto step = std::ranges::find(piece->steps, name, &StepEstimate::step);
  REQUIRE(step != piece->steps.end());
  return *step;
}

const Record& kept_record() {
  static const Record record = kept().record();
  return record;
}
const Record& unkept_record() {
  static const Record record = ShopStory(ShopStory::Kind::unkept).record();
  return record;
}

}  // namespace

TEST_CASE("a deed's row is the vehicle's own right before it") {
  REQUIRE(rows().before(41) != nullptr);
  CHECK(rows().before(41)->seq == 40);
  CHECK(rows().before(42) == nullptr);
  CHECK(rows().before(40) == nullptr);
  CHECK(rows().before(31) == nullptr);  // an hourly one
  CHECK(rows().before(51) == nullptr);  // another vehicle's
  CHECK(rows().before(61) == nullptr);  // the shop's
}

TEST_CASE("what a row leaves out is as the rows before it said") {
  const auto all = rows();
  CHECK(!all.said(9, Milestone::wrap_ready, minute(599), 99));
  CHECK(all.said(9, Milestone::wrap_ready, minute(659), 99)->milestone.probability == 0.1);
  const auto later = all.said(9, Milestone::wrap_ready, minute(730), 99);
  CHECK(later->milestone.probability == 0.3);
  CHECK(later->at == minute(720));                                                 // and was still so
  CHECK(bool{later->milestone.expected == Spread{minute(660), minute(690), {}}});  // told at 600
  CHECK(later->milestone.limiting == models::ZoneKind::edge);
  const auto deed = all.said(9, Milestone::wrap_ready, minute(735), 99);
  CHECK(bool{deed->milestone.expected == Spread{minute(755), {}, {}}});
  CHECK(deed->milestone.limiting == models::ZoneKind::field);
  CHECK(all.said(9, Milestone::clear, minute(735), 99)->milestone.probability == 0.005);  // "dry", then
  CHECK(!all.said(9, Milestone::trim_ready, minute(735), 99));
  CHECK(!all.said(10, Milestone::clear, minute(735), 99));
  CHECK(all.said(9, Milestone::wrap_ready, minute(735), 39)->milestone.probability == 0.3);  // the row counts
}

// A reading of 12:00:40 was the newest when the deed came; a message about an alert had gone out at 12:01.
TEST_CASE("the row of a deed counts for it, also where an earlier row is of a later minute") {
  const ShownRows all{
      7,
      {row(8, "vehicle/7", R"({"at":660,"pieces":[[9,[300,[60]]]]})"),
       row(9, "vehicle/7", R"({"why":"delivered","at":721,"deliveries":[["phone","dew/7"]]})"),
       row(10, "vehicle/7", R"({"why":"deed","at":720,"pieces":[[9,[350]]]})")},
      {}};
  const auto said = all.said_at(deed(11, 720, 720), 9, Milestone::wrap_ready);
  REQUIRE(said.has_value());
  CHECK(said->milestone.probability == 0.35);
  CHECK(said->at == minute(720));
  CHECK(all.said(9, Milestone::wrap_ready, minute(720), 10)->milestone.probability == 0.35);
}

TEST_CASE("a deed that is told late has what was said until then, and no row of its own is needed") {
  const auto all = rows();
  CHECK(all.said_at(deed(41, 735, 735), 9, Milestone::wrap_ready)->milestone.probability == 0.35);
  const auto late = all.said_at(deed(41, 700, 735), 9, Milestone::wrap_ready);
  CHECK(late->milestone.probability == 0.3);
  CHECK(late->at == minute(660));
  CHECK(all.said_at(deed(56, 700, 900), 9, Milestone::wrap_ready)->milestone.probability == 0.3);
  CHECK(!all.said_at(deed(41, 500, 735), 9, Milestone::wrap_ready));
  CHECK(!all.said_at(deed(56, 900, 900), 9, Milestone::wrap_ready));  // at once, and no row says
}

TEST_CASE("the vehicle's view at its release is what was said until the time for which it was told") {
  const ShownRows all{
      7,
      {row(10, "vehicle/7",
           R"({"at":600,"release":[550,[60,90]],"hand_over":700,"pieces":[[9,0,0,0,[650]]]})"),
       row(20, "vehicle/7", R"({"at":660,"release":[600]})"),
       row(30, "vehicle/7",
           R"({"at":720,"release":[970,-30],"hand_over":990,"pieces":[[9,0,0,0,[980,-40]]]})"),
       row(40, "vehicle/7",
           R"({"why":"deed","at":780,"release":[990,-90],"pieces":[[9,0,0,0,[995,-100]]]})")},
      {}};
  const auto clear = static_cast<std::size_t>(Milestone::clear);
  const auto late = all.view_at(deed(41, 700, 780));
  REQUIRE(late.release.has_value());
  CHECK(late.release->probability == 0.6);
  CHECK(!late.release->announced);
  CHECK(late.release->expected->late == std::nullopt);
  CHECK(late.release->expected->likely == minute(690));
  CHECK(late.hand_over_probability == 0.7);
  REQUIRE(late.pieces.size() == 1);
  CHECK(late.pieces[0].milestones[clear]->probability == 0.65);
  CHECK(!late.pieces[0].milestones[0]);
  const auto at_once = all.view_at(deed(41, 780, 780));
  CHECK(at_once.release->probability == 0.99);
  CHECK(at_once.hand_over_probability == 0.99);
  CHECK(at_once.pieces[0].milestones[clear]->announced == minute(680));
  CHECK(!all.view_at(deed(41, 599, 780)).release);
  CHECK(all.view_at(deed(36, 720, 720)).pieces.empty());  // at once, and no row says
}

TEST_CASE("an alert's rows make one story, until it is raised again") {
  const auto told = [](std::int64_t at, const std::string& step, const std::string& text) {
    return row(at, "",
               R"({"why":"alert","at":)" + std::to_string(at) + R"(,"alerts":[[")" + step +
                   R"(","bay-cold","front","urgent",")" + text + R"("]]})");
  };
  const ShownRows all{
      7,
      {told(1, "seen", ""), told(10, "raised", "Cold."), told(12, "changed", "Colder."),
       row(13, "", R"({"why":"delivered","at":13,"deliveries":[["mail","bay-cold/front","x"]]})"),
       told(14, "seen", ""), told(20, "cleared", ""), told(21, "changed", "No more."),
       told(22, "cleared", ""), told(30, "raised", "Cold.")},
      {}};
  const auto mine = all.alerts([](const ShownAlert&, Time, std::optional<Time>) { return true; });
  REQUIRE(mine.size() == 2);
  CHECK(mine[0].raised == minute(10));
  CHECK(mine[0].alert.text == "Colder.");
  CHECK(mine[0].seen == minute(14));
  CHECK(mine[0].cleared == minute(20));
  REQUIRE(mine[0].deliveries.size() == 1);
  CHECK(mine[0].deliveries[0].given_up);
  CHECK(!mine[1].cleared);
  CHECK(all.alerts([](const ShownAlert&, Time, std::optional<Time>) { return false; }).empty());
  // The first alone matters: what was told of the second is not its own.
  const auto first = all.alerts([](const ShownAlert&, Time raised, std::optional<Time> over) {
    return raised == minute(10) && over == minute(20);
  });
  REQUIRE(first.size() == 1);
  CHECK(first[0].alert.text == "Colder.");
  CHECK(first[0].cleared == minute(20));
  CHECK(first[0].deliveries.size() == 1);
}

TEST_CASE("an alert that is raised anew is over, whether or not a row says so; its text is its own") {
  const ShownRows all{
      7,
      {row(10, "", R"({"why":"alert","at":10,"alerts":[["raised","bay-cold","front","urgent","A"]]})"),
       row(20, "", R"({"why":"alert","at":20,"alerts":[["raised","bay-cold","front","urgent","B"]]})"),
       row(21, "", R"({"why":"alert","at":21,"alerts":[["changed","bay-cold","front",null,"C"]]})")},
      {}};
  std::vector<std::optional<Time>> over;
  const auto told = all.alerts([&](const ShownAlert&, Time, std::optional<Time> at) {
    over.push_back(at);
    return true;
  });
  CHECK(bool{over == std::vector<std::optional<Time>>{minute(20), std::nullopt}});
  REQUIRE(told.size() == 2);
  CHECK(told[0].alert.text == "A");
  CHECK(!told[0].cleared);
  CHECK(told[1].alert.text == "C");
}

TEST_CASE("a record has the alerts that were open while the vehicle was there, also of a pair of sensors") {
  const auto& alerts = kept_record().alerts;
  const auto at = [](const char* time) { return parse_rfc3339(time).value(); };
  REQUIRE(alerts.size() == 4);
  CHECK(alerts[0].alert.rule == AlertRule::sensors_disagree);
  CHECK(alerts[0].raised == at("2026-03-02T06:05:00Z"));  // before the vehicle came
  CHECK(!alerts[0].cleared);
  CHECK(alerts[1].alert.text == "Cold.");
  CHECK(alerts[1].cleared == at("2026-03-02T10:30:00Z"));
  CHECK(alerts[1].deliveries.empty());  // that was of one that was raised after it had left
  CHECK(alerts[2].alert.text == "It drifts.");
  CHECK(alerts[3].alert.rule == AlertRule::dew);
  CHECK(alerts[3].deliveries.size() == 1);
}

TEST_CASE("the record of a vehicle that has left does not change with later rows") {
  const ShopStory story(ShopStory::Kind::kept);
  const auto said = [&](Seq more, const std::string& topic, const std::string& rest) {
    const std::int64_t later = parse_rfc3339("2026-03-21T10:00:00Z").value().time_since_epoch() / minutes{1};
    auto one =
        row(story.rows().back().seq + 1 + more, topic, R"({"at":)" + std::to_string(later) + rest + "}");
    one.message.received_at = minute(later);
    return one;
  };
  const auto whose = std::to_string(story.vehicle);
  const auto sensor = story.setup().mappings.front().sensor;
  story.goes_on(
      {said(1, "vehicle/" + whose, R"(,"alerts":[["cleared","dew",")" + whose + "\"]]"),
       said(2, "vehicle/" + whose, R"(,"deliveries":[["mail","dew/)" + whose + "\"]]"),
       said(3, "",
            R"(,"alerts":[["seen","sensors-disagree",")" + sensor + R"(+other:relative-humidity"]])")});
  const Record record = story.record();
  REQUIRE(record.alerts.size() == 4);
  CHECK(!record.alerts[0].seen);
  CHECK(!record.alerts[3].cleared);
  CHECK(record.alerts[3].deliveries.size() == 1);
  CHECK(record.shown.size() == kept_record().shown.size());
  CHECK(record.last_row == kept_record().last_row);
}

TEST_CASE("a release that is told two days late has what was said until the time it is told for") {
  const ShopStory story(ShopStory::Kind::late_kept);
  const Record record = story.record();
  CHECK(record.release_probability == 0.6);
  CHECK(record.release_again.has_value());
  CHECK(!record.at_end.release_ready);
  CHECK(record.at_end.release_expected.likely == parse_rfc3339("2026-03-03T18:00:00Z").value());
  const auto& released = step_of(record, story.bonnet, "released");
  CHECK(released.probability == 0.65);
  CHECK(!released.announced);
  CHECK(released.kept == parse_rfc3339("2026-03-03T08:40:00Z").value());  // and was still so
  CHECK(squeezed(text_of_pdf(pdf(record, Paper::a4).value()))
            .find(squeezed("Estimate then 60.0 % that it might leave")) != std::string::npos);
  const auto reader = store::Reader::open(story.database());
  REQUIRE(reader.has_value());
  const auto rechecked = rechecked_pieces(*reader, story.vehicle, story.origin());
  REQUIRE(rechecked.has_value());
  REQUIRE(rechecked->size() == 1);
  CHECK(rechecked->front().left_early);
}

TEST_CASE("no time passes with a row of what was shown") {
  const ShopStory story(ShopStory::Kind::quiet);
  const Time last = story.rows().back().message.received_at;
  auto hourly =
      row(story.rows().back().seq + 2, "vehicle/" + std::to_string(story.vehicle), R"({"at":29541600})");
  hourly.message.received_at = last + std::chrono::hours{9};
  story.goes_on({hourly});
  CHECK(story.record().to == last);
}

TEST_CASE("what was said counts, not the level of later settings") {
  Record record = kept_record();
  record.announce_level = 0.1;
  const auto text = squeezed(text_of_pdf(pdf(record, Paper::a4).value()));
  CHECK(text.find(squeezed("42.1 % by the estimate; held back by edge: kept words")) != std::string::npos);
  StepEstimate step;
  step.probability = 0.95;
  CHECK(was_ready(step, 0.9));
  step.kept = record.to;
  CHECK(!was_ready(step, 0.9));
  step.announced = record.from;
  CHECK(was_ready(step, 0.99));
  // On the hand-over sheet likewise: only the bonnet's row says what the page said of it.
  const auto leave = static_cast<std::size_t>(Milestone::may_leave);
  for (auto& piece : record.at_end.pieces) {
    piece.milestones[leave].probability = 0.95;
    piece.milestones[leave].announced.reset();
  }
  record.announce_level = 0.9;
  CHECK(care_of(record).all_ready);  // it had been called dry an hour and a half before
  for (auto& piece : record.pieces) {
    for (auto& one : piece.steps) {
      if (piece.summary.id == kept().bonnet && one.step == "released") {
        one.announced.reset();
      }
    }
  }
  CHECK(!care_of(record).all_ready);
}

TEST_CASE("worth a look, ready and by somebody's word are told apart where they were said") {
  const ShownRows all{
      7,
      {row(10, "vehicle/7",
           R"({"at":600,"release":[700,[],null,null,-30],"pieces":[[9,[600,[60,90],"edge",null,-10]]]})"),
       row(20, "vehicle/7", R"({"at":660,"pieces":[[9,[650,-20,null,null,null,1],[910,-5]]]})")},
      {}};
  const auto look = all.said(9, Milestone::wrap_ready, minute(610), 99);
  REQUIRE(look.has_value());
  CHECK(look->milestone.look == minute(590));
  CHECK(!look->milestone.announced);
  CHECK(all.view_at(deed(15, 610, 900)).release->look == minute(570));
  const auto seen = all.said(9, Milestone::wrap_ready, minute(670), 99);
  REQUIRE(seen.has_value());
  CHECK(!seen->milestone.look);
  CHECK(seen->milestone.announced == minute(640));
  CHECK(seen->milestone.by_word);
  CHECK(!all.said(9, Milestone::trim_ready, minute(670), 99)->milestone.by_word);
}

TEST_CASE("a step's estimate is the row's; what is worked out again stands beside, and is seen to differ") {
  const auto& wrapped = step_of(kept_record(), kept().bonnet, "edge-wrapped");
  CHECK(wrapped.probability == 0.421);
  CHECK(!wrapped.announced);
  CHECK(wrapped.held_by.words == "edge: kept words");
  CHECK(wrapped.kept.has_value());
  const auto& once = step_of(unkept_record(), kept().bonnet, "edge-wrapped");
  CHECK(!once.kept);
  CHECK(!differs(once));  // there is nothing to differ from
  REQUIRE((wrapped.again && once.again));
  CHECK(*wrapped.again == *once.again);  // both were early
  CHECK(differs(wrapped));
  StepEstimate same = wrapped;
  same.again = 0.425;
  same.again_announced.reset();
  CHECK(!differs(same));
  same.again = 0.432;
  CHECK(differs(same));
}

TEST_CASE("the release and its outlook are the row's") {
  const auto& record = kept_record();
  CHECK(record.release_probability == 0.123);
  CHECK(record.at_end.held_by.words == "kept words");
  REQUIRE(record.at_end.release_expected.likely.has_value());
  CHECK(*record.at_end.release_expected.likely - *record.at_end.release_expected.early == minutes{540});
  CHECK(!record.at_end.release_expected.late);
  CHECK(record.release_again == unkept_record().release_probability);
  CHECK(step_of(record, kept().bonnet, "released").probability == 0.456);
}

TEST_CASE("the sheets and the files print what was said, and what is worked out again as such") {
  Record record = kept_record();
  for (auto& piece : record.pieces) {
    for (auto& step : piece.steps) {
      if (step.step == "edge-wrapped") {
        step.again = 0.876;
      }
    }
  }
  const auto text = squeezed(text_of_pdf(pdf(record, Paper::a4).value()));
  const auto prints = [&](const std::string& words) {
    return text.find(squeezed(words)) != std::string::npos;
  };
  CHECK(prints("est. 42.1 %"));
  // The figure: its words stand below the table too, and the cell breaks between both.
  CHECK(prints("87.6 %"));
  CHECK(squeezed(text_of_pdf(pdf(kept_record(), Paper::a4).value())).find("87.6%") == std::string::npos);
  CHECK(prints("12.3 % that it might leave; worked out again by version 1.2.3-test"));
  CHECK(prints("Dew is near."));
  CHECK(prints("phone: delivered"));
  const auto files = machine_files(record);
  const auto file = [&](const std::string& name) {
    return std::ranges::find(files, name, &File::name)->bytes;
  };
  CHECK(file("pieces.csv").find(",42.1,,,0,2026-03-03T08:1") != std::string::npos);
  CHECK(file("pieces.csv").find(",edge: kept words,shop\n") != std::string::npos);
  CHECK(file("alerts.csv").find(",urgent,,,phone delivered 2026-03-03T08:1") != std::string::npos);
  CHECK(file("alerts.csv").find(",Dew is near.,shop\n") != std::string::npos);
  const auto shown = file("shown.ndjson");
  CHECK(std::ranges::count(shown, '\n') == 4);
  CHECK(shown.find("{\"row\":" + std::to_string(kept().wrap - 1) + ",\"shown\":{\"why\":\"deed\"") !=
        std::string::npos);
}

}  // namespace dryclock::record
