// Words, numbers and times as who holds this phone reads them: messages of the catalogue (daemon/wording/messages) in one
// language and on one temperature scale.
import type { Catalogue, Fact, Finding, Instant, Piece, PieceToLay, PlateSign, Side, Site, Value, Wetness, Which, ZoneKind } from "../data/api";
import type { Phone } from "../data/phone";
import type { Key, Values } from "./messages";
import { formOf, isKey } from "./tables";

// Until the shop's settings are known: as the device speaks.
const fallback = (): Site => ({
  name: "dryclock",
  time_zone: "UTC",
  language: /^de\b/.test(navigator.language) ? "de" : navigator.language === "en-US" ? "en-US" : "en-GB",
  temperature_unit: "C",
});

// The shop's settings, with what this phone shows otherwise.
export const siteOf = (catalogue: Catalogue | null, phone: Phone): Site => ({ ...(catalogue?.site ?? fallback()), ...phone });

export const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

// Those that are told nothing.
export type PlainKey = { [K in Key]: keyof Values[K] extends never ? K : never }[Key];

const none = "-"; // for what is not known, as the daemon writes it
type Quantity = Exclude<Value["measure"], "text" | "word" | "film" | "solution" | "panel" | "facts" | "time" | "count">;

// As many as anyone can act on: two figures, and no more than three decimals.
const decimalsOfFigure = (value: number): number => [10, 1, 0.1].filter((least) => Math.abs(value) < least).length;

const hourAndMinute = { hour: "2-digit", minute: "2-digit" } as const;

// In British words, which may stand for the others.
type Labels = { key: string; label_us: string; label_de: string } & ({ label_uk: string } | { label: string });
function labelOf(entry: Labels, language: Site["language"]): string {
  const british = "label" in entry ? entry.label : entry.label_uk;
  return (language === "de" ? entry.label_de : language === "en-US" ? entry.label_us : "") || british;
}

// What a piece is called by.
export type NamedPiece = Pick<Piece, "panel" | "part" | "parts"> & { side?: Side | null; place?: string };

export class Words {
  private readonly clock: Intl.DateTimeFormat;
  private readonly dayClock: Intl.DateTimeFormat;
  private readonly date: Intl.DateTimeFormat;
  private readonly yearDate: Intl.DateTimeFormat;
  private readonly day: Intl.DateTimeFormat;
  private readonly calendar: Intl.DateTimeFormat;
  private readonly hourOnly: Intl.DateTimeFormat;
  private readonly dayOnly: Intl.DateTimeFormat;

  constructor(
    readonly site: Site,
    private readonly catalogue: Catalogue | null,
  ) {
    const language = site.language;
    const time = { ...hourAndMinute, timeZone: site.time_zone } as const;
    this.clock = new Intl.DateTimeFormat(language, time);
    this.dayClock = new Intl.DateTimeFormat(language, { weekday: "short", ...time });
    const date = { weekday: "short", day: "numeric", month: "short", ...time } as const;
    this.date = new Intl.DateTimeFormat(language, date);
    this.yearDate = new Intl.DateTimeFormat(language, { ...date, year: "numeric" });
    this.calendar = new Intl.DateTimeFormat(language, { weekday: "short", day: "numeric", month: "short", timeZone: site.time_zone });
    this.day = new Intl.DateTimeFormat(language, { weekday: "short", day: "numeric", timeZone: site.time_zone });
    this.hourOnly = new Intl.DateTimeFormat(language, { hour: language === "en-US" ? "numeric" : "2-digit", timeZone: site.time_zone });
    this.dayOnly = new Intl.DateTimeFormat(language, { weekday: "short", timeZone: site.time_zone });
  }

