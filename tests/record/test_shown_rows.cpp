#include "record/shown_rows.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "record/machine_files.hpp"
#include "record/pdf.hpp"
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
  return ShownRows{7,
                   {row(10, "vehicle/7", R"({"at":600,"pieces":[[9,[100,[60,90],"edge"],0,0,[5,[700]]]]})"),
                    row(11, "vehicle/8", R"({"at":600,"pieces":[[9,[999,[1]]]]})"),
                    row(20, "vehicle/7", R"({"at":660,"pieces":[[9,[300]]]})"),
                    row(25, "vehicle/7", "of a later program"), row(30, "vehicle/7", R"({"at":720})"),
                    row(40, "vehicle/7", R"({"why":"deed","at":735,"pieces":[[9,[350,[20],"field"]]]})"),
                    row(50, "vehicle/8", R"({"why":"deed","at":740})")},
                   {}};
}

const StepEstimate& step_of(const Record& record, PieceId id, const std::string& name) {
  const auto piece = std::ranges::find(record.pieces, id, [](const auto& one) { return one.summary.id; });
  REQUIRE(piece != record.pieces.end());
  const auto step = std::ranges::find(piece->steps, name, &StepEstimate::step);
  REQUIRE(step != piece->steps.end());
  return *step;
}

const ShopStory& kept() {
  static const ShopStory story(ShopStory::Kind::kept);
  return story;
}
const Record& kept_record() {
  static const Record record = kept().record();
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
  CHECK(all.said(9, Milestone::dry, minute(735), 99)->milestone.probability == 0.005);
  CHECK(!all.said(9, Milestone::trim_ready, minute(735), 99));
  CHECK(!all.said(10, Milestone::dry, minute(735), 99));
  CHECK(all.said(9, Milestone::wrap_ready, minute(735), 39)->milestone.probability == 0.3);  // the row counts
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
       told(14, "seen", ""), told(20, "cleared", ""), told(30, "raised", "Cold.")},
      {}};
  const auto mine = all.alerts([](const ShownAlert&, Time) { return true; });
  REQUIRE(mine.size() == 2);
  CHECK(mine[0].raised == minute(10));
  CHECK(mine[0].alert.text == "Colder.");
  CHECK(mine[0].seen == minute(14));
  CHECK(mine[0].cleared == minute(20));
  REQUIRE(mine[0].deliveries.size() == 1);
  CHECK(mine[0].deliveries[0].given_up);
  CHECK(!mine[1].cleared);
  CHECK(all.alerts([](const ShownAlert&, Time) { return false; }).empty());
}

TEST_CASE("a step's estimate is the row's; what is worked out again stands beside, and is seen to differ") {
  const auto& wrapped = step_of(kept_record(), kept().bonnet, "edge-wrapped");
  CHECK(wrapped.probability == 0.421);
  CHECK(!wrapped.announced);
  CHECK(wrapped.held_by == "edge: kept words");
  CHECK(wrapped.kept.has_value());
  const auto& once = step_of(eventful_record(), kept().bonnet, "edge-wrapped");
  CHECK(!once.kept);
  CHECK(!differs(once));  // there is nothing to differ from
  REQUIRE((wrapped.again && once.probability));
  CHECK(*wrapped.again == doctest::Approx(*once.probability).epsilon(0.02));
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
  CHECK(record.at_end.held_by == "kept words");
  REQUIRE(record.at_end.release_expected.likely.has_value());
  CHECK(*record.at_end.release_expected.likely - *record.at_end.release_expected.early == minutes{540});
  CHECK(!record.at_end.release_expected.late);
  CHECK(record.release_again == doctest::Approx(*eventful_record().release_probability).epsilon(0.02));
  CHECK(step_of(record, kept().bonnet, "released").probability == 0.456);
}

TEST_CASE("the sheets and the files print what was said, and what is worked out again as such") {
  const auto& record = kept_record();
  const auto text = squeezed(text_of_pdf(pdf(record, Paper::a4).value()));
  const auto prints = [&](const std::string& words) {
    return text.find(squeezed(words)) != std::string::npos;
  };
  CHECK(prints("est. 42.1 %"));
  CHECK(prints("worked out again: "));
  CHECK(prints("12.3 % that it was release-ready; worked out again by version 1.2.3-test"));
  CHECK(prints("Dew is near."));
  CHECK(prints("phone: delivered"));
  const auto files = machine_files(record);
  const auto file = [&](const std::string& name) {
    return std::ranges::find(files, name, &File::name)->bytes;
  };
  CHECK(file("pieces.csv").find(",42.1,,edge: kept words,2026-03-03T08:1") != std::string::npos);
  CHECK(file("alerts.csv").find(",urgent,Dew is near.,,,phone delivered 2026-03-03T08:1") !=
        std::string::npos);
  const auto shown = file("shown.ndjson");
  CHECK(std::ranges::count(shown, '\n') == 4);
  CHECK(shown.find("{\"row\":" + std::to_string(kept().wrap - 1) + ",\"shown\":{\"why\":\"deed\"") !=
        std::string::npos);
}

}  // namespace dryclock::record
