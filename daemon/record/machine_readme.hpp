// What stands in the README.txt of a record's files for machines.
#pragma once

namespace dryclock::record {

inline constexpr const char* machine_readme =
    R"(The record of one vehicle, for machines. record.pdf shows the same to people. Text is UTF-8; CSV as RFC 4180.

Check that nothing was altered since the export:  sha256sum -c MANIFEST
Times are UTC (RFC 3339). Numbers are the shortest decimal that reads back the same. An empty field: not known.

readings.csv     seq, received, at, sensor, bay, quantity, raw, value, verdict
                 Every reading of the bays that the vehicle stood in, while it stood there. raw is what the sensor
                 sent, in its own unit; value is converted and corrected: °C, %RH over liquid water, m/s. Only
                 readings with the verdict ok reach the estimate.
events.ndjson    What was told, one JSON object a line, in the order of the journal; superseded ones included.
air.csv          at, bay, air_c, rh_pct, panel_c, dew_point_c, air_speed_m_s, pace, bridged
                 One row a minute. bridged 1: no readings, the slower end of the gap was assumed. pace: how fast
                 this air dries film against 21 °C and 50 %RH.
water.csv        at, piece, zone, water_low, water_likely, water_high, excess_likely, bond_low, bond_likely,
                 bond_high, wet_low, wet_likely, wet_high: g/m2, fractions; wet: of the zone's area; low, likely,
                 high are the 10th, 50th and 90th percentile. Every ten minutes, of a long stay less often.
pieces.csv       piece, panel, part, side, place, step, at, event, probability_pct, announced, look, by_word, said,
                 zone, again_pct, again_announced, again_held_by, again_fact, text, language
                 One row for each laying, wrap, trim, refit and release. side: which of several such panels, as one
                 sits in the vehicle; place: what the part is called, a word of the program's or the user's own.
                 probability_pct: what the page said just
                 before it, or where it was told later what had been said last until then, that the step's
                 milestone was reached; empty: the piece was not known to it then.
                 announced: when the program had called the milestone reached; empty: it had not. look: when it had
                 been called worth a look, and was not called reached since; by_word 1: it was called reached by
                 what somebody saw, not by the estimate. said: when that was said, to the minute, as the log kept it; empty: the log keeps none from then, and it is worked
                 out by the version that made this record. zone: which held it back. again: worked out likewise,
                 with the settings of the record's end; again_held_by is the key of what held the step back,
                 and again_fact that with the values it speaks of, as JSON. text: what held it back, in the words
                 that the page said; language: en, or shop where the log kept the words: the shop's language when
                 it was said.
announcements.csv  row, at, piece, milestone, word, probability_pct, by_word
                 What was called worth a look, ready or neither after all, in the order of the log; piece empty: of
                 the vehicle. by_word 1: by what somebody saw; probability_pct is the estimate's then.
shown.ndjson     What the page said of the vehicle, one row of the log a line, with its number: at every wrap, trim,
                 refit, inspection and release, announcement and alert, and hourly (no "why") what had changed.
                 Times are minutes from "at", which is minutes since 1970; probabilities and bond per mille, water
                 0.1 g/m2. What is left out, and 0 in a piece, is as the rows before it said. A piece is [number,
                 wrap, trim, refit, clear, water, bond, liquid gone, may leave]; in rows of before there was a
                 "clear", "dry" stands in its place; water and bond are [low, likely, high]. A milestone, and the
                 release, is [probability, when it was called reached or [early, likely, late], zone that holds it
                 back, what holds it back in words, when it was called worth a look, 1 by what somebody saw]. An alert is [step, rule, subject, level, text], a delivery
                 [channel, alert, why it was given up].
alerts.csv       raised, rule, subject, level, seen, cleared, deliveries, text, language
                 Of the vehicle, and those of its bays and their sensors that were open while it was here, as the
                 log kept them up to a day after its release; times to the minute. rule, subject and level are
                 keys; text is what was said, and language shop: in the shop's language when it was said.
disclosures.csv  kind, from, to, subject, count, detail
                 Gaps in the air, steps of the clock, starts of the program, settings that were assumed, readings
                 that were not used and messages that could not be read.
sensors.csv      sensor, bay, quantity, topic, pointer, unit, slope, offset, model, place, checked, verdict,
                 salt, shown_pct, temperature_c, expected_pct, expected_expanded_pct, tolerance_pct
                 How each sensor was read. checked: when it was last held over a saturated salt solution; empty:
                 never, as far as the log tells. What that gave follows: what it showed over which salt, at which
                 temperature, what is to be expected there and how well that is known (k = 2), and what the
                 sensor's maker states: °C, %RH.
parameters.json  Every figure the estimate rests on: name, value, unit, source.
personal/        Where present: plate and customer, each as 32 random bytes and the text behind them. They are
                 no part of the sealed log, which has only their SHA-256. To see that they are the ones that were
                 told when the vehicle came in, compare
                     sha256sum personal/*
                     grep -o '[a-z]*_sha256[^,}]*' events.ndjson
                 and to read them:  tail -c +33 personal/plate
                 Take the folder away, and the rest tells neither and still verifies.
sealed/          Where present: the journal's sealed segments and checkpoints.

A record shows what was told and measured. It cannot show that it was told truly.
)";

}  // namespace dryclock::record