  // A message as a sentence, a heading or a button of its own.
  title<K extends Key>(key: K, ...values: keyof Values[K] extends never ? [] : [Values[K]]): string {
    return sentence(this.say(key, ...values));
  }
  // "Bonnet: edge opened"
  about(subject: string, what: string): string {
    return this.say("page.about-subject", { subject, what });
  }
  // An entry of the catalogue in this phone's words, as within a sentence.
  private label(kind: "films" | "solutions" | "panels" | "templates", key: string): string {
    const entries: Labels[] = this.catalogue?.[kind] ?? [];
    const entry = entries.find((one) => one.key === key);
    return entry ? labelOf(entry, this.site.language) : key;
  }
  film(key: string): string {
    return sentence(this.label("films", key));
  }
  solution(key: string): string {
    return sentence(this.label("solutions", key));
  }
  panel(key: string): string {
    return sentence(this.label("panels", key));
  }
  // "Left front door", "Front bumper, upper half"
  piece({ panel, part, parts, side, place }: NamedPiece): string {
    const what = { panel: this.label("panels", panel), part: String(part), parts };
    const sided = side ? { ...what, side: this.side(side) } : null;
    return sentence(
      place
        ? sided
          ? this.say("words.piece-side-place", { ...sided, place: this.place(place) })
          : this.say("words.piece-place", { ...what, place: this.place(place) })
        : sided
          ? this.say("words.piece-side", sided)
          : this.say("words.piece", what),
    );
  }
  // The same in two: what stands in bold, and where it is.
  pieceParts({ panel, part, parts, side, place }: NamedPiece): { name: string; place: string } {
    const which = place ? this.place(place) : parts > 1 ? `${part}/${parts}` : "";
    return { name: this.panel(panel), place: [side ? this.side(side) : "", which].filter(Boolean).join(", ") };
  }
  side(side: Side): string {
    return this.say(`words.side-${side}`);
  }
  // A word of the catalogue, or the user's own.
  place(place: string): string {
    const key = `words.place-${place}`;
    return isKey(key) ? (this.say as (key: Key) => string).call(this, key) : place;
  }
  template(key: string): string {
    return sentence(this.label("templates", key));
  }
  // A message of the catalogue: its key and what it speaks of. Numbers choose singular or plural; all else comes as it is to stand.
  say<K extends Key>(key: K, ...values: keyof Values[K] extends never ? [] : [Values[K]]): string {
    const text = formOf(key, this.site.language)?.(values[0] ?? {}) ?? "";
    return key.startsWith("units.") ? text.replaceAll(" ", "\u00a0") : text; // a number and its unit stay on one line
  }
  // What the daemon tells as a fact. One that a later daemon tells, and this page has no message for, comes in its words.
  fact(fact: Fact): string {
    if (!isKey(fact.key)) {
      return fact.words ?? "";
    }
    const values = Object.fromEntries(fact.values.map((value) => [value.name, this.value(value)]));
    const text = (this.say as (key: Key, values: unknown) => string).call(this, fact.key, values);
    return Object.values(values).some(Number.isNaN) ? text.replaceAll("NaN", none) : text;
  }
  // The same as a sentence of its own.
  sentence(fact: Fact): string {
    return sentence(this.fact(fact));
  }

