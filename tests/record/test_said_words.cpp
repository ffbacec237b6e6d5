// "Worth a look", "ready", by somebody's word, and what was wanted: on the pages and in the files.
#include <doctest/doctest.h>

#include <algorithm>
#include <iterator>

#include "record/machine_files.hpp"
#include "record/pdf.hpp"
#include "record/shop_story.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

using models::Milestone;

// A record's pages, cell by cell.
std::string cells_of(const Record& record) {
  const test::ScratchFolder folder;
  write_file(folder / "it.pdf", pdf(record, Paper::a4).value());
  return squeezed(output_of({"pdftotext", "-raw", folder / "it.pdf", "-"}));
}

}  // namespace

TEST_CASE("a lamp is told with what it lights and what it draws") {
  const Record& record = eventful_record();
  const auto told = [&](const LampSwitched& lamp) {
    EventEntry entry;
    entry.event.detail = lamp;
    return event_words(record, entry);
  };
  LampSwitched lamp{eventful().vehicle, true, 400.0};
  CHECK(told(lamp) == "lamp on, 400 W/m²");
  lamp.tool_w = 1500.0;
  CHECK(told(lamp) == "lamp on, 400 W/m², drawing 1500 W");
  lamp.piece = eventful().bumper;
  CHECK(told(lamp) == "front bumper: lamp on, 400 W/m², drawing 1500 W");
  lamp.zone = models::ZoneKind::recess;
  CHECK(told(lamp) == "front bumper, recess: lamp on, 400 W/m², drawing 1500 W");
  lamp.area_m2 = 0.25;
  lamp.tool_w = 0.0;
  CHECK(told(lamp) == "front bumper, recess: lamp on over 0.25 m², 400 W/m²");
  lamp.zone.reset();
  CHECK(told(lamp) == "front bumper: lamp on over 0.25 m², 400 W/m²");
  lamp.on = false;
  CHECK(told(lamp) == "front bumper: lamp off");
  CHECK(told({eventful().vehicle, false}) == "lamp off");
}

TEST_CASE("a piece that was not ready has what was wanted, and is called wet where liquid was likely") {
  Record record = kept().record();
  const auto sheet = [&] { return cells_of(record); };
  const auto says = [](const std::string& text, const std::string& words) {
    return text.find(squeezed(words)) != std::string::npos;
  };
  auto& step = [&]() -> StepEstimate& {
    for (auto& piece : record.pieces) {
      for (auto& one : piece.steps) {
        if (one.step == "edge-wrapped") {
          return one;
        }
      }
    }
    FAIL("no wrap");
    return record.pieces.front().steps.front();
  }();
  step.announced.reset();
  step.look.reset();
  step.probability = 0.0;
  step.held_by = ready_words("edge: bond 89 %, 90 % wanted");
  step.still_wet = {"limits.weak"};
  auto text = sheet();
  CHECK(says(text, "est. under 0.1 %"));
  CHECK(says(text, "edge: bond 89 %, 90 % wanted"));
  CHECK_FALSE(says(text, "est. 0.0 %"));
  const std::string at = "03-03 08:15";  // of the wrap
  const auto wet = [&] { return says(sheet(), at + "est. under 0.1 % EARLY, still wet"); };
  CHECK_FALSE(wet());
  step.still_wet = {"limits.wet"};
  step.kept = step.at;
  CHECK(wet());
  step.look = step.at;
  CHECK(says(sheet(), "worth a look since " + at));
  step.announced = step.at;
  CHECK(says(sheet(), "ready since " + at));
  step.by_word = true;
  CHECK(says(sheet(), "ready by your word since " + at));
}

TEST_CASE("what was announced stands in a table and in a file, each word apart") {
  const auto record = kept().record();
  std::vector<SaidThen> said;
  std::ranges::copy_if(record.announcements, std::back_inserter(said),
                       [](const SaidThen& one) { return one.row == kept().announced_row || one.by_word; });
  REQUIRE(said.size() == 2);
  CHECK(said[0].piece == kept().bonnet);
  CHECK(said[0].which == Milestone::wrap_ready);
  CHECK(said[0].word == Word::look);
  CHECK(said[0].probability == 0.62);
  CHECK(said[1].piece == 0);
  CHECK(said[1].word == Word::ready);
  const auto text = cells_of(record);
  for (const auto* words : {"What was announced", "wrapping worth a look 62.0 %", "leaving ready 91.0 %"}) {
    CAPTURE(words);
    CHECK(text.find(squeezed(words)) != std::string::npos);
  }
  const auto files = machine_files(record);
  const auto& bytes = std::ranges::find(files, "announcements.csv", &File::name)->bytes;
  CHECK(bytes.find("," + std::to_string(kept().bonnet) + ",wrap-ready,look,62.0,0\n") != std::string::npos);
  CHECK(bytes.find(",,may-leave,ready,91.0,0\n") != std::string::npos);
  // Another vehicle's row of the same journal tells nothing of this one.
  CHECK(bytes.find(",77.7,") == std::string::npos);
}

}  // namespace dryclock::record
