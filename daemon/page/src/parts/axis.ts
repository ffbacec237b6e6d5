// The 36 hours that every band is drawn on: nights, hours, and what is before tonight or the morning.
import { timesOf, wallClock } from "../data/shop_time";
import type { Words } from "../words/words";

const hour = 3_600_000;
const before_now = 1.5 * hour;
const span = 36 * hour;
const evening = "22:00"; // the last look of a day
const morning = "07:00";
const night = { from: "20:00", to: "06:00" } as const;

export interface Axis {
  now: number;
  along: (at: number) => number; // 0 at its begin, 1 at its end
  nights: { from: number; to: number }[]; // along it
  ticks: { at: number; text: string; what: "now" | "moon" | "flag" | "hour" }[];
}

const near = 0.07; // along it: two texts that would touch
const into_night = 0.036; // a moon, behind the night's begin

// `flags`: hand-overs that are agreed.
export function axisOf(now: number, flags: number[], words: Words): Axis {
  const zone = words.site.time_zone;
  const begin = now - before_now;
  const along = (at: number): number => (at - begin) / span;
  const nights = timesOf(night.from, begin - 12 * hour, begin + span, zone)
    .map((from) => ({ from: Math.max(0, along(from)), to: Math.min(1, along(timesOf(night.to, from, from + 14 * hour, zone)[0] ?? from + 10 * hour)) }))
    .filter(({ from, to }) => to > from);
  const all: Axis["ticks"] = [
    { at: along(now), text: words.say("board.axis-now"), what: "now" },
    ...flags.map((at) => ({ at: along(at), text: words.hour(at), what: "flag" as const })),
    ...nights.filter(({ from }) => from > 0).map(({ from }) => ({ at: from + into_night, text: "", what: "moon" as const })),
    ...["00:00", "06:00", "12:00", "18:00"].flatMap((clock) =>
      timesOf(clock, begin, begin + span, zone).map((at) => ({ at: along(at), text: clock === "00:00" ? words.weekday(at) : words.hour(at), what: "hour" as const })),
    ),
  ];
  const ticks: Axis["ticks"] = [];
  for (const one of all.filter(({ at }) => at >= 0 && at < 0.97)) {
    if (!ticks.some((other) => Math.abs(other.at - one.at) < (other.what === "now" ? 1.4 * near : near))) {
      ticks.push(one);
    }
  }
  return { now, along, nights, ticks };
}

export interface Until {
  what: "tonight" | "morning";
  at: number;
}
// The next evening and the next morning, the nearer one first.
export function untils(now: number, zone: string): Until[] {
  const next = (clock: string): number => timesOf(clock, now + 1, now + 26 * hour, zone)[0] ?? now + 24 * hour;
  const both: Until[] = [
    { what: "tonight", at: next(evening) },
    { what: "morning", at: next(morning) },
  ];
  return both.sort((a, b) => a.at - b.at);
}

export const isNight = (now: Date, zone: string): boolean => {
  const clock = wallClock(now, zone).slice(11);
  return clock >= evening || clock < night.to;
};
