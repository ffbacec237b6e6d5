// What is said of a milestone and what is not: each rule of the judge by itself.
#include "compute/judge.hpp"

#include <doctest/doctest.h>

#include "compute_tasks.hpp"

namespace dryclock::compute {
namespace {

using namespace std::chrono_literals;
using models::Milestone;
using test::leave;
using test::now;
using test::wrap;

constexpr double level = 0.9;

Standing known(Said said = {}) {
  return {said, true};
}
Standing unknown(Said said = {}) {
  return {said, false};
}
const Said looked{.look = now, .ready = {}, .by_word = false};
const Said ready{.look = {}, .ready = now, .by_word = false};
const Said by_word{.look = {}, .ready = now, .by_word = true};

TEST_CASE("known film: ready at the shop's level, and no look before") {
  CHECK_FALSE(word_for(0.5, known(), level));
  CHECK_FALSE(word_for(0.899, known(), level));
  CHECK(word_for(0.9, known(), level) == Word::ready);
  CHECK(word_for(0.95, known(), 0.97) == std::nullopt);
  CHECK(next_level(known(), level) == level);
}

TEST_CASE("film that nobody has confirmed: worth a look from an even chance on, and never ready by itself") {
  CHECK_FALSE(word_for(0.499, unknown(), level));
  CHECK(word_for(0.5, unknown(), level) == Word::look);
  CHECK(word_for(0.99, unknown(), level) == Word::look);
  CHECK_FALSE(word_for(0.99, unknown(looked), level));  // it was said
  CHECK(next_level(unknown(), level) == 0.5);
  CHECK_FALSE(next_level(unknown(looked), level));
}

TEST_CASE("somebody looked: ready at the level, whatever was said before") {
  CHECK(word_for(0.92, known(looked), level) == Word::ready);
  CHECK_FALSE(word_for(0.6, known(looked), level));
  CHECK(next_level(known(looked), level) == level);
}

TEST_CASE("what was said is taken back a little below its level") {
  CHECK_FALSE(word_for(0.851, known(ready), level));
  CHECK(word_for(0.849, known(ready), level) == Word::taken_back);
  CHECK_FALSE(word_for(0.451, unknown(looked), level));
  CHECK(word_for(0.449, unknown(looked), level) == Word::taken_back);
  CHECK_FALSE(word_for(0.3, known(), level));  // nothing was said
  CHECK_FALSE(next_level(known(ready), level));
}

TEST_CASE("an estimate takes nothing back that the user saw") {
  CHECK_FALSE(word_for(0.1, known(by_word), level));
  CHECK_FALSE(word_for(0.99, known(by_word), level));
}

// One piece, of which the estimate says so much.
struct Case {
  OutlookTask task = test::task_of({test::item(4)});
  OutlookAnswer answer;
  Case(double of_wrap, double of_leave) {
    answer.pieces.resize(1);
    answer.pieces[0].id = 4;
    answer.pieces[0].reach[wrap].probability = of_wrap;
    answer.pieces[0].reach[leave].probability = of_leave;
    answer.release_probability = of_leave;
    task.pieces[0].needed = {};
    task.pieces[0].needed[wrap] = task.pieces[0].needed[leave] = true;
    task.known_films = {task.pieces[0].film};
  }
  [[nodiscard]] std::vector<Announcement> judged() const { return judge(task, answer); }
};
const Announcement wrap_is_ready{4, Milestone::wrap_ready, Word::ready, 0.95};

TEST_CASE("each needed milestone is judged by its own chance, with the chance told") {
  Case one(0.95, 0.3);
  CHECK(one.judged() == std::vector{wrap_is_ready});
  one.task.pieces[0].needed[wrap] = false;  // nobody will do that step
  CHECK(one.judged().empty());
}

TEST_CASE("a piece counts as known by its film or by a look at it") {
  Case one(0.95, 0.3);
  one.task.known_films.clear();
  REQUIRE(one.judged().size() == 1);
  CHECK(one.judged()[0].word == Word::look);
  one.task.pieces[0].looked_at = true;
  CHECK(one.judged() == std::vector{wrap_is_ready});
}

TEST_CASE("the vehicle: ready with all of it kept") {
  Case one(0.0, 0.95);
  one.task.pieces[0].said[leave] = ready;
  const std::vector<Announcement> leaves{{0, Milestone::may_leave, Word::ready, 0.95}};
  CHECK(one.judged() == leaves);

  SUBCASE("not before the least time indoors") {
    one.task.earliest_release = now + 1ms;
    CHECK(one.judged().empty());
  }
  SUBCASE("not while a piece is still planned") {
    one.task.to_lay = {{{"bonnet", 1, 1}, one.task.pieces[0].film, test::spec()}};
    CHECK(one.judged().empty());
  }
  SUBCASE("not while water condenses") {
    one.task.pieces[0].condensing = true;
    CHECK(one.judged().empty());
  }
  SUBCASE("a look while one piece is neither known nor looked at") {
    one.task.known_films.clear();
    REQUIRE(one.judged().size() == 1);
    CHECK(one.judged()[0].word == Word::look);
  }
}

TEST_CASE("a vehicle that may leave: a piece more takes it back, dew alone does not") {
  Case one(0.0, 0.95);
  one.task.pieces[0].said[leave] = one.task.release_said = ready;
  one.task.pieces[0].condensing = true;
  CHECK(one.judged().empty());
  one.task.to_lay = {{{"bonnet", 1, 1}, one.task.pieces[0].film, test::spec()}};
  const std::vector<Announcement> not_yet{{0, Milestone::may_leave, Word::taken_back, 0.0}};
  CHECK(one.judged() == not_yet);
}

TEST_CASE("an empty vehicle says nothing") {
  OutlookTask task = test::task_of({});
  OutlookAnswer answer;
  answer.release_probability = 1.0;
  CHECK(judge(task, answer).empty());
}

TEST_CASE("asked again when the next word is foreseen within ten minutes") {
  Case one(0.88, 0.3);
  auto& at = one.answer.pieces[0].reach[wrap].announces;
  CHECK_FALSE(ask_again(one.task, one.answer));
  at = now + 7min;
  CHECK(ask_again(one.task, one.answer) == now + 7min);
  one.answer.release_announces = now + 5min;
  CHECK(ask_again(one.task, one.answer) == now + 5min);
  one.answer.release_announces.reset();
  at = now + 5s;  // not in a loop
  CHECK(ask_again(one.task, one.answer) == now + 1min);
  at = now;  // it is said with this answer
  CHECK_FALSE(ask_again(one.task, one.answer));
  at = now + 11min;
  CHECK_FALSE(ask_again(one.task, one.answer));
}

}  // namespace
}  // namespace dryclock::compute
