// Numbers, times and names as this shop's people write them.
import type { Catalogue, Instant, Piece, PieceToLay, Site, Spread, Wetness, Which, ZoneKind } from "../data/api";
import type { Phone } from "../data/phone";

const fallback: Site = { name: "dryclock", time_zone: "UTC", dialect: "uk", temperature_unit: "C" };

// The shop's settings, with what this phone shows otherwise.
export const siteOf = (catalogue: Catalogue | null, phone: Phone): Site => ({ ...(catalogue?.site ?? fallback), ...phone });

export const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

export class Words {
  private readonly clock: Intl.DateTimeFormat;
  private readonly dayClock: Intl.DateTimeFormat;
  private readonly date: Intl.DateTimeFormat;
  private readonly day: Intl.DateTimeFormat;
  private readonly calendar: Intl.DateTimeFormat;

  constructor(
    readonly site: Site,
    private readonly catalogue: Catalogue | null,
  ) {
    const language = site.dialect === "us" ? "en-US" : "en-GB";
    const time = { hour: "2-digit", minute: "2-digit", timeZone: site.time_zone } as const;
    this.clock = new Intl.DateTimeFormat(language, time);
    this.dayClock = new Intl.DateTimeFormat(language, { weekday: "short", ...time });
    this.date = new Intl.DateTimeFormat(language, { weekday: "short", day: "numeric", month: "short", ...time });
    this.calendar = new Intl.DateTimeFormat(language, { weekday: "short", day: "numeric", month: "short", timeZone: site.time_zone });
    this.day = new Intl.DateTimeFormat(language, { weekday: "short", day: "numeric", timeZone: site.time_zone });
  }

  panel(key: string): string {
    const entry = this.catalogue?.panels.find((one) => one.key === key);
    return sentence(entry ? (this.site.dialect === "us" ? entry.label_us : entry.label_uk) : key);
  }
  piece(piece: Pick<Piece, "panel" | "part" | "parts">): string {
    const part = piece.parts > 1 ? `, ${piece.part} of ${piece.parts}` : "";
    return this.panel(piece.panel) + part;
  }
  template(key: string): string {
    const entry = this.catalogue?.templates.find((one) => one.key === key);
    return sentence(entry ? (this.site.dialect === "us" ? entry.label_us : entry.label_uk) : key);
  }
  // The engine's sentence begins with a piece in the shop's words, "front wing 1/2, edge: ...": this phone's words.
  heldBy(text: string): string {
    const [, name = "", rest = ""] = /^(.*?)((?: \d+\/\d+)?, .*)$/.exec(text) ?? [];
    const entry = this.catalogue?.panels.find((one) => [one.key, one.label_uk, one.label_us].includes(name));
    return this.sentence(entry ? this.panel(entry.key) + rest : text);
  }
  // The engine writes temperatures in C, differences in K, and m2: "front is at 9.4 C, 3 K above the dew point".
  sentence(text: string): string {
    const degrees =
      this.site.temperature_unit === "F"
        ? text.replace(/(-?\d+)(\.\d+)? ([CK])\b/g, (_, whole: string, decimals = "", unit: string) =>
            `${((Number(whole + decimals) * 9) / 5 + (unit === "C" ? 32 : 0)).toFixed(Math.max(0, String(decimals).length - 1))} °F`,
          )
        : text.replace(/(\d) C\b/g, "$1 °C");
    return degrees.replace(/\bm([23])\b/g, (_, power: string) => (power === "2" ? "m²" : "m³"));
  }
  alcohol(solution: string): number {
    return this.catalogue?.solutions.find((one) => one.key === solution)?.alcohol_fraction ?? 0;
  }
  temperature(celsius: number): string {
    return this.site.temperature_unit === "F"
      ? `${((celsius * 9) / 5 + 32).toFixed(0)} °F`
      : `${celsius.toFixed(1)} °C`;
  }

  // What was typed, in the user's unit; null where it is no number.
  celsius(typed: string): number | null {
    const degrees = Number(typed.replace(",", "."));
    if (typed.trim() === "" || Number.isNaN(degrees)) {
      return null;
    }
    return this.site.temperature_unit === "F" ? ((degrees - 32) * 5) / 9 : degrees;
  }

