#include <algorithm>

#include "cli/naming.hpp"
#include "cli/show.hpp"
#include "cli/table.hpp"
#include "cli/validity_words.hpp"
#include "domain/milestones.hpp"

namespace dryclock::cli {
namespace {

using wording::Words;

// Likely, low and high of a zone, with so many decimals.
std::string range(const models::Quantiles& q, double scale, int decimals, const Words& words) {
  const auto number = [&](double value) { return words.fixed(value * scale, decimals); };
  return words.say("client-board.range",
                   {say::text("likely", number(q.likely)), say::text("low", number(q.low)),
                    say::text("high", number(q.high))});
}

// A name as it is shown; `kind` as in PieceSummary::gone.
std::string with_gone(const std::string& shown, const PieceSummary& piece, CatalogueKind kind,
                      const Words& words) {
  const bool gone = std::find(piece.gone.begin(), piece.gone.end(), kind) != piece.gone.end();
  return gone ? words.say("client-board.gone", {say::text("name", shown)}) : shown;
}

std::string zone_table(const PieceSummary& piece, const Words& words) {
  if (piece.state.zones.empty()) {
    return "    " + words.say("client-board.no-estimate") + "\n";
  }
  Table table(heads(words, {"client-board.head-zone", "client-board.head-water", "client-board.head-wet",
                            "client-board.head-excess", "client-board.head-bond", "client-board.head-gone"}));
  for (const auto& z : piece.state.zones) {
    table.row({words.word("zone", z.kind), range(z.water, 1.0, 1, words), range(z.wet_share, 100.0, 0, words),
               range(z.excess, 100.0, 0, words), range(z.bond, 100.0, 0, words),
               show_chance(z.gone_probability, words)});
  }
  return table.text(4);
}

// Done, ready, worth a look, or when it is foreseen to be called ready.
std::string step_state(const PieceSummary& piece, const MilestoneView& view, Time now, const Words& words) {
  const auto at = [&](std::string_view key, Time time) {
    return words.say(key, {say::text("at", words.when(time, now))});
  };
  if (const auto done = done_at(piece, view.which)) {
    return at("client-board.done-at", *done);
  }
  if (view.announced) {
    return at(view.by_word ? "client-board.ready-by-word-since" : "client-board.ready-since",
              *view.announced);
  }
  return view.look ? at("client-board.look-since", *view.look) : when(view.announces, now, words);
}

// Of what somebody waits for, or has done.
std::string step_table(const PieceSummary& piece, Time now, const Words& words) {
  Table table(heads(words, {"client-board.head-step", "client-board.head-now", "client-board.head-foreseen",
                            "client-board.head-expected", "client-board.head-held-by"}));
  std::string left_out;
  for (const auto& m : piece.milestones) {
    const auto name = words.say(key_of("client-board.milestone-", m.which));
    if (!m.needed && !done_at(piece, m.which)) {
      left_out += (left_out.empty() ? "" : ", ") + name;
      continue;
    }
    table.row({name, show_chance(m.probability, words), step_state(piece, m, now, words),
               show_spread(m.expected, now, words), words.fact(m.held_by)});
  }
  return table.text(4) +
         (left_out.empty()
              ? ""
              : "    " + words.say("client-board.left-out", {say::text("steps", left_out)}) + "\n");
}

// "Still wet" is said where liquid was likely; else what was wanted.
std::string early_line(const EarlyStep& early, const Words& words) {
  const auto what = words.fact(early.still_wet);
  return words.say(what.empty()                          ? "client-board.early"
                   : early.still_wet.key == "limits.wet" ? "client-board.early-wet"
                                                         : "client-board.early-wanted",
                   {say::word("step", "words.done-" + early.step),
                    say::text("chance", show_chance(early.probability, words)),
                    say::text("event", std::to_string(early.event)), say::text("what", what)});
}

// What was noted when it was laid, what it holds and waits for, and what to know of that.
std::string piece_state(const PieceSummary& piece, Time now, const Words& words) {
  std::string out;
  for (const auto& [key, text] : {std::pair{"client-board.tension", piece.notes.tension},
                                  std::pair{"client-board.relief-cuts", piece.notes.relief_cuts},
                                  std::pair{"client-board.joins", piece.notes.joins}}) {
    if (!text.empty()) {
      out += "    " + words.say(key, {say::text("where", text)}) + "\n";
    }
  }
  out += zone_table(piece, words) + step_table(piece, now, words);
  for (const auto& early : piece.early_steps) {
    out += "    " + early_line(early, words) + "\n";
  }
  for (const auto& what : validity_words(piece.state.validity, words)) {
    out += "    " + words.say("client-board.caution", {say::text("what", what)}) + "\n";
  }
  return out;
}

}  // namespace

std::string show_piece(const PieceSummary& piece, Time now, const Words& words) {
  const auto out =
      "\n  " +
      words.say("client-board.piece-laid",
                {say::text("piece", with_gone(piece_label(words, piece), piece, CatalogueKind::panel, words)),
                 say::text("number", std::to_string(piece.id)),
                 say::text("film", with_gone(words.film(piece.film), piece, CatalogueKind::film, words)),
                 say::text("solution",
                           with_gone(words.solution(piece.solution), piece, CatalogueKind::solution, words)),
                 say::text("wetness", words.word("wetness", piece.wetness)),
                 say::text("at", words.when(piece.laid, now))}) +
      "\n";
  if (piece.removed) {
    return out + "    " +
           words.say("client-board.removed", {say::text("at", words.when(*piece.removed, now))}) + "\n";
  }
  if (piece.replaced_by) {
    return out + "    " +
           words.say("client-board.replaced", {say::text("number", std::to_string(*piece.replaced_by))}) +
           "\n";
  }
  return out + piece_state(piece, now, words);
}

}  // namespace dryclock::cli
