#include "cli/show.hpp"

namespace dryclock::cli {
namespace {

using wording::Words;

std::vector<Value> range(const models::Quantiles& factor, const Words& words) {
  return {say::text("likely", words.fixed(factor.likely, 2)), say::text("low", words.fixed(factor.low, 2)),
          say::text("high", words.fixed(factor.high, 2))};
}

std::vector<Value> rests_on(std::vector<Value> values, int looks, int pieces) {
  values.push_back(say::count("looks", looks));
  values.push_back(say::count("pieces", pieces));
  return values;
}

}  // namespace

std::string show_learned(const LearnedView& learned, Time now, const Words& words) {
  std::string out;
  const auto line = [&](std::string_view indent, const std::string& text) {
    out += indent;
    out += text + "\n";
  };
  line("", learned.looks == 0 ? words.say("learned.none")
                              : words.say("learned.rests", rests_on({}, learned.looks, learned.pieces)));
  if (learned.since) {
    line("", words.say("learned.since", {say::text("when", words.when(*learned.since, now))}));
  }
  line("", words.say("learned.water", range(learned.water, words)));
  line("  ", words.say("learned.unlike", {say::text("factor", words.fixed(learned.unlike, 2))}));
  for (const auto& zone : learned.zones) {
    line("  ", words.say("learned.zone", rests_on({say::word("zone", Words::word_key("zone", zone.zone))},
                                                  zone.looks, zone.pieces)));
  }
  for (const auto& film : learned.films) {
    auto values = rests_on(range(film.resistance, words), film.looks, film.pieces);
    values.push_back(say::film("film", film.film));
    values.push_back(say::text("measured", film.measurement == 0 ? "no" : "yes"));
    line("", words.say("learned.film", values));
    line("  ", words.say(film.known ? "learned.film-known" : "learned.film-new"));
  }
  line("", words.say("learned.eye", range(learned.eye, words)));
  line("", words.say("learned.range"));
  return out;
}

}  // namespace dryclock::cli
