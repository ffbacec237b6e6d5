// What was tapped goes through here: kept on the device until the daemon has it on disk, sent in order, taken once
// (each has a key that the daemon knows again). Where the daemon fails at one, it holds back those of its vehicle alone.
import { type Deed, type Instant, postEvent, type Problem, Refusal } from "./api";

export interface Waiting {
  key: string;
  at: Instant;
  deed: Deed;
  said: string; // for people: "Bonnet laid"
  who?: string;
  vehicle?: number; // that it concerns, as far as it was known
  stand_in?: number; // of a vehicle that comes in or a piece that is laid: stands for its number until the daemon gives one, below 0
  tap?: string; // the key of the first deed of the same tap; left out in that one
  several?: true; // the tap concerns several vehicles
  told?: number[]; // what the daemon has taken of the same tap
  held?: boolean; // the daemon failed at it: kept, and tried again
}
export interface Taken {
  waiting: Waiting; // the tap's last so far
  seqs: number[]; // of all that the tap told so far
}
// In the other deeds of a tap: the piece that its first one lays.
export const laid_here = 0;
export const tapOf = ({ tap, key }: Waiting): string => tap ?? key;
export const vehicleOf = ({ deed, stand_in, vehicle }: Waiting): number | undefined => (deed.what === "vehicle-in" ? stand_in : vehicle);
// Without the deed: it may hold a customer's name.
export interface Refused {
  key: string;
  said: string;
  why: Pick<Problem, "detail" | "fact">; // without a detail: its vehicle, or piece, was not taken
}
// What is on the device: to be sent, and not taken, until somebody has put that away.
export interface Kept {
  waiting: Waiting[];
  refused: Refused[];
}

const place = "dryclock.queue";
const place_refused = "dryclock.refused";
const numbers = "dryclock.numbers";
const kept_numbers = 200;
const retry_after = 5000; // ms, at first
const retry_at_most = 300_000; // ms

// The numbers that the daemon gave to vehicles and pieces, by what stood in for them.
function knownNumbers(): Record<string, number> {
  try {
    return JSON.parse(localStorage.getItem(numbers) ?? "{}") as Record<string, number>;
  } catch {
    return {};
  }
}
export function numberOf(id: number): number {
  return id < 0 ? (knownNumbers()[id] ?? id) : id;
}
function keepNumber(standIn: number, seq: number): void {
  const latest = Object.entries({ ...knownNumbers(), [standIn]: seq }).slice(-kept_numbers);
  localStorage.setItem(numbers, JSON.stringify(Object.fromEntries(latest)));
}

