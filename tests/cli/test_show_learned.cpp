#include <doctest/doctest.h>

#include "cli/show.hpp"
#include "cli/some_board.hpp"

using namespace dryclock;
using dryclock::test::has;

namespace {

const Time now = parse_rfc3339("2026-03-01T06:40:00Z").value();

LearnedView some_learned() {
  LearnedView view;
  view.looks = 23;
  view.pieces = 9;
  view.water = {1.1, 1.4, 1.85};
  view.eye = {0.6, 1.0, 1.7};
  view.unlike = 1.5;
  view.zones = {{models::ZoneKind::edge, 16, 9}, {models::ZoneKind::recess, 1, 1}};
  view.films = {{"baseline", 0, {0.7, 0.9, 1.2}, 20, 8, true}, {"baseline", 7, {0.9, 1.0, 1.1}, 3, 1, false}};
  return view;
}

}  // namespace

TEST_CASE("what the shop has shown, in sentences with the range of each figure") {
  const auto text = cli::show_learned(some_learned(), now, test::some_words());
  CAPTURE(text);
  CHECK(text.starts_with("23 looks at 9 pieces"));
  CHECK(has(text, "Your pieces hold 1.40 times the usual water (1.10 to 1.85).\n"));
  CHECK(has(text, "differs by a factor of about 1.50."));
  CHECK(has(text, "  edge: 16 looks at 9 pieces\n  recess: 1 look at 1 piece\n"));
  CHECK(has(text, "resists 0.90 times as much as the catalogue says (0.70 to 1.20); 20 looks at 8 pieces."));
  CHECK(has(text, "resists 1.00 times as much as was measured (0.90 to 1.10); 3 looks at 1 piece."));
  CHECK(has(text, "Known: its steps"));
  CHECK(has(text, "Not known yet"));
  CHECK(has(text, "has 1.00 times the water that is usual for it (0.60 to 1.70)."));
  CHECK(has(text, "eight cases of ten"));
  CHECK_FALSE(has(text, "does not count"));
}

TEST_CASE("a shop that has shown nothing says so, and since when it learns anew; in German too") {
  LearnedView view;
  view.since = now;
  const auto text = cli::show_learned(view, now, test::some_words(Language::german));
  CAPTURE(text);
  CHECK(text.starts_with("Noch z\xC3\xA4hlt nichts"));
  CHECK(has(text, "gesehen wurde, z\xC3\xA4hlt nicht."));
  CHECK(has(text,
            "des \xC3\xBC"
            "blichen Wassers"));
}
