#include <doctest/doctest.h>

#include "record/search.hpp"
#include "record/shop_story.hpp"

namespace dryclock::record {
namespace {

using std::chrono::hours;

class Search {
 public:
  [[nodiscard]] std::vector<VehicleFound> operator()(SearchQuery query) const {
    return search(reader_, dates_, eventful().setup(), zone_, query, now()).value().vehicles;
  }
  [[nodiscard]] bool finds(const char* words) const { return !(*this)({words, {}, {}, false}).empty(); }
  [[nodiscard]] std::set<PieceId> hits(SearchQuery query) const {
    std::set<PieceId> ids;
    for (const auto& vehicle : (*this)(std::move(query))) {
      for (const auto& piece : vehicle.pieces) {
        if (piece.hit) {
          ids.insert(piece.id);
        }
      }
    }
    return ids;
  }
  [[nodiscard]] Time now() const { return reader_.extent().value().last_at; }

 private:
  store::Reader reader_ = store::Reader::open(eventful().database()).value();
  history::Dates dates_ = history::Dates::read(reader_, false).value();
  LocalZone zone_ = LocalZone::find("UTC").value();
};

}  // namespace

TEST_CASE("a vehicle is found by each word of its reference, and by the days that it was here") {
  const Search search;
  const auto& record = eventful_record();
  CHECK(search.finds(record.reference.c_str()));
  CHECK_FALSE(search.finds((record.reference + " nowhere").c_str()));
  const auto day = to_rfc3339(record.from).substr(0, 10);
  CHECK(search.finds(day.c_str()));
  CHECK(search.finds(day.substr(0, 7).c_str()));
  CHECK(search.finds(to_rfc3339(*record.released).substr(0, 10).c_str()));
  CHECK_FALSE(search.finds(to_rfc3339(record.from - hours{24 * 40}).substr(0, 10).c_str()));
  CHECK(search({"", record.from + hours{1}, {}, false}).size() == 1);
  CHECK(search({"", *record.released + hours{1}, {}, false}).empty());
  CHECK(search({"", {}, record.from - hours{1}, false}).empty());
}

TEST_CASE("a piece is found by its panel in any language and its film; the ended one too") {
  const Search search;
  const auto& story = eventful();
  CHECK(search.hits({"hood", {}, {}, false}) == std::set<PieceId>{story.bonnet});
  CHECK(search.hits({"MOTORHAUBE", {}, {}, false}) == std::set<PieceId>{story.bonnet});
  CHECK(search.hits({"headlight", {}, {}, false}) == std::set<PieceId>{story.lamp, story.second_lamp});
  CHECK(search.hits({"bonnet headlight", {}, {}, false}).empty());  // no one piece is both
}

TEST_CASE("what was seen lifting at a recheck is found by that") {
  const Search search;
  const auto& story = eventful();
  const auto hits = search.hits({"", {}, {}, true});
  CHECK(hits.contains(story.bumper));
  CHECK_FALSE(hits.contains(story.bonnet));
}

}  // namespace dryclock::record