// crypto.randomUUID is for secure contexts only, and a phone in the bay speaks plain HTTP.
function newKey(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

function listAt<T>(name: string): T[] {
  try {
    return JSON.parse(localStorage.getItem(name) ?? "[]") as T[];
  } catch {
    return [];
  }
}
const load = (): Waiting[] => listAt(place);
const loadRefused = (): Refused[] => listAt(place_refused);

// What it must not overtake, nor be overtaken by: those of its vehicle, or of the shop. What takes back an event of a
// vehicle that this page does not know belongs to all.
function orderOf(one: Waiting): number | "shop" | "all" {
  const of = vehicleOf(one);
  return of !== undefined ? numberOf(of) : one.deed.what === "superseded" ? "all" : "shop";
}
// The first that was not tried in this round, and has none before it that it must not overtake.
function nextOf(tried: Set<string>): Waiting | undefined {
  const before = new Set<number | "shop" | "all">();
  for (const one of load()) {
    const order = orderOf(one);
    const behind = before.has(order) || before.has("all") || (order === "all" && before.size > 0);
    if (!behind && !tried.has(one.key)) {
      return one;
    }
    before.add(order);
  }
  return undefined;
}

export class Queue {
  private sending = false;
  private timer: number | undefined;
  private wait = retry_after;

  constructor(
    private readonly onChange: (kept: Kept) => void,
    private readonly onTaken: (taken: Taken) => void,
  ) {
    // Another tab may send what this one kept, or keep more.
    addEventListener("storage", (change) => {
      if (change.key === place || change.key === place_refused) {
        this.onChange(this.kept);
      }
    });
  }

  get kept(): Kept {
    return { waiting: load(), refused: loadRefused() };
  }

  // What one tap tells, in order, each with the vehicle that it concerns. What a piece's first deed lays is of the same vehicle.
  add(deeds: { deed: Deed; vehicle?: number }[], at: Date, said: string, more: Pick<Waiting, "who">): void {
    const tap = newKey();
    const stand_in = -Date.now();
    const several = new Set(deeds.map(({ vehicle }) => vehicle)).size > 1 && deeds.every(({ deed }) => !("piece" in deed && deed.piece === laid_here));
    const told = deeds.map(({ deed, vehicle = deeds[0]?.vehicle }, index): Waiting => {
      const here = "piece" in deed && deed.piece === laid_here;
      const first = index === 0;
      return {
        key: first ? tap : newKey(),
        at: at.toISOString(),
        deed: here ? { ...deed, piece: stand_in } : deed,
        said,
        ...more,
        ...(vehicle !== undefined ? { vehicle } : {}),
        ...(several ? { several } : {}),
        ...(first && (deed.what === "vehicle-in" || deed.what === "lay") ? { stand_in } : {}),
        ...(first ? {} : { tap }),
      };
    });
    this.store([...load(), ...told]);
    void this.send();
  }

  async send(): Promise<void> {
    if (this.sending) {
      return;
    }
    this.sending = true;
    clearTimeout(this.timer);
    try {
      const tried = new Set<string>();
      for (let next = nextOf(tried); next; next = nextOf(tried)) {
        const { key } = next;
        tried.add(key);
        const outcome = await this.tell(next);
        if (outcome === "held") {
          this.store(load().map((one) => (one.key === key ? { ...one, held: true } : one)));
          continue;
        }
        if ("why" in outcome) {
          this.storeRefused([...loadRefused().filter((one) => one.key !== key), outcome]);
          this.store(load().filter((one) => one.key !== key));
        } else {
          const { seqs: told } = outcome;
          const left = load().filter((one) => one.key !== key);
          this.store(left.map((one) => (tapOf(one) === tapOf(next) ? { ...one, told } : one)));
          this.onTaken(outcome);
        }
      }
      if (load().length > 0) {
        this.retry(this.wait);
        this.wait = Math.min(2 * this.wait, retry_at_most);
      } else {
        this.wait = retry_after;
      }
    } catch {
      this.retry(retry_after);
    } finally {
      this.sending = false;
    }
  }

  // By the key of what was not taken.
  putAway(key: string): void {
    this.storeRefused(loadRefused().filter((one) => one.key !== key));
  }

  private retry(after: number): void {
    this.timer = window.setTimeout(() => void this.send(), after);
  }

  // "held" where the daemon answers and cannot take it now. Throws where all wait: no connection, or not let in.
  private async tell(next: Waiting): Promise<Taken | Refused | "held"> {
    const { key, said } = next;
    const vehicle = "vehicle" in next.deed ? { vehicle: numberOf(next.deed.vehicle) } : {};
    const piece = "piece" in next.deed && typeof next.deed.piece === "number" ? { piece: numberOf(next.deed.piece) } : {};
    if (Math.min(vehicle.vehicle ?? 0, piece.piece ?? 0) < 0) {
      return { key, said, why: { detail: "" } };
    }
    try {
      const who = next.who ? { who: next.who } : {};
      const { seq } = await postEvent({ ...next.deed, ...vehicle, ...piece, ...who, at: next.at, key });
      if (next.stand_in !== undefined) {
        keepNumber(next.stand_in, seq);
      }
      return { waiting: next, seqs: [...(next.told ?? []), seq] };
    } catch (error) {
      const final = error instanceof Refusal && [400, 403, 409, 413, 415].includes(error.problem.status);
      if (error instanceof Refusal && error.problem.status >= 500) {
        return "held";
      }
      if (!final) {
        throw error;
      }
      return { key, said, why: { ...error.problem, detail: error.problem.detail || String(error.problem.status) } };
    }
  }

  private store(waiting: Waiting[]): void {
    localStorage.setItem(place, JSON.stringify(waiting));
    this.onChange(this.kept);
  }
  private storeRefused(refused: Refused[]): void {
    localStorage.setItem(place_refused, JSON.stringify(refused));
    this.onChange(this.kept);
  }
}
