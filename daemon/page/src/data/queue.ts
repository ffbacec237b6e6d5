// What was tapped goes through here: kept on the device until the daemon has it on disk, sent in order, taken once
// (each has a key that the daemon knows again).
import { type Deed, type Instant, postEvent, type Problem, Refusal } from "./api";

export interface Waiting {
  key: string;
  at: Instant;
  deed: Deed;
  said: string; // for people: "Bonnet laid"
  who?: string;
  stand_in?: number; // of a vehicle that comes in or a piece that is laid: stands for its number until the daemon gives one, below 0
  tap?: string; // the key of the first deed of the same tap; left out in that one
}
export interface Taken {
  waiting: Waiting; // the tap's first
  seqs: number[]; // of all that it told
}
// In the other deeds of a tap: the piece that its first one lays.
export const laid_here = 0;
export const tapOf = ({ tap, key }: Waiting): string => tap ?? key;
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
const retry_after = 5000; // ms

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

export class Queue {
  private sending = false;
  private timer: number | undefined;

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

  // What one tap tells, in order.
  add(deeds: Deed[], at: Date, said: string, who: string | undefined): void {
    const tap = newKey();
    const stand_in = -Date.now();
    const more = deeds.map((deed, index): Waiting => {
      const here = "piece" in deed && deed.piece === laid_here;
      const first = index === 0;
      return {
        key: first ? tap : newKey(),
        at: at.toISOString(),
        deed: here ? { ...deed, piece: stand_in } : deed,
        said,
        ...(who ? { who } : {}),
        ...(first && (deed.what === "vehicle-in" || deed.what === "lay") ? { stand_in } : {}),
        ...(first ? {} : { tap }),
      };
    });
    this.store([...load(), ...more]);
    void this.send();
  }

  async send(): Promise<void> {
    if (this.sending) {
      return;
    }
    this.sending = true;
    clearTimeout(this.timer);
    try {
      for (let next = load()[0]; next; next = load()[0]) {
        const outcome = await this.tell(next);
        const sent = next.key;
        if ("why" in outcome) {
          this.storeRefused([...loadRefused().filter((one) => one.key !== sent), outcome]);
        }
        this.store(load().filter((one) => one.key !== sent));
        if ("seqs" in outcome) {
          this.onTaken(outcome);
        }
      }
    } catch {
      this.timer = window.setTimeout(() => void this.send(), retry_after);
    } finally {
      this.sending = false;
    }
  }

  // By the key of what was not taken.
  putAway(key: string): void {
    this.storeRefused(loadRefused().filter((one) => one.key !== key));
  }

  // Throws where it is worth another try.
  private async tell(next: Waiting): Promise<Taken | Refused> {
    const { key, said } = next;
    const vehicle = "vehicle" in next.deed ? { vehicle: numberOf(next.deed.vehicle) } : {};
    const piece = "piece" in next.deed ? { piece: numberOf(next.deed.piece) } : {};
    if (Math.min(vehicle.vehicle ?? 0, piece.piece ?? 0) < 0) {
      return { key, said, why: { detail: "" } };
    }
    try {
      const who = next.who ? { who: next.who } : {};
      const { seq } = await postEvent({ ...next.deed, ...vehicle, ...piece, ...who, at: next.at, key });
      if (next.stand_in !== undefined) {
        keepNumber(next.stand_in, seq);
      }
      return { waiting: next, seqs: [seq] };
    } catch (error) {
      const final = error instanceof Refusal && [400, 403, 409, 413, 415].includes(error.problem.status);
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