  number(value: number, decimals: number, signed = false): string {
    return new Intl.NumberFormat(this.site.language, {
      maximumFractionDigits: decimals,
      signDisplay: signed ? "exceptZero" : "negative",
    }).format(value);
  }
  // With all its decimals, as an instrument shows it: "50.0"; without a sign where nothing is left of it.
  fixed(value: number, decimals: number): string {
    return new Intl.NumberFormat(this.site.language, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      signDisplay: "negative",
    }).format(value);
  }
  // 50.04 -> "50 %"; with one decimal "50.0 %"
  percent(value: number, decimals = 0): string {
    return this.say("units.share", { n: this.fixed(value, decimals) });
  }
  // Two figures: as many as anyone can act on.
  figure(value: number): string {
    return this.number(value, decimalsOfFigure(value));
  }
  // A chance, which is never none and never certain: "87 %", "over 99 %".
  chance(value: number): string {
    return value < 0.005
      ? this.say("page.under", { share: this.share(0.01) })
      : value >= 0.995
        ? this.say("page.over", { share: this.share(0.99) })
        : this.share(value);
  }
  // 0.873 -> "87 %"
  share(value: number, decimals = 0): string {
    return this.say("units.share", { n: this.number(100 * value, decimals) });
  }
  // In this phone's degrees.
  inScale(celsius: number): number {
    return this.site.temperature_unit === "F" ? (celsius * 9) / 5 + 32 : celsius;
  }
  temperature(celsius: number): string {
    const n = this.number(this.inScale(celsius), 1);
    return this.say(this.site.temperature_unit === "F" ? "units.fahrenheit" : "units.celsius", { n });
  }
  // "°C"
  degrees(): string {
    return `°${this.site.temperature_unit}`;
  }
  difference(kelvin: number): string {
    return this.site.temperature_unit === "F"
      ? this.say("units.fahrenheit", { n: this.number((kelvin * 9) / 5, 1) })
      : this.say("units.kelvin", { n: this.number(kelvin, 1) });
  }
  // Of a film to water, in m2 s Pa/kg.
  resistance(value: number): string {
    return this.say("units.resistance", { n: this.figure(value / 1e9) });
  }
  // "3 days 4 h", "2 h 10 min", "45 s": what is left over is dropped.
  span(seconds: number): string {
    const [days, hours, minutes] = [86_400, 3600, 60].map((unit) => Math.floor(seconds / unit)) as [number, number, number];
    const tail = (n: number, key: "units.hours" | "units.minutes"): string => (n === 0 ? "" : ` ${this.say(key, { n: String(n) })}`);
    return days > 0
      ? this.say("units.days", { n: days }) + tail(hours % 24, "units.hours")
      : hours > 0
        ? this.say("units.hours", { n: String(hours) }) + tail(minutes % 60, "units.minutes")
        : minutes >= 2 || seconds === 0 || seconds % 60 === 0
          ? this.say("units.minutes", { n: String(minutes) })
          : this.say("units.seconds", { n: String(Math.floor(seconds)) });
  }
  // As its message wants it: a number where it chooses the plural, else how it is written; `none` where it is missing.
  private value(value: Value): string | number {
    switch (value.measure) {
      case "text":
        return value.text ?? "";
      case "word":
        return this.fact({ key: value.text ?? "", values: [], words: value.text ?? "" });
      case "film":
        return this.label("films", value.text ?? "");
      case "solution":
        return this.label("solutions", value.text ?? "");
      case "panel":
        return this.label("panels", value.text ?? "");
      case "facts":
        return new Intl.ListFormat(this.site.language, { type: "unit", style: "short" }).format(
          (value.facts ?? []).map((one) => this.fact(one)),
        );
      case "time":
        return value.at ? this.date.format(new Date(value.at)).replaceAll(",", "") : none;
      case "count":
        return value.number ?? NaN;
      default:
        return value.number == null ? none : this.measured(value.measure, value.number);
    }
  }
  private measured(measure: Quantity, number: number): string {
    switch (measure) {
      case "C":
        return this.temperature(number);
      case "K":
        return this.difference(number);
      case "%RH":
        return this.say("units.humidity", { n: this.number(number, 1) });
      case "%RH-change":
        return this.say("units.humidity", { n: this.number(number, 1, true) });
      case "g/m2":
        return this.say("units.water", { n: this.figure(number) });
      case "h":
        return this.say("units.hours", { n: this.figure(number) });
      case "1":
        return this.figure(number);
      case "share":
        return this.share(number, 1);
      case "s":
        return this.span(number);
      case "ppm":
        return this.say("units.concentration", { n: this.number(number, 0) });
      case "g":
        return this.say("units.mass", { n: this.number(number, 0) });
      case "m3":
        return this.say("units.volume", { n: this.number(number, 1) });
      case "byte":
        return this.say("units.storage", { n: this.number(number / 1e6, 0) });
      case "m/s":
        return this.say("units.speed", { n: this.number(number, 1) });
      case "m2 s Pa/kg":
        return this.resistance(number);
    }
  }

  alcohol(solution: string): number {
    return this.catalogue?.solutions.find((one) => one.key === solution)?.alcohol_fraction ?? 0;
  }
  // What was typed, in the user's unit; null where it is no number.
  celsius(typed: string): number | null {
    const degrees = typedNumber(typed);
    return degrees !== null && this.site.temperature_unit === "F" ? ((degrees - 32) * 5) / 9 : degrees;
  }

  // A place: "outside" is one that the shop did not name.
  bay(name: string): string {
    return name === "outside" ? this.say("page.outside") : name;
  }
  // "Bay front", "Outside"
  bayTitle(name: string): string {
    return name === "outside" ? this.title("page.outside") : this.say("bay.title", { bay: name });
  }
  zone(kind: ZoneKind): string {
    return this.say(`words.zone-${kind}`);
  }
  finding(finding: Finding): string {
    return this.say(`words.finding-${finding}`);
  }
  plateSign(sign: PlateSign): string {
    return this.say(`words.plate-${sign}`);
  }
  wetness(wetness: Wetness): string {
    return this.say(`words.wetness-${wetness}`);
  }
  // What a milestone lets one do: "Wrap edges".
  step(which: Which): string {
    return this.say(`vehicle.do-${which}`);
  }
  // The same in one word, within a line: "wrap".
  shortStep(which: Which): string {
    return isShort(which) ? this.say(`vehicle.short-${which}`) : "";
  }
  // "2 wrapped, 1 trimmed"
  doneCounts(counts: Map<StepEvent, number>): string {
    return [...counts].map(([event, count]) => this.say(`vehicle.count-${event}`, { count })).join(", ");
  }
  // "edges wrapped", by the event's name; one that a later daemon tells has none.
  done(event: string): string {
    const key = `words.done-${event}`;
    return isKey(key) ? (this.say as (key: Key) => string).call(this, key) : event;
  }

  // "Sat 07:40"; with the date where the weekday would be ambiguous, with the year where the date would be.
  when(at: Instant | Date, now: Date): string {
    const time = new Date(at);
    const days = Math.abs(time.getTime() - now.getTime()) / 86_400_000;
    return (days < 6 ? this.dayClock : days < 180 ? this.date : this.yearDate).format(time).replaceAll(",", "");
  }
  // "07:40"; "07 AM"
  clockAt(at: number): string {
    return this.clock.format(at);
  }
  // For a narrow axis: "07", "7 AM"
  hour(at: number): string {
    return this.hourOnly.format(at).replace(/\sUhr$/, "");
  }
  weekday(at: number): string {
    return this.dayOnly.format(at);
  }
  // "Europe/London", "America/New York"
  timeZone(): string {
    return this.site.time_zone.replaceAll("_", " ");
  }
  // "22:00", as settings have it, by this phone's clock: "10:00 PM".
  clockTime(setting: string): string {
    return new Intl.DateTimeFormat(this.site.language, { ...hourAndMinute, timeZone: "UTC" }).format(new Date(`2000-01-01T${setting}Z`));
  }
  // "Sat 21 Mar"
  dayOf(at: Instant): string {
    return this.calendar.format(new Date(at)).replaceAll(",", "");
  }
  // "70 min", "3 h", "2 days"
  roughly(ms: number): string {
    const { unit, n } = inWhole(ms);
    return unit === "days" ? this.say("units.days", { n }) : this.say(`units.${unit}`, { n: String(n) });
  }
  // "3 h ago"
  ago(ms: number): string {
    const { unit, n } = inWhole(ms);
    return ms < 60_000 ? this.say("page.just-now") : this.say(`page.ago-${unit}`, { n });
  }
  // "in 3 h (Sat 07:40)"
  coming(at: Instant, now: Date): string {
    const ms = Date.parse(at) - now.getTime();
    const { unit, n } = inWhole(ms);
    const until = ms < 60_000 ? this.say("page.any-minute") : this.say(`page.in-${unit}`, { n });
    return this.say("page.coming", { until, at: this.when(at, now) });
  }
  // "by Sat 14:20"; past that, what chance is left; nothing where nobody knows.
  layBy(piece: PieceToLay, now: Date): string {
    if (piece.lay_by) {
      return this.say("lay.by", { when: this.when(piece.lay_by, now) });
    }
    return piece.chance_now === null ? "" : this.say("lay.too-late", { share: this.chance(piece.chance_now) });
  }
  // For a plot's axis: the hour, and the day where it begins.
  tick(at: Date): string {
    const clock = this.clock.format(at);
    return /^(00:00|12:00\sAM)$/.test(clock) ? this.day.format(at) : clock;
  }
}

