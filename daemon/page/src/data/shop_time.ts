// Times as the shop's clock on the wall shows them: a form's field knows the device's time zone only.

// Making one takes a phone a millisecond.
const clocks = new Map<string, Intl.DateTimeFormat>();
function clockOf(timeZone: string): Intl.DateTimeFormat {
  const known = clocks.get(timeZone);
  if (known) {
    return known;
  }
  const two = "2-digit";
  const made = new Intl.DateTimeFormat("en-GB", { year: "numeric", month: two, day: two, hour: two, minute: two, hourCycle: "h23", timeZone });
  clocks.set(timeZone, made);
  return made;
}

// "2026-03-08T08:40", as a field of type datetime-local takes it.
export function wallClock(at: Date, timeZone: string): string {
  const parts = clockOf(timeZone).formatToParts(at);
  const part = (type: string): string => parts.find((one) => one.type === type)?.value ?? "";
  return `${part("year").padStart(4, "0")}-${part("month")}-${part("day")}T${part("hour")}:${part("minute")}`;
}

// The instants at which the wall shows it: none where the clocks skip it, or where it is not a time; two, in order, where it
// comes twice.
export function instantsOf(wall: string, timeZone: string): Date[] {
  const asUtc = Date.parse(`${wall}Z`);
  if (Number.isNaN(asUtc)) {
    return [];
  }
  // What the wall shows less UTC, a day before and a day after: no zone changes twice in two days.
  const offsets = [-86_400_000, 86_400_000].map((shift) => {
    const there = asUtc + shift;
    return Date.parse(`${wallClock(new Date(there), timeZone)}Z`) - there;
  });
  return [...new Set(offsets)]
    .map((offset) => new Date(asUtc - offset))
    .filter((one) => wallClock(one, timeZone) === wall.slice(0, 16))
    .sort((a, b) => a.getTime() - b.getTime());
}

// A field's text: the wall's time, and behind a "/" which of two instants is meant.
export const withMeant = (wall: string, meant: Date): string => `${wall}/${meant.toISOString()}`;
export const wallOf = (text: string): string => text.split("/")[0] ?? "";
// Null: nothing is meant.
export function instantOf(text: string, timeZone: string): Date | null {
  const meant = text.split("/")[1];
  return meant ? new Date(meant) : (instantsOf(text, timeZone)[0] ?? null);
}

// When the wall last showed "14:20", today or else yesterday: none where the clocks skipped it then, two where it came twice.
export function lastAt(clock: string, now: Date, timeZone: string): Date[] {
  const here = wallClock(now, timeZone);
  const today = `${here.slice(0, 10)}T${clock}`;
  const instants = instantsOf(today, timeZone);
  const gone = instants.filter((one) => one <= now);
  const skipped = instants.length === 0 && today <= here;
  if (gone.length > 0 || skipped) {
    return gone;
  }
  const yesterday = new Date(Date.parse(`${here.slice(0, 10)}T00:00Z`) - 86_400_000).toISOString().slice(0, 10);
  return instantsOf(`${yesterday}T${clock}`, timeZone);
}

const day = 86_400_000;
// When the wall shows "20:00" from one moment to another, in order.
export function timesOf(clock: string, from: number, to: number, timeZone: string): number[] {
  const days = Array.from({ length: Math.ceil((to - from) / day) + 2 }, (_, i) => wallClock(new Date(from + (i - 1) * day), timeZone).slice(0, 10));
  return [...new Set(days)].flatMap((one) => instantsOf(`${one}T${clock}`, timeZone)[0]?.getTime() ?? []).filter((at) => at >= from && at <= to);
}