  // "Sat 07:40"; with the date where the weekday would be ambiguous.
  when(at: Instant | Date, now: Date): string {
    const time = new Date(at);
    const days = Math.abs(time.getTime() - now.getTime()) / 86_400_000;
    return (days < 6 ? this.dayClock : this.date).format(time).replace(",", "");
  }
  // "Sat 21 Mar"
  dayOf(at: Instant): string {
    return this.calendar.format(new Date(at)).replace(",", "");
  }
  // "in 3 h (Sat 07:40)"
  coming(at: Instant, now: Date): string {
    return `${untilWords(Date.parse(at) - now.getTime())} (${this.when(at, now)})`;
  }
  // "by Sat 14:20"; past that, what chance is left; nothing where nobody knows.
  layBy(piece: PieceToLay, now: Date): string {
    if (piece.lay_by) {
      return `by ${this.when(piece.lay_by, now)}`;
    }
    return piece.chance_now === null ? "" : `late: ${Math.round(piece.chance_now * 100)} % to be dry in time`;
  }
  // "between Sat 06:10 and 10:30"; an end that is not reached is left out.
  between(spread: Spread, now: Date): string {
    const { early, late } = spread;
    if (early && late) {
      const same = this.when(early, now).slice(0, 3) === this.when(late, now).slice(0, 3);
      return `between ${this.when(early, now)} and ${same ? this.clock.format(new Date(late)) : this.when(late, now)}`;
    }
    return early ? `${this.when(early, now)} at the earliest` : "";
  }
  // For a plot's axis: the hour, and the day where it begins.
  tick(at: Date): string {
    const clock = this.clock.format(at);
    return /^(00:00|12:00 AM)$/.test(clock) ? this.day.format(at) : clock;
  }
}

export function untilWords(ms: number): string {
  return ms < 60_000 ? "any minute" : `in ${span(ms)}`;
}
export function agoWords(ms: number): string {
  return ms < 60_000 ? "just now" : `${span(ms)} ago`;
}
function span(ms: number): string {
  const minutes = Math.round(ms / 60_000);
  if (minutes < 90) {
    return `${minutes} min`;
  }
  const hours = Math.round(minutes / 60);
  return hours < 48 ? `${hours} h` : `${Math.round(hours / 24)} days`;
}

export const wetnessWords: Record<Wetness, string> = {
  "dry-pulled": "Pulled dry",
  usual: "As usual",
  wet: "Left wet",
};
export const zoneWords: Record<ZoneKind, string> = {
  field: "Field",
  edge: "Edge",
  recess: "Recess",
  turn: "Turned edge",
};
// What a milestone lets one do, and what it is called when it is done.
export const steps: { which: Which; deed: string; done: string; at: "wrapped" | "trimmed" | "refitted" | null }[] = [
  { which: "wrap-ready", deed: "Wrap edges", done: "Wrapped", at: "wrapped" },
  { which: "trim-ready", deed: "Trim", done: "Trimmed", at: "trimmed" },
  { which: "refit-ready", deed: "Refit parts", done: "Refitted", at: "refitted" },
  { which: "dry", deed: "Dry", done: "Dry", at: null },
];
// An early step as the engine names it.
export function earlyWords(step: string): string {
  return step === "edge-wrapped" ? "wrapped" : step;
}

export const cautions = {
  advice: "An estimate is advice. Look and feel before cutting: a blade on a vehicle cannot be undone.",
  heat:
    "Heat gun: hold to the film maker's temperature, measure the surface, keep moving. Keep away from solvent, wet electrics, glass and airbags. It burns.",
  solvent:
    "Alcohol solution: its vapour is flammable and heavier than air. Ventilate; no ignition source or heat gun while it is wet; gloves and eye protection. The safety data sheet and your workplace rules decide.",
  systems:
    "High voltage, driver-assistance sensors or airbags near the work: the vehicle maker's procedure, and qualified people.",
};