// With a comma or a point; null where it is no number.
export function typedNumber(text: string): number | null {
  const plain = text.trim().replace(",", ".");
  return /^-?\d*\.?\d+$/.test(plain) ? Number(plain) : null;
}

// As people say it: minutes up to an hour and a half, hours up to two days.
function inWhole(ms: number): { unit: "minutes" | "hours" | "days"; n: number } {
  const minutes = Math.round(ms / 60_000);
  const hours = Math.round(minutes / 60);
  return minutes < 90 ? { unit: "minutes", n: minutes } : hours < 48 ? { unit: "hours", n: hours } : { unit: "days", n: Math.round(hours / 24) };
}

export type StepEvent = "edge-wrapped" | "trimmed" | "refitted";
const isShort = (which: Which): which is (typeof steps)[number]["which"] => steps.some((step) => step.which === which);

// What a milestone lets one do, and the event that tells that it was done, with the piece's field that holds when.
export const steps = [
  { which: "wrap-ready", event: "edge-wrapped", at: "wrapped" },
  { which: "trim-ready", event: "trimmed", at: "trimmed" },
  { which: "refit-ready", event: "refitted", at: "refitted" },
  { which: "may-leave", event: null, at: null },
] as const satisfies { which: Which; event: StepEvent | null; at: "wrapped" | "trimmed" | "refitted" | null }[];
