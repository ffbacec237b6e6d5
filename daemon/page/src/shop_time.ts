// Times as the shop's clock on the wall shows them: a form's field knows the device's time zone only.

// "2026-03-08T08:40", as a field of type datetime-local takes it.
export function wallClock(at: Date, timeZone: string): string {
  const parts = new Intl.DateTimeFormat("en-GB", {
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
    timeZone,
  }).formatToParts(at);
  const part = (type: string): string => parts.find((one) => one.type === type)?.value ?? "";
  return `${part("year").padStart(4, "0")}-${part("month")}-${part("day")}T${part("hour")}:${part("minute")}`;
}

// The other way. An hour that comes twice is the first; one that is skipped counts on from before; null: not a time.
export function instantOf(wall: string, timeZone: string): Date | null {
  const asUtc = Date.parse(`${wall}Z`);
  if (Number.isNaN(asUtc)) {
    return null;
  }
  // What the wall shows less UTC, a day before and a day after: no zone changes twice in two days.
  const offsets = [-86_400_000, 86_400_000].map((shift) => {
    const there = asUtc + shift;
    return Date.parse(`${wallClock(new Date(there), timeZone)}Z`) - there;
  });
  const tries = offsets.map((offset) => new Date(asUtc - offset)).sort((a, b) => a.getTime() - b.getTime());
  return tries.find((one) => wallClock(one, timeZone) === wall.slice(0, 16)) ?? new Date(asUtc - (offsets[0] ?? 0));
}

// When the wall last showed "14:20", today or yesterday.
export function lastAt(clock: string, now: Date, timeZone: string): Date | null {
  const today = wallClock(now, timeZone).slice(0, 10);
  const at = instantOf(`${today}T${clock}`, timeZone);
  if (!at || at <= now) {
    return at;
  }
  const yesterday = new Date(Date.parse(`${today}T00:00Z`) - 86_400_000).toISOString().slice(0, 10);
  return instantOf(`${yesterday}T${clock}`, timeZone);
}
